"""What could be done about each item that no shelf holds: when to order it, and what helps if it would come late."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from catalog.core.ground.money import to_cents
from catalog.core.leads.lead_times import term_in_force
from catalog.core.materials.specs import Material
from jobs.core.ordering.goods_on_order import goods_on_order
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.ordering.late_remedies import FollowingWork, LateItem, OtherSource, Remedy, late_remedies
from jobs.core.ordering.needs import Want, wants_of
from jobs.core.ordering.order_by import Arrival
from jobs.core.ordering.order_timing import ItemToOrder, OrderChoice, best_choice, checked_on, fits_of, order_choices
from jobs.orders.models import OrderLine, OrderState
from jobs.orders.services.items import Item, check_day, items_of, on_orders
from jobs.orders.services.ordered_so_far import OrderedSoFar, line_coming
from jobs.work_up.services.job_work_up import JobResult


@dataclass(frozen=True)
class ItemWays:
    """One item to be ordered, or on order and too late.

    best: the way to order that is in time, fits and costs least. late_workdays: of the firm, 0 for what is in time.
    line: what is on order of it, None while something is still to be ordered; there is nothing to choose then.
    """

    item: Item
    choices: tuple[OrderChoice, ...]
    best: OrderChoice | None
    remedies: tuple[Remedy, ...]
    late_workdays: int = 0
    line: OrderLine | None = None


def ways_of(work: JobResult, moment: datetime) -> list[ItemWays]:
    """Of what cannot be had from the shelf, and of whatever is on order and comes too late. moment: now by the firm's
    own clock."""
    items = items_of(work)
    if work.done is None or not items:
        return []
    ordered = on_orders(items.values())
    # What stands on a draft alone is still to be ordered.
    covered = {key: so_far for key, so_far in ordered.items() if so_far.is_covered and _placed(so_far)}
    result = work.done
    wants = {
        want.material: want
        for want in wants_of(result.read.job, result.walls, result.takeoff.purchases, result.plan, result.read.book)
    }
    ways = []
    for code, item in items.items():
        if item.need.supplier not in result.read.book.suppliers:
            continue
        if item.key in covered:
            ways += _late_on_order(item, wants[code], covered[item.key], moment)
        elif item.need.is_long_lead:
            ways.append(_ways(item, wants[code], moment))
    return ways


def _placed(so_far: OrderedSoFar) -> list[OrderLine]:
    return [line for line in so_far.every if line.order.state == OrderState.PLACED]


def _late_on_order(item: Item, want: Want, so_far: OrderedSoFar, moment: datetime) -> Iterable[ItemWays]:
    result, need = item.work_up, item.need
    book, lines = result.read.book, _placed(so_far)
    if need.need_by is None:
        return
    firm, supplier = book.firm.calendar, book.suppliers[need.supplier or ""]
    coming = goods_on_order(
        map(line_coming, lines), need.need_by, cushion_workdays=need.cushion_workdays, firm=firm, today=moment.date()
    )
    if not coming.is_late or coming.usable_on is None or coming.last.expected_on is None:
        return
    line, late = next(line for line in lines if line.pk == coming.last.key), -(coming.spare_workdays or 0)
    dock = max(coming.last.expected_on, moment.date())
    transit = need.term.transit_workdays if need.term else 0
    ship = min(dock, max(supplier.calendar.back(supplier.calendar.on_or_before(dock), transit), moment.date()))
    arrives = Arrival(min(ship, line.order.placed_on or ship), ship, dock, coming.usable_on)
    remedies = late_remedies(
        _late(item, want, moment, arrives, line),
        supplier.terms,
        firm=firm,
        supplier=supplier.calendar,
        today=moment.date(),
        now_at=moment.time(),
        cut_off=supplier.order_cut_off,
    )
    yield ItemWays(item, (), None, remedies, late, line)


def _ways(item: Item, want: Want, moment: datetime) -> ItemWays:
    result, need = item.work_up, item.need
    book = result.read.book
    supplier = book.suppliers[need.supplier or ""]
    calendars = {"firm": book.firm.calendar, "supplier": supplier.calendar}
    at = {"today": moment.date(), "now_at": moment.time(), "cut_off": supplier.order_cut_off}
    to_order = ItemToOrder(
        need_by=need.need_by,
        term=need.dated_by,
        terms=supplier.terms,
        price=item.amount,
        cushion_workdays=need.cushion_workdays,
        sign_off_workdays=need.sign_off_workdays,
        fits=fits_of(result.walls, need.material, book.firm.display_units),
        check_on=check_day(result),
        is_checked=checked_on(result.walls, need.material) is not None,
    )
    choices = order_choices(to_order, **calendars, **at)
    remedies: tuple[Remedy, ...] = ()
    if need.late_workdays and need.if_ordered_today is not None and need.need_by is not None:
        remedies = late_remedies(_late(item, want, moment, need.if_ordered_today), supplier.terms, **calendars, **at)
    return ItemWays(item, choices, best_choice(choices), remedies, need.late_workdays or 0)


def _late(item: Item, want: Want, moment: datetime, arrives: Arrival, line: OrderLine | None = None) -> LateItem:
    """line: what is on order of it, None where nothing is."""
    result, need = item.work_up, item.need
    assert need.need_by is not None, "asked of late items alone"
    keys = [activity.key for activity in result.plan.activities]
    stage = next((activity for activity in result.plan.activities if activity.key == want.stage), None)
    after = result.plan.activities[keys.index(want.stage) :] if stage else ()
    # Up to the promised day where there is one: what is promised matters, not when the last of it could be done.
    times = (stage.promised or stage.times) if stage else None
    return LateItem(
        what=need.name,
        need_by=need.need_by,
        arrives=arrives,
        price=item.amount if line is None else line.amount,
        cushion_workdays=need.cushion_workdays,
        float_workdays=times.total_float_workdays if times else None,
        activity=stage.name if stage else "",
        following=tuple(
            FollowingWork(following.name, following.duration_workdays, following.people)
            for following in after
            if following.kind == "work" and following.people
        ),
        promised_on=result.read.job.promised_on,
        sources=tuple(_elsewhere(item, moment)),
        is_on_order=line is not None,
    )


def _elsewhere(item: Item, moment: datetime) -> Iterable[OtherSource]:
    """Profiles of one shape stand in for each other, where they bend as far as these runs do."""
    book = item.work_up.read.book
    mine = book.materials[item.need.material]
    shape = mine.profile.shape.strip().casefold() if mine.profile else ""
    if not shape:
        return
    tightest_mm = _tightest_mm(item.work_up, mine.code)
    for other in book.materials.values():
        alike = other.profile is not None and other.profile.shape.strip().casefold() == shape
        term = term_in_force(other.lead_terms, moment.date())
        seller = book.suppliers.get(other.supplier or "")
        if not alike or other.code == mine.code or term is None or seller is None or not _bends(other, tightest_mm):
            continue
        words = f"{other.name} ({other.code}) from {seller.name}, compared by the {mine.unit_used} at today's prices"
        extra = _extra(item, mine, other, moment)
        yield OtherSource(words, term, seller.calendar, seller.order_cut_off, extra, is_substitute=True)


def _tightest_mm(result: JobWorkUp, material: str) -> float | None:
    radii = [
        arc.radius_mm
        for wall in result.walls
        for plan in wall.trims
        if plan.run.material == material
        for arc in plan.arcs
        if arc.radius_mm > 0
    ]
    return min(radii, default=None)


def _bends(other: Material, tightest_mm: float | None) -> bool:
    """A limit nobody stated is not taken for none."""
    limit = other.trim_limit("least_radius_mm")
    return tightest_mm is None or (limit is not None and limit.number <= tightest_mm)


def _extra(item: Item, mine: Material, other: Material, moment: datetime) -> Decimal | None:
    quantity = item.need.quantity
    rates = [_rate(price, moment) for price in (mine, other)]
    if quantity is None or None in rates or mine.unit_used != other.unit_used:
        return None
    here, there = (rate for rate in rates if rate is not None)
    return to_cents(to_cents(there * quantity) - to_cents(here * quantity))


def _rate(material: Material, moment: datetime) -> Decimal | None:
    """The least price of a unit used, None while no pack has one."""
    prices = [(pack.price_on(moment.date()), pack.quantity) for pack in material.packs]
    return min((price.amount / quantity for price, quantity in prices if price is not None), default=None)
