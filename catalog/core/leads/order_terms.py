"""On which terms a supplier takes orders: least order, freight, claims, rush."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import As, Money, Number, Whole, check
from catalog.core.ground.refusal import InvalidValue
from catalog.core.ground.workdays import WorkCalendar
from catalog.core.leads.lead_times import (
    MAX_PRODUCTION_DAYS,
    MAX_SAID_TRANSIT,
    DayCount,
    LeadTerm,
)

MAX_CLAIM_DAYS = 365
MAX_RUSH_CUSHION_WORKDAYS = 250


class OrderTermsError(InvalidValue):
    """Terms that cannot be used; the message says what would be right."""


@dataclass(frozen=True)
class OrderTerms:
    """On which terms a supplier takes orders, as it said. What it did not say is None: a gap, never nought.

    Raises:
        OrderTermsError: a figure out of range, a rush stated by half, no source, or no day.

    Source: own rule (terms are data, with who said so and when).

    >>> OrderTerms(claim_days=5, source="telephone", stated_on=date(2026, 11, 2)).claim_counts
    'calendar_days'
    """

    minimum_order: Annotated[Decimal | None, Money(), "The least an order may come to.", As(label="Least order")] = None
    freight: Annotated[Decimal | None, Money(), "What one shipment costs.", As(label="Freight of one shipment")] = None
    freight_free_from: Annotated[Decimal | None, Money(), "From which sum on freight is free."] = None
    claim_days: Annotated[
        int | None,
        Whole(0, MAX_CLAIM_DAYS),
        "Days to tell of damage, counted from the day after it came.",
        As(label="Days to claim", hint="After the day it came."),
    ] = None
    claim_counts: Annotated[
        DayCount,
        "Whether those are days of the calendar or of the supplier's work.",
        As(label="Counted in", absent="calendar_days"),
    ] = "calendar_days"
    rush_production_workdays: Annotated[
        int | None,
        Whole(0, MAX_PRODUCTION_DAYS),
        "Production when rushed; with its transit or not at all.",
        As(label="Production, working days", hint="With its transit or not at all."),
    ] = None
    rush_transit_workdays: Annotated[
        int | None, Whole(0, MAX_SAID_TRANSIT), "Transit when rushed.", As(label="Transit, working days")
    ] = None
    rush_cushion_workdays: Annotated[
        int | None,
        Whole(0, MAX_RUSH_CUSHION_WORKDAYS),
        "The firm's days in hand after a rush; without it the item's own.",
        As(label="Cushion, your working days", hint="Empty: the item's own."),
    ] = None
    rush_fee: Annotated[Decimal | None, Money(), "What a rushed line costs besides.", As(label="Fee")] = None
    rush_share: Annotated[
        Decimal | None,
        Number("0", "10"),
        "What it costs besides, as a share of its price.",
        As(label="Share of the price", hint="0.25 for a quarter more."),
    ] = None
    source: Annotated[
        str, "Where it was said.", As(label="Where it was said", hint="Such as: price list.", needed=True)
    ] = ""
    stated_on: Annotated[date | None, "When.", As(label="Said on", needed=True)] = None
    stated_by: Annotated[str, "Who said it.", As(label="By whom")] = ""

    def __post_init__(self) -> None:
        check(self, OrderTermsError)
        if (self.rush_production_workdays is None) != (self.rush_transit_workdays is None):
            raise OrderTermsError("A rush has production and transit, both or neither.")
        if self.rush_cushion_workdays is not None and self.rush_production_workdays is None:
            raise OrderTermsError("A rush with a cushion of its own has production and transit too.")

    @property
    def rush_term(self) -> LeadTerm | None:
        """The lead term of a rushed order, or None where nobody stated one."""
        if self.rush_production_workdays is None or self.rush_transit_workdays is None or self.stated_on is None:
            return None
        return LeadTerm(
            self.rush_production_workdays,
            "workdays",
            self.rush_transit_workdays,
            self.source,
            self.stated_on,
            self.stated_by,
        )

    def rush_cushion(self, usual_workdays: int) -> int:
        """The cushion of a rushed order.

        Args:
            usual_workdays: that of the item.

        Returns:
            Working days of the firm: those stated for a rush, else the usual ones.

        Source: trade rules, dates (a rush has its own production, transit and cushion).

        >>> OrderTerms(source="telephone", stated_on=date(2026, 11, 2)).rush_cushion(3)
        3
        """
        return usual_workdays if self.rush_cushion_workdays is None else self.rush_cushion_workdays

    def claim_by(self, received_on: date, supplier: WorkCalendar) -> date | None:
        """The last day to tell the supplier of damage.

        Args:
            received_on: the day it came. supplier: its working days.

        Returns:
            That day, or None where nobody stated the term.

        Raises:
            CalendarError: the calendar is shut for too long.

        Source: own rule: the day it came is not counted.

        >>> five = OrderTerms(claim_days=5, source="telephone", stated_on=date(2026, 11, 2))
        >>> five.claim_by(date(2027, 8, 6), WorkCalendar("mill"))
        datetime.date(2027, 8, 11)
        """
        if self.claim_days is None:
            return None
        if self.claim_counts == "workdays":
            return supplier.forward(received_on, self.claim_days) if self.claim_days else received_on
        return received_on + timedelta(days=self.claim_days)
