"""Orders being put together: of the items chosen, for one supplier, brought up to date, thrown away."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

from catalog.core.ground.declared import write
from catalog.core.ground.refusal import Refused
from catalog.models import Supplier
from catalog.services.row_sync import save_if_changed
from jobs.core.ordering.chosen_pieces import ChosenPiecesError
from jobs.deleted.models import DeletedKind
from jobs.deleted.services.deleted import Deletion, keep_deleted
from jobs.jobs.models import Job
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.orders.models import DeliverTo, Order, OrderLine, OrderState
from jobs.orders.models.orders import MAX_QUANTITY
from jobs.orders.services.items import Item, item_key, left_of, live_items, on_orders
from jobs.orders.services.line_statement import still_states
from jobs.orders.services.order_numbers import numbered
from jobs.orders.services.ordered_so_far import OrderedSoFar, without_line
from jobs.orders.services.refusal import clean_text, refuse_wrong_key
from jobs.orders.services.releasing import standing_release
from jobs.orders.services.replaced_pieces import renew_pieces, state_pieces
from jobs.orders.services.replacement_lines import replacement_figures, short_lines
from quoting.platform.models.columns import normalized, quantized

MAX_LINES = 200
MAX_NOTE = 2000
ItemChosen = tuple[int, str]
"""Id of the job and code of the material."""


@dataclass(frozen=True)
class More:
    """How much of an item is ordered beyond what its job wants, over 0, and why."""

    extra: Decimal
    reason: str


@transaction.atomic
def draft_order(
    supplier: Supplier,
    chosen: Sequence[ItemChosen],
    *,
    request_key: str,
    by: str,
    now: datetime,
    moment: datetime,
    more: Mapping[ItemChosen, More] | None = None,
) -> Order:
    """One order of these items. The same request_key makes one; an item another order stands for is refused.

    more: of the items of which more is ordered than is wanted. moment: now by the firm's own clock. Raises Refused.
    """
    refuse_wrong_key(request_key)
    if not 0 < len(set(chosen)) <= MAX_LINES:
        raise Refused(f"Choose from 1 to {MAX_LINES} items to order; {len(set(chosen))} were chosen.")
    # Held to the end: of two who order the same item at the same moment the second waits here, and then sees the line.
    jobs = {row.pk: row for row in _held_jobs({job_id for job_id, _ in chosen})}
    known = Order.objects.filter(request_key=request_key).first()
    if known is not None:
        return known
    items = _items(supplier, chosen, jobs, moment)
    beyond = {item_key(*key): figures for key, figures in (more or {}).items()}
    left = _left_of_all(items, beyond)
    order = numbered(
        lambda number: Order.objects.create(
            number=number, supplier=supplier, request_key=request_key, made_at=now, made_by_name=by
        )
    )
    lines = [(item.job, figures) for item in items for figures in _lines_of(item, left[item.key], beyond.get(item.key))]
    for place, (job, figures) in enumerate(lines, start=1):
        OrderLine.objects.create(order=order, place=place, job=job, **figures)
    return order


def _lines_of(item: Item, left: Decimal, more: More | None) -> Iterator[dict[str, Any]]:
    """What came damaged or wrong by lines of its own, each of just those pieces; all else by one line."""
    short = list(short_lines(item.job, item.need.material))
    if sum(quantity for _, quantity in short) <= left:
        for line, quantity in short:
            yield replacement_figures(line, quantity) | {"need_by": item.need.need_by}
            left -= quantity
    if left or more:
        yield line_figures(item, left, more)


def _held_jobs(job_ids: Iterable[int]) -> list[Job]:
    return list(Job.objects.select_for_update().filter(pk__in=list(job_ids)).order_by("pk"))


def _items(supplier: Supplier, chosen: Sequence[ItemChosen], jobs: dict[int, Job], moment: datetime) -> list[Item]:
    live = {pk: live_items(job, moment) for pk, job in jobs.items()}
    items = []
    for job_id, material in dict.fromkeys(chosen):
        item = live.get(job_id, {}).get(material)
        if item is None:
            raise Refused(f"{material} is not an item of {jobs.get(job_id, 'a job that is there')}; choose again.")
        if item.need.supplier != supplier.code:
            raise Refused(f"{item.need.name} is not bought from {supplier}; change the supplier in the catalog first.")
        if item.statement.quantity is None:
            raise Refused(f"{item.job}: {' '.join(item.statement.missing_sentences)}")
        items.append(item)
    return items


def _left_of_all(items: Sequence[Item], beyond: Mapping[str, More]) -> dict[str, Decimal]:
    """How much of each is still to be put on an order. Raises Refused where any is covered, and no more is ordered."""
    ordered = on_orders(items)
    covered = [
        (item, ordered[item.key])
        for item in items
        if item.key in ordered and ordered[item.key].is_covered
        if item.key not in beyond or ordered[item.key].balance.is_whole
    ]
    if covered:
        raise Refused(*(_stands_already(item, so_far) for item, so_far in covered))
    left = {item.key: left_of(item, ordered.get(item.key)) for item in items}
    return {key: quantity for key, quantity in left.items() if quantity is not None}


def _stands_already(item: Item, so_far: OrderedSoFar) -> str:
    numbers = ", ".join(dict.fromkeys(line.order.number for line in so_far.lines))
    return " ".join(f"{item.need.name} of {item.job} is on order {numbers} already. {so_far.balance.so_far}".split())


def line_figures(item: Item, left: Decimal, more: More | None = None) -> dict[str, Any]:
    """left: of what the job wants, ordered by this line. It states the whole item, so that one release holds for both.

    Raises Refused.
    """
    statement, quantity = item.statement, left + _extra(item, more)
    release = standing_release(item.job, item.need.material)
    return {
        "material_id": item.need.material,
        "what": statement.what[:500],
        "quantity": quantized(quantity),
        "extra": quantized(quantity - left),
        "extra_reason": more.reason.strip() if more else "",
        "unit": item.unit_of(quantity),
        "statement": write(statement),
        "statement_mark": statement.mark,
        "release": release if release and still_states(release, statement) else None,
        "unit_price": item.unit_price,
        "amount": item.amount_of(quantity),
        "need_by": item.need.need_by,
        "order_by": item.need.dates.order_by if item.need.dates else None,
    }


def _extra(item: Item, more: More | None) -> Decimal:
    if more is None:
        return Decimal(0)
    extra, name = more.extra, item.need.name
    if not (extra.is_finite() and 0 < extra <= MAX_QUANTITY):
        raise Refused(f"{name}: how many more must be over 0 and at most {MAX_QUANTITY:,}, not {extra:f}.")
    if (item.statement.packs or item.statement.runs) and extra != extra.to_integral_value():
        raise Refused(f"{name}: {item.statement.unit} are ordered whole, so {extra:f} more cannot be.")
    if not clean_text(more.reason, "The reason", MAX_NOTE):
        raise Refused(f"{name}: say why more is ordered than the job needs.")
    return extra


def held_draft(order_id: int, seen_version: int | None) -> Order:
    """Still being put together, and as it was seen; held to the end of the transaction. Raises ChangedMeanwhile."""
    order = Order.objects.select_for_update(of=("self",)).select_related("supplier").get(pk=order_id)
    if order.state != OrderState.DRAFT:
        raise Refused(f"Order {order} is {order.get_state_display().lower()}; it is not changed any more.")
    if seen_version is not None and order.version != seen_version:
        raise ChangedMeanwhile(f"Order {order}", seen_version, order.version)
    return order


@transaction.atomic
def change_draft(
    order: Order,
    *,
    seen_version: int,
    note: str,
    rush: Iterable[int],
    deliver_to: str = "",
    pieces: Mapping[int, Sequence[int]] | None = None,
) -> Order:
    """The note for the supplier, and the places of the lines to be rushed.

    deliver_to: as it was where empty. pieces: by place of lines that replace others, how many of each kind there is to
    choose from. Raises Refused.
    """
    order = held_draft(order.pk, seen_version)
    note = clean_text(note, "The note", MAX_NOTE)
    rushed, choices = set(rush), dict(pieces or {})
    for line in order.lines.select_related("replaces"):
        save_if_changed(line, {"rush": line.place in rushed})
        if line.place in choices:
            _choose(line, choices.pop(line.place))
    for place in choices:
        raise Refused(f"Line {place} is not on this order, so no pieces of it are chosen.")
    where = _delivered_to(order, deliver_to or order.deliver_to)
    save_if_changed(order, {"note": note, "deliver_to": where, "version": order.version + 1})
    return order


def _delivered_to(order: Order, where: str) -> str:
    if where not in DeliverTo.values:
        raise Refused(f'Deliver to is one of {", ".join(DeliverTo.values)}, not "{where}".')
    if where == DeliverTo.SITE:
        sites = sorted({line.job.site_address for line in order.lines.select_related("job")})
        if len(sites) > 1:
            raise Refused("This order is for several sites: have it delivered to our dock, or order for each site.")
        if not all(sites):
            raise Refused("The site has no address: enter it on the job, or have the order delivered to our dock.")
    return where


def _choose(line: OrderLine, counts: Sequence[int]) -> None:
    if sum(counts) != line.quantity:
        raise Refused(f"Line {line.place} orders {normalized(line.quantity):f} {line.unit}; {sum(counts)} were chosen.")
    try:
        state_pieces(line, counts)
    except ChosenPiecesError as error:
        raise Refused(f"Line {line.place}: {error}") from error


@transaction.atomic
def order_more(order: Order, place: int, more: More | None, *, seen_version: int, moment: datetime) -> Order:
    """A line that orders more than its job wants, or with None no more. Raises Refused."""
    order = held_draft(order.pk, seen_version)
    line = order.lines.select_related("job").filter(place=place, replaces=None).first()
    if line is None:
        raise Refused(f"Line {place} of {order} orders nothing a job needs, so it cannot order more.")
    _held_jobs([line.job_id])
    _renew(line, more, moment)
    save_if_changed(order, {"version": order.version + 1})
    return order


def _renew(line: OrderLine, more: More | None, moment: datetime) -> None:
    item = live_items(line.job, moment).get(line.material_id)
    if item is None or item.statement.quantity is None:
        raise Refused(f"{line.what} of {line.job} is no longer needed: remove it from this order.")
    left = without_line(write(item.statement), line)
    if left.left is None or (left.is_covered and more is None):
        raise Refused(f"{line.what} of {line.job} is on other orders already: remove it from this one.")
    save_if_changed(line, line_figures(item, left.left, more))


def more_of(line: OrderLine) -> More | None:
    return More(normalized(line.extra), line.extra_reason) if line.extra else None


@transaction.atomic
def take_off_line(order: Order, place: int, *, seen_version: int) -> Order:
    """Its item may then be put on another order."""
    order = held_draft(order.pk, seen_version)
    order.lines.filter(place=place).delete()
    save_if_changed(order, {"version": order.version + 1})
    return order


@transaction.atomic
def bring_up_to_date(order: Order, *, seen_version: int, moment: datetime) -> Order:
    """Each line as its item stands now: quantity, statement, price, days; of what is ordered again the same pieces."""
    order = held_draft(order.pk, seen_version)
    _held_jobs(set(order.lines.values_list("job_id", flat=True)))
    for line in order.lines.select_related("job", "replaces"):
        if line.replaces_id is None:
            _renew(line, more_of(line), moment)
            continue
        item = live_items(line.job, moment).get(line.material_id)
        if item is None or item.statement.quantity is None:
            raise Refused(f"{line.what} of {line.job} is no longer needed: remove it from this order.")
        renew_pieces(line, item.statement)
        save_if_changed(line, {"need_by": item.need.need_by})
    save_if_changed(order, {"version": order.version + 1})
    return order


@transaction.atomic
def throw_away(order: Order, *, reason: str, by: str, now: datetime) -> Order:
    """A draft that is not wanted any more; its items are free again. It is kept, called off, with the reason."""
    order = held_draft(order.pk, None)
    why = clean_text(reason, "The reason", MAX_NOTE) or "Not needed after all."
    line = order.lines.select_related("job").first()
    if line is not None:
        name = f"Order {order.number} to {order.supplier.name}"
        keep_deleted(line.job, DeletedKind.ORDER, order.number, name, {}, Deletion(by, now))
    save_if_changed(
        order,
        {
            "state": OrderState.CALLED_OFF,
            "called_off_at": now,
            "called_off_by_name": by,
            "called_off_reason": why,
            "version": order.version + 1,
        },
    )
    return order
