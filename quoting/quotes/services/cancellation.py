"""The firm's cancellation terms and holidays, and the window of an acceptance."""

from dataclasses import asdict, dataclass
from datetime import date
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import As, Stripped, Text, Whole, read
from catalog.core.ground.document_reader import Reader
from catalog.services.row_sync import remove_first, save_if_changed
from quoting.core.quotes.cancellation import MAX_WINDOW_DAYS, CancellationRule, Counting, last_day_to_cancel
from quoting.quotes.models import CancellationTerm, Holiday
from quoting.quotes.models.cancellation import MAX_NOTICE


@dataclass(frozen=True)
class Window:
    """until: its last day. caution: what to look at before relying on it; may be empty."""

    until: date
    words: str
    caution: str = ""


@dataclass(frozen=True)
class NewTerm:
    """days: 0 states that there is no window."""

    starts_on: Annotated[date, As(label="In force from")]
    days: Annotated[int, Whole(0, MAX_WINDOW_DAYS), As(hint="0 states that there is no window.")]
    counting: Annotated[Counting, As(label="Which days count")]
    source: Annotated[str, Text(200), As(label="On whose word", hint="Such as: our lawyer, letter of 3 May.")]
    notice: Annotated[
        str,
        Stripped(MAX_NOTICE, one_line=True),
        As(label="How the client gives notice", hint="A sentence of the quote. Empty: in writing.", rows=2),
    ] = ""


@dataclass(frozen=True)
class NewHoliday:
    """A public holiday where the firm works."""

    day: date
    name: Annotated[str, Text(100), As(label="Holiday")]


def rule_in_force(on_day: date) -> CancellationRule | None:
    """None when no term has started by then, or the one that has states no window."""
    term = CancellationTerm.objects.filter(starts_on__lte=on_day).first()
    return term.to_core() if term else None


def window_of(rule: CancellationRule | None, signed_on: date) -> Window | None:
    if rule is None:
        return None
    holidays = list(Holiday.objects.filter(day__gt=signed_on).values_list("day", flat=True))
    until = last_day_to_cancel(signed_on, rule, holidays)
    return Window(until, rule.words, _caution(rule, signed_on, until))


def _caution(rule: CancellationRule, signed_on: date, until: date) -> str:
    years = {signed_on.year, until.year}
    if not rule.skips_holidays:
        return ""
    missing = sorted(year for year in years if not Holiday.objects.filter(day__year=year).exists())
    named = " and ".join(str(year) for year in missing)
    return f"No holiday of {named} is entered, so none was left out of the count." if missing else ""


def write_rule(rule: CancellationRule | None) -> dict[str, Any] | None:
    return None if rule is None else asdict(rule)


def read_rule(document: dict[str, Any] | None) -> CancellationRule | None:
    return None if document is None else CancellationRule(**document)


@transaction.atomic
def set_term(document: dict[str, Any]) -> CancellationTerm:
    """A term of the same day is changed."""
    term = read(NewTerm, Reader(document))
    row = CancellationTerm.objects.filter(starts_on=term.starts_on).first() or CancellationTerm()
    save_if_changed(row, vars(term))
    return row


@transaction.atomic
def set_holiday(document: dict[str, Any]) -> Holiday:
    holiday = read(NewHoliday, Reader(document))
    row = Holiday.objects.filter(day=holiday.day).first() or Holiday()
    save_if_changed(row, vars(holiday))
    return row


def remove_term(term_id: int) -> bool:
    return remove_first(CancellationTerm.objects.filter(pk=term_id))


def remove_holiday(holiday_id: int) -> bool:
    return remove_first(Holiday.objects.filter(pk=holiday_id))
