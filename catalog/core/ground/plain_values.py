"""Frozen values as plain JSON values and back, by the types their fields state."""

from __future__ import annotations

import math
import types
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

T = TypeVar("T")
Read = Callable[[Any], Any]
PLAIN = (str, int, bool, type(None))
KEPT_BY: dict[type, tuple[type, ...]] = {}
"""The dataclasses that keep a protocol which fields state, by the protocol."""


class NotPlain(TypeError):
    """A value or a stated type that has no plain form."""


def to_plain(value: Any) -> Any:
    """The value as JSON values: a dataclass by the names of its fields, days as ISO text, decimals as text.

    value: of dataclasses, tuples, mappings by text, text, numbers, days and decimals. Raises NotPlain for others.

    >>> to_plain((Decimal("1.50"), date(2026, 12, 3), 0.5, math.inf, None))
    ['1.50', '2026-12-03', 0.5, 'inf', None]
    """
    if isinstance(value, float):
        return value if math.isfinite(value) else repr(value)
    if isinstance(value, PLAIN):
        return value
    if isinstance(value, tuple):
        return [to_plain(entry) for entry in value]
    if isinstance(value, Decimal):
        return str(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {key: to_plain(entry) for key, entry in value.items()}
    if is_dataclass(value):
        kind: Any = type(value)
        return {name: to_plain(getattr(value, name)) for name in _names(kind)}
    raise NotPlain(f"{type(value).__name__} has no plain form")


def from_plain(kind: type[T], document: Any) -> T:
    """What `to_plain` made of a value of this type.

    kind: a dataclass. document: JSON values. Returns the equal value. Raises KeyError, TypeError or ValueError where
    the document has another form, NotPlain where the type has none.
    """
    stated: Any = kind
    read: T = _reader(stated)(document)
    return read


@cache
def _names(kind: Any) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind))


def _fields_of(kind: Any) -> frozenset[str]:
    named: Any = kind
    return frozenset(_names(named)) if is_dataclass(kind) else frozenset()


@cache
def _reader(kind: Any) -> Read:
    origin, kinds = get_origin(kind), get_args(kind)
    if kind in PLAIN or kind is Any or origin is Literal:
        return _as_it_is
    if kind in (float, Decimal):
        read: Read = kind
        return read
    if kind is date:
        return date.fromisoformat
    if origin in (Union, types.UnionType):
        return _reader_of_any(kinds)
    if origin is tuple:
        return _reader_of_tuple(kinds)
    if origin is not None and issubclass(origin, Mapping):
        each = _reader(kinds[1])
        return lambda document: {key: each(entry) for key, entry in document.items()}
    if is_dataclass(kind):
        return _reader_of_fields(kind)
    if kind in KEPT_BY:
        return _reader_of_any(KEPT_BY[kind])
    raise NotPlain(f"{kind} has no plain form")


def _as_it_is(document: Any) -> Any:
    return document


def _reader_of_any(kinds: tuple[Any, ...]) -> Read:
    """Of several dataclasses the names of the fields say which it is."""
    some: list[Any] = [kind for kind in kinds if kind is not type(None)]
    if len(some) == 1:
        each = _reader(some[0])
        return lambda document: None if document is None else each(document)
    if all(entry in PLAIN for entry in some):
        return _as_it_is
    named = {_fields_of(entry): _reader(entry) for entry in some}
    if len(named) < len(some):
        raise NotPlain(f"{some} cannot be distinguished")
    return lambda document: None if document is None else named[frozenset(document)](document)


def _reader_of_tuple(kinds: tuple[Any, ...]) -> Read:
    if len(kinds) == 2 and kinds[1] is Ellipsis:
        each = _reader(kinds[0])
        return tuple if each is _as_it_is else lambda document: tuple([each(entry) for entry in document])
    every = [_reader(kind) for kind in kinds]
    return lambda document: tuple([each(entry) for each, entry in zip(every, document, strict=True)])


def _reader_of_fields(kind: Any) -> Read:
    hints = get_type_hints(kind)
    every: list[tuple[str, Read]] = []

    def read(document: Any) -> Any:
        if not every:
            # At the first reading, for a type may hold itself.
            every.extend([(name, _reader(hints[name])) for name in _names(kind)])
        return kind(**{name: each(document[name]) for name, each in every})

    return read
