"""What must be on site by when, and so when each item must be decided and ordered.

A need takes its day from what is agreed for the item, else from the activity it is for. The back-pass then runs
on the supplier's calendar and the firm's. Whatever is missing (a lead term, a supplier, a start day) is a named
gap, and an item with a gap has no dates rather than invented ones.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from decimal import Decimal
from typing import Literal

from catalog.core.book import Book
from catalog.core.lead_times import LeadTerm, term_in_force
from catalog.core.specs import Material, Supplier
from catalog.core.workdays import WorkCalendar
from jobs.core.activities import ActivityPlan, stage_of
from jobs.core.assembly import WallWorkUp
from jobs.core.build import TrimForm, TrimRun
from jobs.core.findings import Finding
from jobs.core.holds import Hold
from jobs.core.job import ItemDates, JobSpec
from jobs.core.order_by import (
    Arrival,
    OrderDateError,
    OrderDates,
    arrival,
    days_in_hand,
    order_by,
    workdays_late,
)
from jobs.core.takeoff import Purchase

MOST_DAYS_EARLIER = 60
AGREED = "agreed for this job"
Driver = Literal["length", "radius", "template", "profile"]
_DRIVER: Mapping[TrimForm, Driver] = {
    "stock": "length",
    "bendable": "profile",
    "pre_curved": "radius",
    "template": "template",
}
SAFE_FROM: Mapping[Driver, str] = {
    "length": "once the wall is measured: only lengths matter",
    "profile": "once the profile, its size and its grade are signed off: it flexes to the wall",
    "radius": "once the radius is confirmed on the framed wall",
    "template": "once a template has been traced from the framed wall and is held",
}


@dataclass(frozen=True)
class DatedNeed:
    """One material of the job with its dates.

    quantity: to buy, in unit; None while the takeoff has a gap. set_by: where need_by comes from, in words.
    driven_by: what decides when it is safe to order. dates: None while something is missing; findings say what.
    in_hand, decide_in_hand: firm working days from today to order-by and to decide-by, negative when past.
    if_ordered_today: when it would be usable; late_workdays: after need_by (0 or more). holds: dimensions it is made
    to that are assumed or not marked.
    """

    material: str
    name: str
    supply: str
    supplier: str | None
    quantity: Decimal | None
    unit: str
    driven_by: Driver
    need_by: date | None
    set_by: str
    term: LeadTerm | None
    cushion_workdays: int
    sign_off_workdays: int
    dates: OrderDates | None
    in_hand: int | None
    decide_in_hand: int | None
    if_ordered_today: Arrival | None
    late_workdays: int | None
    findings: tuple[Finding, ...]
    holds: tuple[Hold, ...] = ()

    @property
    def open_holds(self) -> tuple[Hold, ...]:
        """What keeps it from being released to order and nobody has decided."""
        return tuple(hold for hold in self.holds if hold.is_open)

    @property
    def is_long_lead(self) -> bool:
        return self.supply != "stocked"


def needs_of(
    job: JobSpec,
    walls: Sequence[WallWorkUp],
    purchases: Sequence[Purchase],
    plan: ActivityPlan,
    book: Book,
    calendar: WorkCalendar,
    today: date,
    now_at: time | None = None,
) -> tuple[DatedNeed, ...]:
    """Date every material of the job; sorted by days in hand, gaps last.

    purchases: of the job's takeoff; one of which nothing is bought has no dates. plan: its activities. calendar:
    the firm's working days. today: the day from which days in hand count. now_at: the firm's time of day, None when
    it does not matter: an order placed after the supplier's cut-off hour counts as the next day's.
    Source: own convention, trade rules on dates.
    """
    agreed = {one.material: one for one in job.dates}
    trims = [trim for wall in walls for trim in wall.spec.trims]
    bought = {purchase.material: purchase for purchase in purchases if purchase.buy}
    not_bought = {purchase.material for purchase in purchases if not purchase.buy}
    codes = list(bought)
    codes += [
        code
        for code in dict.fromkeys(t.material for t in trims)
        if code in book.materials and code not in bought and code not in not_bought
    ]
    dated = []
    for code in codes:
        runs = [trim for trim in trims if trim.material == code]
        material = book.materials[code]
        need_by, set_by = _need_by(material, agreed.get(code), runs, bought.get(code), plan)
        driver = _strictest([_DRIVER[run.form] for run in runs])
        clash = _clash(material, need_by, set_by, runs, bought.get(code), plan)
        dated.append(
            _date(
                material,
                bought.get(code),
                agreed.get(code),
                need_by,
                set_by,
                driver,
                book,
                calendar,
                today,
                now_at,
                clash,
            )
        )
    held = [hold for wall in walls for hold in wall.holds]
    dated = [replace(one, holds=tuple(hold for hold in held if hold.material == one.material)) for one in dated]
    return tuple(sorted(dated, key=lambda one: (one.in_hand is None, one.in_hand or 0, one.name, one.material)))


def _strictest(drivers: Sequence[Driver]) -> Driver:
    order: tuple[Driver, ...] = ("template", "radius", "profile", "length")
    return next((driver for driver in order if driver in drivers), "length")


def _need_by(
    material: Material,
    agreed: ItemDates | None,
    runs: Sequence[TrimRun],
    purchase: Purchase | None,
    plan: ActivityPlan,
) -> tuple[date | None, str]:
    days = [run.need_by for run in runs if run.need_by is not None]
    if agreed and agreed.need_by:
        days.append(agreed.need_by)
    if days:
        return min(days), AGREED
    found = _first_use(material, runs, purchase, plan)
    return found if found else (None, "")


def _first_use(
    material: Material, runs: Sequence[TrimRun], purchase: Purchase | None, plan: ActivityPlan
) -> tuple[date, str] | None:
    """The first day an activity wants the material, and that activity in words."""
    # The last part of a line's key is the role it was taken from the kit for.
    roles = {key.rpartition("/")[2] for key in purchase.lines} if purchase else {""}
    stages = [stage_of(material, run.position) for run in runs] or [stage_of(material, role=role) for role in roles]
    names = {activity.key: activity.name for activity in plan.activities}
    starts = [(day, names[stage]) for stage in stages if (day := plan.start_of(stage)) is not None]
    if not starts:
        return None
    day, name = min(starts)
    return day, f"start of {name[0].lower()}{name[1:]}"


def _clash(
    material: Material,
    need_by: date | None,
    set_by: str,
    runs: Sequence[TrimRun],
    purchase: Purchase | None,
    plan: ActivityPlan,
) -> Finding | None:
    """Say so when the day agreed for an item is after the activity that wants it begins."""
    use = _first_use(material, runs, purchase, plan)
    if use is None or need_by is None or set_by != AGREED or need_by <= use[0]:
        return None
    told = (
        f"{material.name} is agreed for {need_by.isoformat()}, but the {use[1]} is planned for "
        f"{use[0].isoformat()}: hold that activity, or agree an earlier day."
    )
    return Finding(f"needs/{material.code}/after-use", "caution", told)


def _date(
    material: Material,
    purchase: Purchase | None,
    agreed: ItemDates | None,
    need_by: date | None,
    set_by: str,
    driver: Driver,
    book: Book,
    calendar: WorkCalendar,
    today: date,
    now_at: time | None,
    clash: Finding | None,
) -> DatedNeed:
    findings: list[Finding] = [clash] if clash else []

    def gap(what: str, sentence: str) -> None:
        findings.append(Finding(f"needs/{material.code}/{what}", "gap", f"{material.name}: {sentence}"))

    agreed = agreed or ItemDates(material.code)
    cushion = _first(agreed.cushion_workdays, material.cushion_workdays, book.firm.cushion_workdays)
    sign_off = _first(agreed.sign_off_workdays, material.sign_off_workdays, book.firm.sign_off_workdays)
    term = term_in_force(material.lead_terms, today)
    supplier = book.suppliers.get(material.supplier) if material.supplier else None
    if need_by is None:
        gap("need-by", "no day to need it by; enter the job's start or agree a day for it.")
    if supplier is None:
        gap("supplier", "no supplier; enter who sells it.")
    if term is None:
        gap("lead-term", "no lead term in force; enter what the supplier says, with source and date.")
    dates: OrderDates | None = None
    today_arrival: Arrival | None = None
    if supplier is not None and term is not None:
        try:
            today_arrival = _arrival(today, term, cushion, calendar, supplier, now_at)
            if need_by is not None:
                dates = order_by(
                    need_by,
                    term,
                    cushion_workdays=cushion,
                    sign_off_workdays=sign_off,
                    firm=calendar,
                    supplier=supplier.calendar,
                    cut_off=supplier.order_cut_off,
                )
                shut = _shut_in_between(material, dates, term, cushion, calendar, supplier)
                findings += [shut] if shut else []
        except OrderDateError as error:
            gap("dates", str(error))
    late = None
    if today_arrival is not None and need_by is not None:
        late = max(0, workdays_late(need_by, today_arrival.usable, calendar))
    return DatedNeed(
        material.code,
        material.name,
        material.supply,
        material.supplier,
        purchase.buy if purchase else None,
        material.unit_used,
        driver,
        need_by,
        set_by,
        term,
        cushion,
        sign_off,
        dates,
        _in_hand(today, dates.order_by, today_arrival, calendar) if dates else None,
        days_in_hand(today, dates.decide_by, calendar) if dates else None,
        today_arrival,
        late,
        tuple(findings),
    )


def _arrival(
    order_day: date,
    term: LeadTerm,
    cushion: int,
    calendar: WorkCalendar,
    supplier: Supplier,
    now_at: time | None = None,
) -> Arrival:
    return arrival(
        order_day,
        term,
        cushion_workdays=cushion,
        firm=calendar,
        supplier=supplier.calendar,
        placed_at=now_at,
        cut_off=supplier.order_cut_off,
    )


def _shut_in_between(
    material: Material,
    dates: OrderDates,
    term: LeadTerm,
    cushion: int,
    calendar: WorkCalendar,
    supplier: Supplier,
) -> Finding | None:
    """Say so when an order on the order-by day itself would come late.

    The pass back counts the supplier's days up to the dock date, the pass forward from the order on. Where the
    supplier is shut on the dock date the two differ: what would ship on that day ships after the closure.
    """
    usable = _arrival(dates.order_by, term, cushion, calendar, supplier).usable
    if usable <= dates.need_by:
        return None
    day = dates.order_by
    for _ in range(MOST_DAYS_EARLIER):
        day = calendar.back(day, 1)
        if _arrival(day, term, cushion, calendar, supplier).usable <= dates.need_by:
            break
    told = (
        f"{material.name}: ordered on its order-by day {dates.order_by.isoformat()} it is usable "
        f"{usable.isoformat()}, after {dates.need_by.isoformat()}, because the supplier is shut when it should "
        f"arrive; ordered by {day.isoformat()} it is in time."
    )
    return Finding(f"needs/{material.code}/shut-at-dock", "caution", told)


def _in_hand(today: date, by: date, if_ordered_now: Arrival | None, calendar: WorkCalendar) -> int:
    """Days in hand; after the cut-off hour of the order-by day itself there are none left."""
    counted = days_in_hand(today, by, calendar)
    return min(counted, -1) if if_ordered_now is not None and if_ordered_now.counted_from > by else counted


def _first(*values: int | None) -> int:
    for value in values:
        if value is not None:
            return value
    raise ValueError("the firm always states its usual days")
