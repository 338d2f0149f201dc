"""Planned leads: days a named person accepted for planning beside what the supplier quotes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import (
    As,
    Document,
    Items,
    Number,
    Refs,
    Schema,
    Text,
    Whole,
    build,
    check,
    read_fields,
    write_fields,
)
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import InvalidValue
from catalog.core.leads.lead_times import (
    MAX_PRODUCTION_DAYS,
    MAX_SAID_TRANSIT,
    MAX_TRANSIT_WORKDAYS,
    DayCount,
    LeadTerm,
    read_production,
    with_production,
    write_production,
)

MAX_PLAN_WORKDAYS = MAX_PRODUCTION_DAYS + MAX_TRANSIT_WORKDAYS
MAX_EVIDENCE = 500
MAX_RATIOS = 50


class PlannedLeadError(InvalidValue):
    """Days accepted for planning that cannot be used; the message says what would be right."""


@dataclass(frozen=True)
class PlannedLead:
    """Working days of the supplier, from order to arrival, that a named person accepted for planning.

    production_days, production_counts, transit_workdays: the quoted term they were accepted against.

    Raises:
        PlannedLeadError: days or figures out of range, no name, no evidence, or an end before the start.

    Source: own rule: a suggestion is never used until a person has accepted it.

    >>> PlannedLead(45, 27, "workdays", 3, "MILL", Decimal("0.9"), "three receipts", (), "A. Tester", date(2027, 1, 4))
    PlannedLead(plan_workdays=45, ...)
    """

    plan_workdays: Annotated[int, Whole(1, MAX_PLAN_WORKDAYS), "The days planned with."]
    production_days: Annotated[int, As(aside=True)]
    production_counts: Annotated[DayCount, As(aside=True)]
    transit_workdays: Annotated[int, As(aside=True)]
    supplier: Annotated[str, Text(60), "Code of the supplier then."]
    confidence: Annotated[Decimal, Number("0.5", "0.995"), "The share of orders meant to come within the plan."]
    evidence: Annotated[str, Text(MAX_EVIDENCE), "What they rest on, in one sentence."]
    ratios: Annotated[
        tuple[Decimal, ...],
        Items(Number("0.000001", "5000"), MAX_RATIOS),
        "Actual over quoted days of the receipts they rest on, oldest first.",
        As(absent=()),
    ]
    accepted_by: Annotated[str, Text(200), "Who accepted them."]
    accepted_on: Annotated[date, "The day they hold from."]
    ended_on: Annotated[date | None, "The day they no longer hold from."] = None

    @classmethod
    def from_document(cls, reader: Reader) -> PlannedLead:
        """The quoted term stands in an object of its own."""
        quoted = reader.object("quoted")
        transit = quoted.whole("transit_workdays", 0, MAX_SAID_TRANSIT)
        term = read_production(quoted) | {"transit_workdays": transit}
        quoted.finish()
        return build(cls, reader, read_fields(cls, reader) | term)

    def to_document(self) -> Document:
        document = write_fields(self)
        quoted = {"production": write_production(self), "transit_workdays": self.transit_workdays}
        return {"plan_workdays": document.pop("plan_workdays"), "quoted": quoted, **document}

    @classmethod
    def document_schema(cls, schema: Schema, refs: Refs) -> Schema:
        transit = {"description": "In transit.", **Whole(0, MAX_SAID_TRANSIT).schema(refs)}
        quoted = {
            "description": "The quoted term they were accepted against; another one makes them stale.",
            "type": "object",
            "properties": {"transit_workdays": transit},
            "required": ["transit_workdays"],
            "additionalProperties": False,
        }
        schema["properties"] = {"quoted": with_production(quoted), **schema["properties"]}
        return {**schema, "required": ["quoted", *schema["required"]]}

    def __post_init__(self) -> None:
        check(self, PlannedLeadError)
        _check_whole(self.production_days, "Quoted production days", 0, MAX_PRODUCTION_DAYS)
        _check_whole(self.transit_workdays, "Quoted transit working days", 0, MAX_TRANSIT_WORKDAYS)
        if self.production_counts not in ("workdays", "calendar_days"):
            raise PlannedLeadError(f"Days are counted as workdays or calendar_days, not {self.production_counts!r}.")
        if self.ended_on is not None and self.ended_on < self.accepted_on:
            raise PlannedLeadError(
                f"Planned days end on or after {day_words(self.accepted_on)}, not on {day_words(self.ended_on)}."
            )

    def holds_for(self, term: LeadTerm, supplier: str | None) -> bool:
        """Tell whether it was accepted against what is quoted now.

        Args:
            term: the lead term in force.
            supplier: the code of the material's supplier now, None when there is none.

        Returns:
            True when supplier and quoted days are the ones it was accepted against.

        Source: own rule: another quoted term, or another supplier, makes it stale. The same days said again do not.

        >>> term = LeadTerm(27, "workdays", 3, "telephone", date(2027, 1, 4))
        >>> accept(45, term, "MILL", Decimal("0.9"), "three receipts", (), "A. Tester", date(2027, 1, 5)).holds_for(
        ...     LeadTerm(20, "workdays", 3, "price list", date(2027, 2, 1)), "MILL"
        ... )
        False
        """
        quoted = (term.production_days, term.production_counts, term.transit_workdays)
        mine = (self.production_days, self.production_counts, self.transit_workdays)
        return supplier == self.supplier and quoted == mine


def planned_term(term: LeadTerm, plan_workdays: int) -> LeadTerm:
    """Put planned days in the place of the quoted ones.

    Args:
        term: the quoted lead term.
        plan_workdays: the supplier's working days from order to arrival, 1 to 990.

    Returns:
        A term of as many working days in all: transit as quoted where it fits, the rest production.

    Raises:
        PlannedLeadError: days out of range.

    Source: own rule: what is late is late before it leaves the supplier.

    >>> term = LeadTerm(27, "workdays", 3, "telephone", date(2027, 1, 4))
    >>> planned_term(term, 45).production_days, planned_term(term, 45).transit_workdays
    (42, 3)
    """
    _check_whole(plan_workdays, "Planned working days", 1, MAX_PLAN_WORKDAYS)
    transit = max(min(term.transit_workdays, plan_workdays), plan_workdays - MAX_PRODUCTION_DAYS)
    return replace(
        term, production_days=plan_workdays - transit, production_counts="workdays", transit_workdays=transit
    )


def accept(
    plan_workdays: int,
    term: LeadTerm,
    supplier: str,
    confidence: Decimal,
    evidence: str,
    ratios: tuple[Decimal, ...],
    accepted_by: str,
    accepted_on: date,
) -> PlannedLead:
    """Write down that somebody accepts planned days against a quoted term.

    Args:
        plan_workdays: the supplier's working days from order to arrival, 1 to 990.
        term: the lead term quoted now.
        supplier: the supplier's code.
        confidence: the share of orders meant to come within it, 0.5 to 0.995.
        evidence: what it rests on, in one sentence.
        ratios: actual over quoted of the receipts it rests on, oldest first.
        accepted_by: who accepts it.
        accepted_on: the day from which it holds.

    Returns:
        The planned days.

    Raises:
        PlannedLeadError: as ``PlannedLead``.

    Source: own rule.

    >>> term = LeadTerm(27, "workdays", 3, "telephone", date(2027, 1, 4))
    >>> accept(45, term, "MILL", Decimal("0.9"), "three receipts", (), "A. Tester", date(2027, 1, 5)).production_days
    27
    """
    quoted = (term.production_days, term.production_counts, term.transit_workdays)
    return PlannedLead(plan_workdays, *quoted, supplier, confidence, evidence, ratios, accepted_by, accepted_on)


def planned_in_force(planned: Iterable[PlannedLead], on_day: date) -> PlannedLead | None:
    """Pick the planned days that hold on a day.

    Args:
        planned: all ever accepted for a material, in the order of acceptance.
        on_day: the day asked about.

    Returns:
        The last accepted by then that has not ended, or None: then the quoted days count.

    Source: own rule.

    >>> planned_in_force([], date(2027, 1, 4)) is None
    True
    """
    chosen: PlannedLead | None = None
    for lead in planned:
        ended = lead.ended_on is not None and lead.ended_on <= on_day
        if lead.accepted_on <= on_day and not ended and (chosen is None or lead.accepted_on >= chosen.accepted_on):
            chosen = lead
    return chosen


def _check_whole(days: int, what: str, least: int, most: int) -> None:
    if isinstance(days, bool) or not isinstance(days, int) or not least <= days <= most:
        raise PlannedLeadError(f"{what} must be a whole number from {least} to {most}, not {days!r}.")
