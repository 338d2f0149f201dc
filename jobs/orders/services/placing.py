"""Placing an order: everything on it is released and stated as it stands now, or it is not placed."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from django.db import transaction

from catalog.core.ground.declared import write
from catalog.core.ground.refusal import Refused
from catalog.core.leads.lead_times import LeadTerm
from catalog.core.materials.catalog_data import Catalog
from catalog.services.book import book_of
from catalog.services.row_sync import save_if_changed
from jobs.core.ordering.order_by import Arrival, OrderDateError, arrival, workdays_late
from jobs.core.ordering.order_lines import part_of
from jobs.orders.models import Order, OrderLine, OrderMail, OrderState, OrderWay, Release
from jobs.orders.services.drafting import held_draft
from jobs.orders.services.items import Item, live_items
from jobs.orders.services.line_statement import still_states
from jobs.orders.services.mailing import queue_mail
from jobs.orders.services.order_changes import orders_changed
from jobs.orders.services.order_totals import OrderSums, sums_of
from jobs.orders.services.ordered_so_far import without_line
from jobs.orders.services.releasing import ItemStanding, standing_of_item
from jobs.orders.services.replacing import stops_of_replacement
from jobs.orders.services.sheets import request_sheet
from jobs.orders.services.unsigned_stock import called, release_unsigned
from quoting.platform.models.columns import normalized


@dataclass(frozen=True)
class OrderLineState:
    """A line of a draft as it would be placed now. standing: None for what has left the takeoff.

    arrives: by the quoted term, None while one is missing. stops: why it cannot be placed, as sentences.
    """

    line: OrderLine
    standing: ItemStanding | None
    arrives: Arrival | None
    late_workdays: int | None
    stops: tuple[str, ...]

    @property
    def asks_reason(self) -> bool:
        """Of what is ordered again the release the first was ordered under counts once."""
        standing, first = self.standing, self.line.replaces
        if standing is None or standing.is_signed:
            return False
        again = first is not None and standing.release is not None and standing.release.pk == first.release_id
        return standing.asks_reason or again


@dataclass(frozen=True)
class OrderStanding:
    lines: tuple[OrderLineState, ...]
    sums: OrderSums

    @property
    def stops(self) -> tuple[str, ...]:
        stops = [stop for line in self.lines for stop in line.stops]
        return tuple(dict.fromkeys(stops)) if self.lines else ("Nothing is on this order; add an item first.",)

    @property
    def unsigned(self) -> tuple[ItemStanding, ...]:
        """Of jobs that are not signed, stock and what is ordered again: whoever places the order says why."""
        return tuple(line.standing for line in self.lines if line.standing is not None and line.asks_reason)

    @property
    def unsigned_names(self) -> tuple[str, ...]:
        return tuple(called(standing.item) for standing in self.unsigned)


def standing_of_order(order: Order, moment: datetime) -> OrderStanding:
    """moment: now by the firm's own clock."""
    book, live = book_of(), {}
    lines = []
    for line in order.lines.select_related("job__client", "material", "order", "replaces"):
        if line.job_id not in live:
            live[line.job_id] = _live(line, moment)
        lines.append(_of_line(line, live[line.job_id].get(line.material_id), order, book, moment))
    sums = sums_of(order, [line.line for line in lines], book.suppliers[order.supplier_id].terms)
    return OrderStanding(tuple(lines), sums)


def _live(line: OrderLine, moment: datetime) -> dict[str, Item]:
    try:
        return live_items(line.job, moment)
    except Refused:
        return {}


def _of_line(line: OrderLine, item: Item | None, order: Order, book: Catalog, moment: datetime) -> OrderLineState:
    stops: list[str] = []
    what = f"{line.material.name} of {line.job.key}"
    if item is None:
        stops.append(f"{what} is no longer needed, or its walls cannot be worked out: remove it from the order.")
    standing = standing_of_item(item, moment) if item is not None else None
    if standing is not None and item is not None:
        stops += _stops_of(line, item, standing, order, what)
    term, cushion = _term(line, item, book, order)
    arrives = None
    if term is None:
        named = "no rush is stated by the supplier" if line.rush else "no lead term is in force"
        stops.append(f"{what} cannot be dated: {named}. Enter what the supplier says.")
    else:
        arrives = _arrival(order, term, cushion, book, moment)
    late = None
    if arrives is not None and line.need_by is not None:
        late = workdays_late(line.need_by, arrives.usable, book.firm.calendar)
    return OrderLineState(line, standing, arrives, late, tuple(stops))


def _stops_of(line: OrderLine, item: Item, standing: ItemStanding, order: Order, what: str) -> list[str]:
    if item.need.supplier != order.supplier_id and line.replaces_id is None:
        return [f"{what} is not bought from {order.supplier} any more: remove it, or have the job buy it there."]
    if line.replaces_id is not None:
        return [*stops_of_replacement(line, item.statement, what), *_unreleased(standing, what)]
    left = without_line(write(item.statement), line)
    if not still_states(line, item.statement) or left.left != normalized(line.quantity - line.extra):
        more = f" {left.so_far}" if left.carried or left.is_whole else ""
        return [f"{what} has changed since it was added to the order: update the order.{more}"]
    if part_of(item.statement, normalized(line.quantity)) is None and not order.note:
        stated = f"{normalized(item.statement.quantity or line.quantity):f} {item.statement.unit}"
        reason = f"of {stated}, which are not all alike, this line orders {normalized(line.quantity):f}"
        return [f"{what}: {reason}. Say in the note for the supplier which ones."]
    return _unreleased(standing, what)


def _unreleased(standing: ItemStanding, what: str) -> list[str]:
    if standing.needs_release and standing.release is None:
        state = "was released as it stood before" if standing.is_stale else "is not released"
        return [f"{what} {state}: a named person releases it first."]
    return [f"{what}: {hold.sentence}" for hold in standing.blocking]


def _term(line: OrderLine, item: Item | None, book: Catalog, order: Order) -> tuple[LeadTerm | None, int]:
    cushion = item.need.cushion_workdays if item else book.firm.cushion_workdays
    if line.rush:
        terms = book.suppliers[order.supplier_id].terms
        return (terms.rush_term, terms.rush_cushion(cushion)) if terms else (None, cushion)
    if item is not None:
        return item.need.term, cushion
    return line.material.to_core().lead_terms[-1] if line.material.lead_terms.exists() else None, cushion


def _arrival(order: Order, term: LeadTerm, cushion: int, book: Catalog, moment: datetime) -> Arrival | None:
    supplier = book.suppliers[order.supplier_id]
    try:
        return arrival(
            moment.date(),
            term,
            cushion_workdays=cushion,
            firm=book.firm.calendar,
            supplier=supplier.calendar,
            placed_at=moment.time(),
            cut_off=supplier.order_cut_off,
        )
    except OrderDateError:
        return None


@transaction.atomic
def place_order(
    order: Order,
    *,
    way: str,
    seen_version: int,
    to_address: str = "",
    message: str = "",
    unsigned_reason: str = "",
    request_key: str,
    by: str,
    now: datetime,
    moment: datetime,
) -> Order:
    """way: "mail" sends the order sheet from here; "other" says that the office has ordered it otherwise.
    unsigned_reason: why stock of jobs that are not signed is ordered all the same.

    The same request_key places it once. Raises Refused.
    """
    present = Order.objects.select_for_update(of=("self",)).get(pk=order.pk)
    if present.state == OrderState.PLACED and present.version == seen_version + 1 and _is_repeat(present, request_key):
        return present
    if way not in OrderWay.values:
        raise Refused("Say how it is ordered: by mail from here, or otherwise.")
    order = held_draft(order.pk, seen_version)
    standing = standing_of_order(order, moment)
    if standing.stops:
        raise Refused(f"Order {order} is not placed.", *standing.stops)
    if standing.unsigned:
        standing = _with_releases(standing, release_unsigned(standing.unsigned, unsigned_reason, by=by, now=now))
    for line in standing.lines:
        save_if_changed(line.line, _placed(line, order, book_of()))
    counted = [line.arrives.counted_from for line in standing.lines if line.arrives is not None]
    save_if_changed(
        order,
        {
            "state": OrderState.PLACED,
            "way": way,
            "placed_at": now,
            "placed_on": moment.date(),
            "counted_from": max(counted, default=moment.date()),
            "placed_by_name": by,
            "freight": standing.sums.sure_freight,
            "rush_fee": standing.sums.rush_fee if any(line.line.rush for line in standing.lines) else None,
            "version": order.version + 1,
        },
    )
    orders_changed(line.line.job_id for line in standing.lines)
    request_sheet(order, by, now, moment)
    if way == OrderWay.MAIL:
        queue_mail(order, to_address=to_address, message=message, request_key=request_key, by=by, now=now)
    return order


def _with_releases(standing: OrderStanding, releases: Mapping[str, Release]) -> OrderStanding:
    lines = []
    for line in standing.lines:
        release = releases.get(line.standing.item.key) if line.standing else None
        released = replace(line.standing, release=release) if line.standing and release else line.standing
        lines.append(replace(line, standing=released))
    return replace(standing, lines=tuple(lines))


def _is_repeat(order: Order, request_key: str) -> bool:
    return order.way == OrderWay.OTHER or OrderMail.objects.filter(order=order, request_key=request_key).exists()


def _placed(state: OrderLineState, order: Order, book: Catalog) -> dict[str, object]:
    """What was quoted on the day it was placed, so that what comes can be held against it."""
    need = state.standing.item.need if state.standing else None
    figures: dict[str, object] = {"release": state.standing.release if state.standing else state.line.release}
    if need is not None:
        figures |= {"need_by": need.need_by, "order_by": need.dates.order_by if need.dates else None}
    if state.arrives is not None:
        calendar = book.suppliers[order.supplier_id].calendar
        figures |= {
            "quoted_workdays": calendar.workdays_between(state.arrives.counted_from, state.arrives.dock),
            "quoted_dock_on": state.arrives.dock,
        }
    return figures
