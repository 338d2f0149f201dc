"""Facts of a job as JSON values and back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from types import UnionType
from typing import Any, get_args, get_origin, get_type_hints

from quoting.core.life.facts import JobFacts


def write_facts(facts: JobFacts) -> dict[str, Any]:
    """As JSON values; days in ISO form, money as text. What is as it is by itself is left out.

    >>> read_facts(write_facts(JobFacts(date(2026, 10, 5), "Larkmoor Dental"))).client
    'Larkmoor Dental'
    """
    return {
        field.name: _written(value) for field in fields(facts) if (value := getattr(facts, field.name)) != field.default
    }


def read_facts(document: dict[str, Any]) -> JobFacts:
    """What `write_facts` wrote. Raises TypeError or ValueError for anything else."""
    fact: JobFacts = _reader(JobFacts)(document)
    return fact


def _written(value: Any) -> Any:
    if is_dataclass(value):
        return {field.name: _written(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, tuple):
        return [_written(entry) for entry in value]
    if isinstance(value, date):
        return value.isoformat()
    return str(value) if isinstance(value, Decimal) else value


@cache
def _reader(kind: Any) -> Callable[[Any], Any]:
    """Made once a type: lists read many facts a page."""
    if get_origin(kind) is UnionType:
        each = _reader(next(part for part in get_args(kind) if part is not type(None)))
        return lambda value: None if value is None else each(value)
    if get_origin(kind) is tuple:
        of_each = _reader(get_args(kind)[0])
        return lambda value: tuple([of_each(entry) for entry in value])
    if kind is date:
        return date.fromisoformat
    if kind is Decimal:
        return Decimal
    if is_dataclass(kind):
        named: Any = kind
        readers = {name: _reader(hint) for name, hint in get_type_hints(named).items()}
        return lambda value: named(**{name: readers[name](entry) for name, entry in value.items()})
    return _as_it_is


def _as_it_is(value: Any) -> Any:
    return value
