"""What must be on site by when, and so when each item must be decided and ordered.

A need takes its day from what is agreed for the item, else from the activity it is for. Its order dates then follow
from the supplier's calendar and the firm's. Whatever is missing (a lead term, a supplier, a start day) is a named
gap, and an item with a gap has no dates rather than invented ones.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from decimal import Decimal
from typing import Literal

from catalog.core.ground.day_words import day_words
from catalog.core.ground.workdays import WorkCalendar
from catalog.core.leads.lead_times import LeadTerm, lead_workdays, term_in_force
from catalog.core.leads.planned_leads import planned_in_force, planned_term
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.offers import had_from
from catalog.core.materials.specs import Material, Supplier
from jobs.core.measure.dimension_holds import Hold
from jobs.core.measure.findings import Finding
from jobs.core.measure.wall_spec import TrimForm, TrimRun
from jobs.core.ordering.order_by import (
    Arrival,
    OrderDateError,
    OrderDates,
    arrival,
    days_in_hand,
    order_by,
    workdays_late,
)
from jobs.core.schedule.activities import ActivityPlan, stage_of
from jobs.core.schedule.job_spec import ItemDates, JobSpec
from jobs.core.takeoff.job_items import JobItem, is_of_item
from jobs.core.takeoff.takeoff import Purchase
from jobs.core.takeoff.wall_work_up import WallWorkUp

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
    to that are assumed or not marked. term: what is quoted. planned_workdays: what somebody accepted for planning in
    its place, of the supplier from order to arrival; None where the quoted days date it.
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
    planned_workdays: int | None = None

    @property
    def dated_by(self) -> LeadTerm | None:
        """The term its days are counted by: the quoted one, or the days planned in its place."""
        if self.term is None or self.planned_workdays is None:
            return self.term
        return planned_term(self.term, self.planned_workdays)

    @property
    def open_holds(self) -> tuple[Hold, ...]:
        """What keeps it from being released to order and nobody has decided."""
        return tuple(hold for hold in self.holds if hold.is_open)

    @property
    def is_long_lead(self) -> bool:
        return self.supply != "stocked"


@dataclass(frozen=True)
class Want:
    """What a job wants of one material, before any term, closure or day is looked at.

    This is what stays of a need while only dates move.

    Args:
        material: code. quantity: to buy, in the unit the material is used in; None while the takeoff has a gap.
        driven_by: what decides when it is safe to order. need_by: the day it must be on site, None while unknown.
        set_by: where that comes from, in words. use_on: the day an activity first wants it. use_words: that activity
            in words. stage: its key. agreed_cushion_workdays, agreed_sign_off_workdays: agreed for this job, 0 or
            more, None where the usual ones hold. holds: dimensions it is made to that nobody stands for yet. supplier:
            code of who it is had from for this job, None for the preferred one.

    Source: own rule.

    >>> Want("BASE", None, "radius", date(2027, 1, 25), AGREED).use_on is None
    True
    """

    material: str
    quantity: Decimal | None
    driven_by: Driver
    need_by: date | None
    set_by: str
    use_on: date | None = None
    use_words: str = ""
    stage: str = ""
    agreed_cushion_workdays: int | None = None
    agreed_sign_off_workdays: int | None = None
    holds: tuple[Hold, ...] = ()
    supplier: str | None = None


def needs_of(
    job: JobSpec,
    walls: Sequence[WallWorkUp],
    purchases: Sequence[Purchase],
    plan: ActivityPlan,
    book: Catalog,
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
    wants = wants_of(job, walls, purchases, plan, book)
    return sorted_needs(date_want(want, book, calendar, today, now_at) for want in wants)


def sorted_needs(needs: Iterable[DatedNeed]) -> tuple[DatedNeed, ...]:
    """The needs by days in hand, those without dates last.

    Args:
        needs: of one job, in any order.

    Returns:
        The same, sorted; of equal days by name.

    Source: own rule.

    >>> sorted_needs([])
    ()
    """
    return tuple(sorted(needs, key=lambda need: (need.in_hand is None, need.in_hand or 0, need.name, need.material)))


def wants_of(
    job: JobSpec, walls: Sequence[WallWorkUp], purchases: Sequence[Purchase], plan: ActivityPlan, book: Catalog
) -> tuple[Want, ...]:
    """What the job wants of each material, undated.

    Args:
        job: with the days agreed for its items. walls: worked up. purchases: of the job's takeoff. plan: its
            activities. book: the catalog.

    Returns:
        A want for each material that is bought, or that a run of trim or an item asks for while the takeoff has a gap.

    Source: own rule.
    """
    agreed = {item.material: item for item in job.dates}
    trims = [trim for wall in walls for trim in wall.spec.trims]
    wanted = [*(trim.material for trim in trims), *(item.material for item in job.items)]
    bought = {purchase.material: purchase for purchase in purchases if purchase.buy}
    not_bought = {purchase.material for purchase in purchases if not purchase.buy}
    codes = list(bought)
    codes += [
        code
        for code in dict.fromkeys(wanted)
        if code in book.materials and code not in bought and code not in not_bought
    ]
    held = [hold for wall in walls for hold in wall.holds]
    return tuple(
        _want(
            book.materials[code],
            bought.get(code),
            agreed.get(code) or ItemDates(code),
            [trim for trim in trims if trim.material == code],
            [item for item in job.items if item.material == code],
            plan,
            tuple(hold for hold in held if hold.material == code),
        )
        for code in codes
    )


def _want(
    material: Material,
    purchase: Purchase | None,
    agreed: ItemDates,
    runs: Sequence[TrimRun],
    items: Sequence[JobItem],
    plan: ActivityPlan,
    holds: tuple[Hold, ...],
) -> Want:
    use = _first_use(material, runs, items, purchase, plan)
    use_on, use_words, stage = use if use else (None, "", "")
    text = (*(run.need_by for run in runs), *(item.need_by for item in items))
    days = [day for day in text if day is not None]
    if agreed.need_by:
        days.append(agreed.need_by)
    return Want(
        material.code,
        purchase.buy if purchase else None,
        _strictest([_DRIVER[run.form] for run in runs]),
        min(days) if days else use_on,
        AGREED if days else use_words,
        use_on,
        use_words,
        stage,
        agreed.cushion_workdays,
        agreed.sign_off_workdays,
        holds,
        agreed.supplier,
    )


def idle_dates(dates: Iterable[ItemDates], taken: Collection[str], book: Catalog) -> tuple[Finding, ...]:
    """A caution for each material with agreed days that the job does not take.

    dates: agreed for its items. taken: codes of all it takes. book: the catalog. Returns the cautions.
    Source: own rule, what is entered is never dropped in silence.

    >>> idle_dates((), (), None)
    ()
    """
    idle = [item.material for item in dates if item.material not in taken]
    return tuple(
        Finding(
            f"dates/{code}/idle",
            "caution",
            f"Days are agreed for {book.materials[code].name if code in book.materials else code}, but this job "
            "does not buy it: enter it as an item, or delete its days.",
        )
        for code in idle
    )


def _strictest(drivers: Sequence[Driver]) -> Driver:
    order: tuple[Driver, ...] = ("template", "radius", "profile", "length")
    return next((driver for driver in order if driver in drivers), "length")


def _first_use(
    material: Material,
    runs: Sequence[TrimRun],
    items: Sequence[JobItem],
    purchase: Purchase | None,
    plan: ActivityPlan,
) -> tuple[date, str, str] | None:
    """The first day an activity wants the material, that activity in words, and its key."""
    # The last part of a line's key is the role it was taken from the kit for.
    roles = {key.rpartition("/")[2] for key in purchase.lines if not is_of_item(key)} if purchase else set()
    stages = [stage_of(material, run.position) for run in runs] or [stage_of(material, role=role) for role in roles]
    stages += [item.activity for item in items if item.activity is not None]
    stages = stages or ([] if items else [stage_of(material)])
    names = {activity.key: activity.name for activity in plan.activities}
    starts = [(day, names[stage], stage) for stage in stages if stage in names and (day := plan.wanted_on(stage))]
    if not starts:
        return None
    day, name, stage = min(starts)
    return day, f"start of {name[0].lower()}{name[1:]}", stage


def _clash(want: Want, material: Material) -> Finding | None:
    """Say so when the day agreed for an item is after the activity that wants it begins."""
    if want.use_on is None or want.need_by is None or want.set_by != AGREED or want.need_by <= want.use_on:
        return None
    message = (
        f"{material.name} is agreed for {day_words(want.need_by)}, but the {want.use_words} is planned for "
        f"{day_words(want.use_on)}: hold that activity, or agree an earlier day."
    )
    return Finding(f"needs/{material.code}/after-use", "caution", message)


def date_want(want: Want, book: Catalog, calendar: WorkCalendar, today: date, now_at: time | None = None) -> DatedNeed:
    """Date one want by the terms, closures and usual days that hold on a day.

    Args:
        want: of a material the book holds. book: the catalog; of its materials this one is looked at alone.
            calendar: the firm's working days. today: the day from which days in hand count. now_at: the firm's time
            of day, None when it does not matter.

    Returns:
        The need; without dates, and with a gap for each thing missing, where it cannot be dated.

    Raises:
        KeyError: a material the book does not hold.

    Source: own convention, trade rules on dates.

    >>> from catalog.core.materials.specs import Firm
    >>> from catalog.core.materials.standards import starter_standards
    >>> base = Material("BASE", "Base", "trim", "custom_made", "ft", "piece", None)
    >>> book = Catalog(Firm("F", "Etc/UTC", "EUR", "metric", 3, 5), starter_standards(), {}, {"BASE": base})
    >>> want = Want("BASE", None, "length", None, "")
    >>> [entry.key for entry in date_want(want, book, book.firm.calendar, date(2027, 1, 4)).findings]
    ['needs/BASE/need-by', 'needs/BASE/supplier', 'needs/BASE/lead-term']
    """
    material = had_from(book.materials[want.material], want.supplier)
    clash = _clash(want, material)
    findings: list[Finding] = [clash] if clash else []

    def gap(what: str, sentence: str) -> None:
        findings.append(Finding(f"needs/{material.code}/{what}", "gap", f"{material.name}: {sentence}"))

    cushion = _first(want.agreed_cushion_workdays, material.cushion_workdays, book.firm.cushion_workdays)
    sign_off = _first(want.agreed_sign_off_workdays, material.sign_off_workdays, book.firm.sign_off_workdays)
    term = term_in_force(material.lead_terms, today)
    supplier = book.suppliers.get(material.supplier) if material.supplier else None
    if want.need_by is None:
        gap("need-by", "no day on site; enter the job's start or agree a day for it.")
    if supplier is None:
        gap("supplier", "no supplier; enter who sells it.")
    if term is None:
        gap("lead-term", "no lead time; enter what the supplier says.")
    planned, finding = _planned(material, term, today)
    findings += [finding] if finding else []
    timed = planned_term(term, planned) if term is not None and planned is not None else term
    dates: OrderDates | None = None
    if supplier is not None and timed is not None and want.need_by is not None:
        try:
            dates = order_by(
                want.need_by,
                timed,
                cushion_workdays=cushion,
                sign_off_workdays=sign_off,
                firm=calendar,
                supplier=supplier.calendar,
                cut_off=supplier.order_cut_off,
            )
        except OrderDateError as error:
            gap("dates", str(error))
    need = DatedNeed(
        material.code,
        material.name,
        material.supply,
        material.supplier,
        want.quantity,
        material.unit_used,
        want.driven_by,
        want.need_by,
        want.set_by,
        term,
        cushion,
        sign_off,
        dates,
        None,
        None,
        None,
        None,
        tuple(findings),
        want.holds,
        planned,
    )
    return counted_on(need, supplier, calendar, today, now_at)


def _planned(material: Material, term: LeadTerm | None, today: date) -> tuple[int | None, Finding | None]:
    """The days planned in the place of the quoted ones, and what must be said of them either way."""
    plan = planned_in_force(material.planned_leads, today)
    if plan is None or term is None:
        return None, None
    # Calendar days come to more or fewer working days from one order to the next.
    about = "" if term.production_counts == "workdays" else "about "
    quoted, key = f"{about}{lead_workdays(term)}", f"needs/{material.code}/planned"
    accepted = f"{plan.accepted_by} accepted {plan.plan_workdays} working days on {day_words(plan.accepted_on)}"
    if plan.holds_for(term, material.supplier):
        message = f"{material.name}: dated by {plan.plan_workdays} working days, where {quoted} are quoted; {accepted}."
        return plan.plan_workdays, Finding(key, "note", message)
    message = (
        f"{material.name}: {accepted} for planning, against another quote or supplier; dated by the {quoted} quoted "
        f"now until somebody accepts new planned days."
    )
    return None, Finding(key, "caution", message)


def counted_on(
    need: DatedNeed, supplier: Supplier | None, calendar: WorkCalendar, today: date, now_at: time | None = None
) -> DatedNeed:
    """The same need with what depends on the day it is read: days in hand, and what an order today would come to.

    Args:
        need: with its dates, whatever day they were counted on. supplier: who sells it, None when nobody does.
            calendar: the firm's working days. today: the firm's day. now_at: its time of day, None when it does not
            matter.

    Returns:
        The need; without dates and with a gap where the supplier is shut for too long to order at all.

    Source: own convention, trade rules on dates.
    """
    term = need.dated_by
    if supplier is None or term is None:
        return need
    try:
        arriving = arrival(
            today,
            term,
            cushion_workdays=need.cushion_workdays,
            firm=calendar,
            supplier=supplier.calendar,
            placed_at=now_at,
            cut_off=supplier.order_cut_off,
        )
    except OrderDateError as error:
        key = f"needs/{need.material}/dates"
        text = any(finding.key == key for finding in need.findings)
        gap = () if text else (Finding(key, "gap", f"{need.name}: {error}"),)
        return replace(need, dates=None, findings=(*need.findings, *gap))
    dates = need.dates
    return replace(
        need,
        in_hand=_in_hand(today, dates.order_by, arriving, calendar, supplier.calendar) if dates else None,
        decide_in_hand=days_in_hand(today, dates.decide_by, calendar) if dates else None,
        if_ordered_today=arriving,
        late_workdays=None if need.need_by is None else max(0, workdays_late(need.need_by, arriving.usable, calendar)),
    )


def _in_hand(today: date, by: date, if_ordered_now: Arrival, firm: WorkCalendar, supplier: WorkCalendar) -> int:
    """Days in hand; after the cut-off hour of the order-by day itself there are none left."""
    counted = days_in_hand(today, by, firm)
    missed = today == by and if_ordered_now.counted_from > supplier.on_or_after(by)
    return -1 if missed else counted


def _first(*values: int | None) -> int:
    for value in values:
        if value is not None:
            return value
    raise ValueError("the firm always states its usual days")
