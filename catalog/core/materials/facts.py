"""A figure that somebody stands for: a number with the name of its source and how sure it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Literal, Protocol

from catalog.core.ground.declared import (
    As,
    Document,
    Kind,
    Number,
    Refs,
    Schema,
    Writing,
    build,
    read_fields,
    write_fields,
)
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import InvalidValue

Sureness = Literal["published", "practice", "memory", "maker", "firm"]
SURENESS: tuple[Sureness, ...] = ("published", "practice", "memory", "maker", "firm")


class SpecError(InvalidValue):
    """A figure or name in a specification that cannot be right; the message says which and why."""


@dataclass(frozen=True)
class Fact:
    """One sourced figure.

    value: finite number in the unit of the property or standard it states.
    """

    value: Annotated[Decimal, As(aside=True)]
    source: Annotated[
        str,
        "Who says so, in words: a standard and its table, a maker's sheet, common practice. Never empty.",
        As(hint="Such as: a standard and its table, the maker's sheet of March.", rows=2),
    ]
    sure: Annotated[
        Sureness,
        "How far to trust it. published = read in the named source; practice = common practice; memory = "
        "remembered, unverified. maker = the maker's own figure; firm = the firm's own.",
        As(label="How sure"),
    ]
    stated_on: Annotated[date | None, "The day it was written down."] = None

    def __post_init__(self) -> None:
        if not self.value.is_finite():
            raise SpecError(f"a figure must be a finite number, not {self.value}")
        if not self.source.strip():
            raise SpecError("a figure must name its source")
        if self.sure not in SURENESS:
            raise SpecError(f"{self.sure!r} is not one of {', '.join(SURENESS)}")

    @classmethod
    def document_schema(cls, schema: Schema, refs: Refs) -> Schema:
        words = "The figure, in the unit its name states. Zero or more."
        return _with_value(schema, words, Number().schema(refs))

    @property
    def number(self) -> float:
        return float(self.value)


class LengthFact(Fact):
    """One sourced figure."""

    @classmethod
    def document_schema(cls, schema: Schema, refs: Refs) -> Schema:
        words = 'The length: text with its unit ("60 in"); text without one is in the document\'s `units`; '
        return _with_value(
            schema, f"{words}a JSON number is always millimetres.", Number().schema(refs) | {"maxLength": 40}
        )


def _with_value(schema: Schema, words: str, value: Schema) -> Schema:
    schema["properties"] = {"value": {"description": words, **value}, **schema["properties"]}
    return {**schema, "required": ["value", *schema["required"]]}


class FigureSpec(Protocol):
    """What a property or standard says of its figure."""

    @property
    def label(self) -> str: ...
    @property
    def unit(self) -> str: ...
    @property
    def low(self) -> Decimal: ...
    @property
    def high(self) -> Decimal: ...


@dataclass(frozen=True)
class FactOf(Kind):
    """A fact in a unit: a length may be given with its own, money as it is typed; a bare number is in the unit."""

    unit: str

    def read(self, reader: Reader, name: str) -> Fact:
        return read_fact(reader.object(name), self.unit)

    def write(self, value: Fact, how: Writing) -> Document:
        return write_fact(value, self.unit)

    def schema(self, refs: Refs) -> Schema:
        return refs.declared(LengthFact if self.unit == "mm" else Fact)


@dataclass(frozen=True)
class Facts(Kind):
    """Facts by name. known: what each name means."""

    known: Mapping[str, FigureSpec]

    def read(self, reader: Reader, name: str) -> dict[str, Fact]:
        inner = reader.object(name)
        if unknown := next((key for key in inner.names() if key not in self.known), None):
            raise inner.error(unknown, "is not a name known here")
        return {key: FactOf(self.known[key].unit).read(inner, key) for key in inner.names()}

    def write(self, value: Mapping[str, Fact], how: Writing) -> Document:
        return {key: FactOf(self.known[key].unit).write(value[key], how) for key in sorted(value)}

    def schema(self, refs: Refs) -> Schema:
        figures = {
            name: {**FactOf(spec.unit).schema(refs), "description": f"{spec.label}. {_bounds_words(spec)}"}
            for name, spec in self.known.items()
        }
        return {"type": "object", "properties": figures, "additionalProperties": False}


def _bounds_words(spec: FigureSpec) -> str:
    text = 'A length: text with its unit, such as "60 in"; a bare JSON number is millimetres'
    kinds = getattr(spec, "kinds", ())
    unit = text if spec.unit == "mm" else f"In {spec.unit}"
    for_kinds = f" For: {', '.join(sorted(kinds))}." if kinds else ""
    return f"{unit}, from {spec.low} to {spec.high}.{for_kinds}"


def read_fact(reader: Reader, unit: str) -> Fact:
    """A sourced figure; a length may be given with its unit. Raises DocumentError."""
    is_text = isinstance(reader.raw("value"), str)
    if unit == "mm" and is_text:
        value = Decimal(repr(reader.length_of("value", reader.raw("value"))))
    else:
        value = reader.money("value") if unit == "money" and is_text else reader.decimal("value", "0", "1000000")
    return build(Fact, reader, {"value": value, **read_fields(Fact, reader)})


def write_fact(fact: Fact, unit: str) -> Document:
    """A length carries its unit, so that it reads back the same whatever the unit of the document."""
    value = format(fact.value.normalize(), "f")
    return {"value": f"{value} mm" if unit == "mm" else value, **write_fields(fact)}
