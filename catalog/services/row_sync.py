from collections.abc import Iterable, Mapping
from dataclasses import fields
from typing import Any

from django.db.models import Model, QuerySet

Figures = Mapping[str, Any]


def figures_of(value: Any, **columns: str | None) -> dict[str, Any]:
    """The fields of a dataclass as figures of a row. columns: of other names by field, None where a field has none."""
    names = {field.name: columns.get(field.name, field.name) for field in fields(value)}
    return {column: getattr(value, name) for name, column in names.items() if column}


def save_if_changed(row: Model, figures: Figures) -> bool:
    """Save what differs, so that a history has an entry for a change and for nothing else."""
    differs = row._state.adding or any(getattr(row, name) != value for name, value in figures.items())
    if differs:
        for name, value in figures.items():
            setattr(row, name, value)
        row.save()
    return differs


def sync_rows(
    present: QuerySet[Any], wanted: Iterable[Figures], *, key: tuple[str, ...] = (), owner: Figures
) -> list[Any]:
    """Make the rows of `present` be those wanted, and touch no row that is right already.

    Rows are known again by `key`, or without one by their place. `owner` is what every new row has in common.
    """
    wanted = list(wanted)
    rows = {_name(row, key, place): row for place, row in enumerate(present)}
    matched = [
        (rows.pop(_name_of(figures, key, place), None) or present.model(**owner), figures)
        for place, figures in enumerate(wanted)
    ]
    for row in rows.values():
        row.delete()
    for row, figures in matched:
        save_if_changed(row, figures)
    return [row for row, _ in matched]


def _name(row: Model, key: tuple[str, ...], place: int) -> Any:
    return tuple(getattr(row, name) for name in key) or place


def _name_of(figures: Figures, key: tuple[str, ...], place: int) -> Any:
    return tuple(figures[name] for name in key) or place
