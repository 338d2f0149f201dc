"""Values made in a program, judged by what their fields declare."""

from __future__ import annotations

from typing import Any

from catalog.core.ground.declared.documents import Entry, entries_of
from catalog.core.ground.refusal import InvalidValue


def check(value: Any, error: type[InvalidValue]) -> None:
    """Refuse a value of a declared class whose field cannot be what its kind says; for its `__post_init__`.

    error: what is raised; it names the field and says what would be right. A default is never refused.
    """
    declared: Any = type(value)
    for entry in entries_of(declared):
        fault = _fault(entry, getattr(value, entry.field))
        if fault:
            refusal = error(f"{entry.name}: {fault}")
            refusal.field = entry.name
            raise refusal


def _fault(entry: Entry, stated: Any) -> str:
    if not entry.needed and stated == entry.default():
        return ""
    if stated is None:
        return "is missing"
    if entry.needed and isinstance(stated, str) and not stated.strip():
        return "must not be empty"
    return entry.kind.fault(stated)
