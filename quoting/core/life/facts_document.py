"""Facts of a job as JSON values and back."""

from __future__ import annotations

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
    return {one.name: _written(value) for one in fields(facts) if (value := getattr(facts, one.name)) != one.default}


def read_facts(document: dict[str, Any]) -> JobFacts:
    """What `write_facts` wrote. Raises TypeError or ValueError for anything else."""
    found: JobFacts = _read(JobFacts, document)
    return found


def _written(value: Any) -> Any:
    if is_dataclass(value):
        return {one.name: _written(getattr(value, one.name)) for one in fields(value)}
    if isinstance(value, tuple):
        return [_written(one) for one in value]
    if isinstance(value, date):
        return value.isoformat()
    return str(value) if isinstance(value, Decimal) else value


@cache
def _hints(kind: type) -> dict[str, Any]:
    return get_type_hints(kind)


def _read(kind: Any, value: Any) -> Any:
    if value is None:
        return None
    if get_origin(kind) is UnionType:
        kind = next(one for one in get_args(kind) if one is not type(None))
    if get_origin(kind) is tuple:
        return tuple(_read(get_args(kind)[0], one) for one in value)
    if kind is date:
        return date.fromisoformat(value)
    if kind is Decimal:
        return Decimal(value)
    if is_dataclass(kind):
        hints = _hints(kind)  # type: ignore[arg-type]
        return kind(**{name: _read(hints[name], one) for name, one in value.items()})  # type: ignore[operator]
    return value
