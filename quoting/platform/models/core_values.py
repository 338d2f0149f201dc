"""Rows as values of the core."""

from dataclasses import fields
from typing import Any, TypeVar

T = TypeVar("T")


def core_value(core: type[T], row: Any, **others: Any) -> T:
    """A dataclass of the core from a row: columns of its fields' names as they are, and what is given beside them."""
    names = (field.name for field in fields(core) if field.name not in others)  # type: ignore[arg-type]
    return core(**{name: getattr(row, name) for name in names}, **others)
