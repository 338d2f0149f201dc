"""Entries as lists show them. The cost of an hour is for whoever prices."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from catalog.core.ground.day_words import month_words
from jobs.core.costs.hours import hours_words
from jobs.core.costs.tags import tag_words
from jobs.hours.models import TimeEntry


@dataclass(frozen=True)
class EntryRow:
    """about: tag, note, month and what it takes the place of. cost: None where it is not shown, or without a rate."""

    entry: TimeEntry
    on: str
    hours: str
    about: str
    is_gone: bool
    rate: Decimal | None = None
    cost: Decimal | None = None


def entry_row(row: TimeEntry, names: Mapping[str, str], *, with_money: bool) -> EntryRow:
    """names: of steps, by key."""
    on = names.get(row.step, row.step) if row.job_id else row.elsewhere
    has_rate = with_money and row.rate is not None
    return EntryRow(
        row,
        on or "On no step",
        hours_words(row.minutes),
        ", ".join(_about(row)),
        row.voided_at is not None,
        row.rate if has_rate else None,
        row.to_core("").cost if has_rate else None,
    )


def _about(row: TimeEntry) -> list[str]:
    texts = [tag_words(row.tag)] if row.tag else []
    if row.reverses_id:
        texts.append("reverses an entry")
    if row.corrects_id:
        texts.append("in place of another")
    if row.is_late:
        texts.append(f"counts in {month_words(row.posted_month)}")
    if row.typed_minutes != abs(row.minutes):
        texts.append(f"typed {hours_words(row.typed_minutes)}")
    texts += [row.note] if row.note else []
    return [*texts, f"voided by {row.voided_by_name}: {row.void_reason}"] if row.voided_at else texts
