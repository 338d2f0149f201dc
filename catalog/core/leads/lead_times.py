"""Lead terms: how long a supplier says an order takes, who said so, and when."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Any, Literal

from catalog.core.ground.declared import (
    As,
    Document,
    Refs,
    Schema,
    Whole,
    build,
    read_fields,
    write_fields,
)
from catalog.core.ground.document_reader import Reader, read_all
from catalog.core.ground.refusal import InvalidValue

DayCount = Literal["workdays", "calendar_days"]

WORKDAYS_PER_WEEK = 5
DAYS_PER_WEEK = 7
MAX_PRODUCTION_DAYS = 730
MAX_TRANSIT_WORKDAYS = 260
MAX_SAID_TRANSIT = 250

_DURATION_RE = re.compile(
    r"(?P<number>[0-9]{1,4})[ ]*"
    r"(?P<kind>calendar|working|business)?[ -]*"
    r"(?P<unit>workdays?|days?|weeks?|wks?|d|w)",
    re.IGNORECASE,
)
_RANGE_RE = re.compile(r"[0-9]+\s*(?:-|–|to)\s*[0-9]+", re.IGNORECASE)


class LeadTermError(InvalidValue):
    """A lead term or duration that cannot be used; the message says what would be right."""


@dataclass(frozen=True)
class Duration:
    """A stretch of time in whole days of one kind.

    Args:
        days: how many, 0 to 730.
        counts: ``workdays`` or ``calendar_days``.

    Raises:
        LeadTermError: a number that is not whole or out of range, or another kind of day.

    Source: own rule.

    >>> Duration(15, "workdays").in_words()
    '15 working days'
    """

    days: int
    counts: DayCount

    def __post_init__(self) -> None:
        _check_whole(self.days, "A duration", MAX_PRODUCTION_DAYS)
        _check_counts(self.counts)

    def in_words(self) -> str:
        """Write the duration for people.

        Returns:
            Such as ``15 working days`` or ``1 calendar day``.

        Source: own wording.

        >>> Duration(1, "calendar_days").in_words()
        '1 calendar day'
        """
        kind = "working" if self.counts == "workdays" else "calendar"
        return f"{self.days} {kind} day{'' if self.days == 1 else 's'}"


@dataclass(frozen=True)
class LeadTerm:
    """How long the supplier says an order takes; it holds from `stated_on` until a later term.

    production_days, production_counts: from the order to leaving the works, 0 to 730 ``workdays`` of the supplier or
    ``calendar_days``; one text in documents.

    Raises:
        LeadTermError: days that are not whole or out of range, another kind of day, no source, or no day.

    Source: own rule (a lead time is data, with who said so and when; there is no silent default).

    >>> LeadTerm(15, "workdays", 3, "telephone", date(2026, 11, 2)).production.in_words()
    '15 working days'
    """

    production_days: Annotated[int, As(aside=True)]
    production_counts: Annotated[DayCount, As(aside=True)]
    transit_workdays: Annotated[
        int,
        Whole(0, MAX_SAID_TRANSIT),
        "From leaving the works to the dock, in working days of the supplier, 0 to 250.",
        As(label="In transit, working days"),
    ]
    source: Annotated[
        str,
        "Where it was said: price list, telephone, written offer.",
        As(label="How it was said", hint="Such as: telephone, price list."),
    ]
    stated_on: Annotated[date, "The day it was said.", As(label="When they said it", hint="In force from then on.")]
    stated_by: Annotated[str, "Who said it.", As(label="Who said it")] = ""

    @classmethod
    def from_document(cls, reader: Reader) -> LeadTerm:
        production = read_all(production=lambda: read_production(reader), rest=lambda: read_fields(cls, reader))
        return build(cls, reader, production["production"] | production["rest"])

    def to_document(self) -> Document:
        return {"production": write_production(self), **write_fields(self)}

    @classmethod
    def document_schema(cls, schema: Schema, refs: Refs) -> Schema:
        return with_production(schema)

    def __post_init__(self) -> None:
        _check_whole(self.production_days, "Production days", MAX_PRODUCTION_DAYS)
        _check_counts(self.production_counts)
        _check_whole(self.transit_workdays, "Transit working days", MAX_TRANSIT_WORKDAYS)
        if not self.source.strip():
            raise LeadTermError("A lead term needs its source, such as 'price list' or 'telephone'.")
        if isinstance(self.stated_on, datetime) or not isinstance(self.stated_on, date):
            raise LeadTermError(f"A lead term needs the day it was stated, not {self.stated_on!r}.")

    @property
    def production(self) -> Duration:
        """The production time as a duration.

        Returns:
            The days and how they count.

        Source: own rule.

        >>> LeadTerm(10, "calendar_days", 0, "price list", date(2026, 1, 5)).production.days
        10
        """
        return Duration(self.production_days, self.production_counts)


def read_production(reader: Reader) -> dict[str, Any]:
    """`production` of a document: its days and how they count. Raises DocumentError."""
    try:
        production = parse_duration(reader.text("production", longest=40), what="production")
    except LeadTermError as error:
        raise reader.error("production", str(error)) from error
    return {"production_days": production.days, "production_counts": production.counts}


def write_production(term: Any) -> str:
    """The production of a lead term, or of planned days, so that it reads back the same.

    >>> write_production(LeadTerm(10, "calendar_days", 2, "telephone", date(2026, 11, 2)))
    '10 calendar days'
    """
    return f"{term.production_days} {term.production_counts.replace('_', ' ')}"


def with_production(schema: Schema) -> Schema:
    """The schema of an object that has a production besides."""
    words = 'From the order to leaving the works: "3 weeks" (15 working days), "20 days" (working), "10 calendar days".'
    text = {"description": f"{words} At most 730 days.", "type": "string", "pattern": r"\S", "maxLength": 40}
    schema["properties"] = {"production": text, **schema["properties"]}
    return {**schema, "required": ["production", *schema["required"]]}


def lead_workdays(term: LeadTerm) -> int:
    """Count a lead term as working days from order to arrival, so that terms can be compared.

    Args:
        term: the lead term.

    Returns:
        Production and transit together; production in calendar days at 5 working days for 7, a begun day whole.

    Source: own rule (a week is 5 working days or 7 calendar days).

    >>> lead_workdays(LeadTerm(10, "calendar_days", 2, "telephone", date(2026, 11, 2)))
    10
    """
    production = term.production_days
    if term.production_counts == "calendar_days":
        production = -(-production * WORKDAYS_PER_WEEK // DAYS_PER_WEEK)
    return production + term.transit_workdays


def term_in_force(terms: Iterable[LeadTerm], on_day: date) -> LeadTerm | None:
    """Pick the lead term that holds on a day: the last one stated by then.

    Args:
        terms: the terms a supplier has stated, in any order; of two stated on one day the later in the
            sequence holds.
        on_day: the day asked about.

    Returns:
        The term, or None when none had been stated by that day: a gap to be named, never zero days.

    Source: own rule.

    >>> term_in_force([], date(2026, 12, 1)) is None
    True
    """
    chosen: LeadTerm | None = None
    for term in terms:
        if term.stated_on <= on_day and (chosen is None or term.stated_on >= chosen.stated_on):
            chosen = term
    return chosen


def parse_duration(text: str, *, what: str = "Lead time") -> Duration:
    """Read a duration as suppliers state it.

    Args:
        text: at most 40 characters: ``3 weeks``, ``20 days``, ``15 working days``, ``10 calendar days``,
            ``2 calendar weeks``. Days and weeks are working ones unless it says ``calendar``.
        what: the name of the field, used in the error.

    Returns:
        The duration; a week is 5 working days, or 7 calendar days.

    Raises:
        LeadTermError: not a duration, a range of two numbers, a part of a day or week, or over 730 days.

    Source: own rule ("1 week" is 5 working days unless the terms say calendar days).

    >>> parse_duration("3 weeks")
    Duration(days=15, counts='workdays')
    """
    example = "type it like '3 weeks', '20 days' or '10 calendar days'"
    if not isinstance(text, str) or len(text) > 40:
        raise LeadTermError(f"{what}: {str(text)[:24]!r} is not a duration; {example}.")
    cleaned = text.strip()
    match = _DURATION_RE.fullmatch(cleaned)
    if match is None:
        if _RANGE_RE.match(cleaned):
            raise LeadTermError(f"{what}: {text!r} is a range; give the longer time, so that dates can rely on it.")
        raise LeadTermError(f"{what}: {text!r} is not a duration in whole days or weeks; {example}.")
    kind, unit = (match["kind"] or "").lower(), match["unit"].lower()
    if kind and unit.startswith("workday"):
        raise LeadTermError(f"{what}: {text!r} names two kinds of day; {example}.")
    counts: DayCount = "calendar_days" if kind == "calendar" else "workdays"
    days = int(match["number"])
    if unit.startswith("w") and not unit.startswith("workday"):
        days *= DAYS_PER_WEEK if counts == "calendar_days" else WORKDAYS_PER_WEEK
    if days > MAX_PRODUCTION_DAYS:
        raise LeadTermError(f"{what}: {text!r} is over {MAX_PRODUCTION_DAYS} days; check the number.")
    return Duration(days, counts)


def _check_whole(days: int, what: str, most: int) -> None:
    if isinstance(days, bool) or not isinstance(days, int) or not 0 <= days <= most:
        raise LeadTermError(f"{what} must be a whole number from 0 to {most}, not {days!r}.")


def _check_counts(counts: str) -> None:
    if counts not in ("workdays", "calendar_days"):
        raise LeadTermError(f"Days are counted as workdays or calendar_days, not {counts!r}.")
