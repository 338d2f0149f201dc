from collections.abc import Iterable, Mapping
from typing import Any

from django.db.models import Model, QuerySet

Figures = Mapping[str, Any]


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


def remove_first(rows: QuerySet[Any]) -> bool:
    """Take away what is there, one row at most, with its history; whether there was any."""
    row = rows.first()
    if row is not None:
        row.delete()
    return row is not None


def _name(row: Model, key: tuple[str, ...], place: int) -> Any:
    return tuple(getattr(row, name) for name in key) or place


def _name_of(figures: Figures, key: tuple[str, ...], place: int) -> Any:
    return tuple(figures[name] for name in key) or place
