"""Entries of documents that are told apart by the figures given in them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, TypeVar

from catalog.core.ground.declared import Entry, Refs, Schema, entries_of
from catalog.core.ground.document_reader import Reader

T = TypeVar("T")


def figures_of(way: Any) -> tuple[str, ...]:
    """The figures a way needs, by their names in documents.

    way: a declared class.
    """
    return tuple(entry.name for entry in entries_of(way) if entry.needed)


def told_by_figures(reader: Reader, ways: Iterable[type[T]]) -> tuple[type[T] | None, str]:
    """Which of several declared classes an object is: the one whose figures are given, and no other.

    Returns None where there is none such, and the figures given, in words. An export writes null for what is not
    given: it is passed over.
    """
    known: dict[Any, set[str]] = {way: set(figures_of(way)) for way in ways}
    every: set[str] = set().union(*known.values())
    given = {name for name in every if reader.has(name)}
    for name in every - given:
        reader.pass_over(name)
    way = next((way for way, names in known.items() if names == given), None)
    if way is None:
        for entry in (entry for other in known for entry in entries_of(other)):
            reader.pass_over(entry.name)
    return way, ", ".join(sorted(given)) or "nothing"


def figures_schema(schema: Schema, ways: Sequence[Any], refs: Refs) -> Schema:
    """The schema of an object with the figures of exactly one of several ways beside its own entries."""
    entries: dict[str, Entry] = {}
    for way in ways:
        entries |= {entry.name: entry for entry in entries_of(way) if entry.name not in entries}
    figures = {name: {"description": entry.description, **_optional(entry, refs)} for name, entry in entries.items()}
    every = [name for name, entry in entries.items() if entry.needed]
    return schema | {
        "properties": schema["properties"] | figures,
        "oneOf": [_only(way, every, set(entries) - set(every)) for way in ways],
    }


def _optional(entry: Entry, refs: Refs) -> Schema:
    default = {} if entry.needed else {"default": entry.default()}
    return {**entry.kind.optional_schema(refs), **default}


def _only(way: Any, every: Sequence[str], more: set[str]) -> Schema:
    own = figures_of(way)
    given = {name: {"not": {"type": "null"}} if name in own else {"type": "null"} for name in every}
    others = sorted(more - {entry.name for entry in entries_of(way)})
    refused = {"not": {"anyOf": [{"required": [name]} for name in others]}} if others else {}
    return {"required": list(own), "properties": given, **refused}
