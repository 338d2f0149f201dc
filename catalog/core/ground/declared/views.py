"""Views: what an answer shows of a value of the core, each property stated once.

    class JointShown(View):
        "Where two pieces meet."
        after_index: int                                     # "after": counted from 1
        at_mm: float                                         # "at": a length for people
        kink_rad: float                                      # "kink_deg": degrees to four places
        tangent: Annotated[bool, Of(lambda joint: abs(joint.kink_rad) < 1e-9)]
        band: Annotated[BandShown | None, Of(lambda joint, wall: wall.band_of(joint))]
        piece: Annotated[PieceNamed, As(spread=True)]        # what it shows stands here, not under "piece"

    write(joint, JointShown, system="imperial")

A dataclass of the core that is shown whole is a view of itself. What is shown and no more is never read.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from inspect import signature
from operator import attrgetter
from typing import Any, ClassVar

from catalog.core.ground.declared.kinds import Area, Kind, Measured, Refs, Schema, Writing


class View:
    """Written by its annotations, in their order; see the module. is_whole: functions of `Of` inside are given it."""

    is_whole: ClassVar[bool] = False


@dataclass(frozen=True)
class Of:
    """Where a property is taken from: a path of attributes, nothing where there is nothing on the way, or a function
    of the value, or of the value and the nearest whole around it. One declared `As(left_out=True)` is left out where
    the value has no such attribute, or the function gives NOTHING. otherwise: what a path shows where there is
    nothing."""

    source: str | Callable[..., Any]
    otherwise: Any = None


NOTHING = object()


def itself(value: Any) -> Any:
    return value


@dataclass(frozen=True)
class TextOrNull(Kind):
    """Text of an answer; empty, it is null."""

    def write(self, value: str, how: Writing) -> str | None:
        return value or None

    def schema(self, refs: Refs) -> Schema:
        return {"type": ["string", "null"]}


@dataclass(frozen=True)
class InWords(Kind):
    """A value as people read it: what its `words(system)` says."""

    def write(self, value: Any, how: Writing) -> Any:
        return value.words(how.system)

    def schema(self, refs: Refs) -> Schema:
        return {"type": "string"}


@dataclass(frozen=True)
class Numbered(Kind):
    """A place counted from 0, shown counted from 1."""

    def write(self, value: int, how: Writing) -> int:
        return value + 1

    def schema(self, refs: Refs) -> Schema:
        return {"type": "integer"}


@dataclass(frozen=True)
class Rounded(Kind):
    """A number of an answer, to so many places."""

    places: int

    def write(self, value: float, how: Writing) -> float:
        return round(value, self.places)

    def schema(self, refs: Refs) -> Schema:
        return {"type": "number"}


@dataclass(frozen=True)
class Degrees(Kind):
    """An angle in radians, shown in degrees."""

    places: int = 4

    def write(self, value: float, how: Writing) -> float:
        return round(math.degrees(value), self.places)

    def schema(self, refs: Refs) -> Schema:
        return {"type": "number"}


@dataclass(frozen=True)
class Named(Kind):
    """An object with exactly these names, all of one kind, from a mapping."""

    names: tuple[str, ...]
    each: Kind

    def write(self, value: Any, how: Writing) -> Any:
        return {name: self.each.write(value[name], how) for name in self.names}

    def schema(self, refs: Refs) -> Schema:
        each = {name: self.each.schema(refs) for name in self.names}
        return {"type": "object", "properties": each, "required": list(self.names), "additionalProperties": False}


SUFFIXES: dict[str, tuple[str, Kind]] = {
    "_mm2": ("", Area()),
    "_mm": ("", Measured()),
    "_rad": ("_deg", Degrees()),
    "_index": ("", Numbered()),
}
"""What the end of a name says of its kind, and the end of the name shown."""


def shown_name(name: str) -> tuple[str, Kind | None]:
    """The name in answers, and the kind of figure its end says."""
    for suffix, (ending, kind) in SUFFIXES.items():
        if name.endswith(suffix):
            return name.removesuffix(suffix) + ending, kind
    return name.removesuffix("_"), None


def taken_from(name: str, of: Of | None, *, left_out: bool = False) -> Callable[[Any, Writing], Any]:
    """How a property is taken of the value. left_out: where there is no such attribute."""
    source = name if of is None else of.source
    if not isinstance(source, str):
        function = source
        if len(signature(function).parameters) == 2:
            return lambda value, how: function(value, how.within)
        return lambda value, how: function(value)
    if left_out:
        return lambda value, how: getattr(value, source, NOTHING)
    if "." not in source:
        get = attrgetter(source)
        return lambda value, how: get(value)
    path, otherwise = source.split("."), of.otherwise if of else None
    return lambda value, how: otherwise if (end := _along(value, path)) is None else end


def _along(value: Any, path: list[str]) -> Any:
    for name in path:
        if value is None:
            return None
        value = getattr(value, name)
    return value
