"""Orders to suppliers: what is to be ordered, orders being put together, placed and sent. The desk's."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django.http import Http404
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.document_reader import Reader
from catalog.core.ground.plain_text import money, plain
from catalog.models import Supplier
from catalog.services.book import book_of
from jobs.core.ordering.open_quantity import LeftToOrder
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import job_of
from jobs.orders.models import Order, OrderLine
from jobs.orders.models.orders import MAX_QUANTITY
from jobs.orders.services.drafting import (
    More,
    bring_up_to_date,
    change_draft,
    draft_order,
    order_more,
    take_off_line,
    throw_away,
)
from jobs.orders.services.items import items_of, on_orders
from jobs.orders.services.mailing import mails_of
from jobs.orders.services.other_supplier import put_to
from jobs.orders.services.placing import place_order, standing_of_order
from jobs.orders.services.releasing import ItemStanding, end_release, release_item, standing_of_item
from jobs.orders.services.replaced_pieces import kinds_chosen, to_choose_from
from jobs.orders.services.ways import ItemWays, ways_of
from jobs.work_up.services.job_work_up import work_of
from quoting.platform import clock
from quoting.platform.api.base import (
    ApiView,
    Document,
    WorkingView,
    day,
    document_of,
    tagged,
    version_seen,
)
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import moment_at_the_firm

HOW = ("mail", "other")


class NewOrders(WorkingView):
    """The list of orders, which says more than is known here, is put before it in `jobs/buying`."""

    @describe(
        "draft_order",
        "Put an order together of items of jobs. Nothing is ordered by it. The same `request_key` makes one order.",
        takes="NewOrder",
        gives="Order",
        status=201,
        again=True,
        tagged=True,
    )
    def post(self, request: Request) -> Response:
        now, reader = clock.now(), Reader(document_of(request))
        key, code = reader.text("request_key", longest=100), reader.text("supplier")
        entries = reader.items("items", _item_named, 200)
        named = [(job, material) for job, material, _ in entries]
        reader.finish()
        supplier = Supplier.objects.filter(code=code).first()
        if supplier is None:
            raise reader.error("supplier", f'"{code}" is no supplier of the catalog')
        is_new = not Order.objects.filter(request_key=key).exists()
        jobs = dict(Job.objects.filter(key__in=[job for job, _ in named]).values_list("key", "pk"))
        for job, _ in named:
            if job not in jobs:
                raise reader.error("items", f'"{job}" is no job')
        chosen = [(jobs[job], material) for job, material in named]
        more = {(jobs[job], material): beyond for job, material, beyond in entries if beyond is not None}
        names = {"request_key": key, "by": request.user.full_name, "now": now}
        order = draft_order(supplier, chosen, moment=moment_at_the_firm(now), more=more, **names)
        return answer(order, 201 if is_new else 200)


def _item_named(reader: Reader) -> tuple[str, str, More | None]:
    return reader.text("job"), reader.text("material"), _more(reader)


def _more(reader: Reader) -> More | None:
    extra, reason = reader.optional_decimal("extra", "0", str(MAX_QUANTITY)), reader.text("reason", "", longest=2000)
    return More(extra, reason) if extra else None


def _more_of_line(reader: Reader) -> tuple[int, More | None]:
    return reader.whole("place", 0, 5000), _more(reader)


class OneOrder(ApiView):
    @describe("read_order", "One order with its lines, what holds it, and its mails.", gives="Order", tagged=True)
    def get(self, request: Request, number: str) -> Response:
        return answer(order_named(number))

    @describe(
        "change_order",
        "Change an order being put together: its note, the lines to be rushed, where it goes, more than a job wants, a "
        "line taken off, or every line brought up to date with its item.",
        takes="OrderChange",
        gives="Order",
        tagged=True,
        guarded="the order",
    )
    def patch(self, request: Request, number: str) -> Response:
        order, seen = order_named(number), version_seen(request)
        reader = Reader(document_of(request))
        note, take_off = reader.optional_text("note"), reader.optional_whole("take_off", 0, 5000)
        where = reader.optional_text("deliver_to") or ""
        renew = reader.flag("up_to_date", False)
        rush = tuple(_places(reader)) if reader.has("rush") else None
        pieces = dict(reader.items("pieces", _pieces, most=200))
        more = reader.items("more", _more_of_line, most=200)
        to = reader.optional_text("supplier")
        supplier = Supplier.objects.filter(code=to).first()
        if to is not None and supplier is None:
            raise reader.error("supplier", f'"{to}" is no supplier of the catalog')
        reader.finish()
        if note is not None or rush is not None or pieces or where:
            now_rushed = [line.place for line in order.lines.all() if line.rush]
            new_note = order.note if note is None else note
            rushed = now_rushed if rush is None else rush
            order = change_draft(order, seen_version=seen, note=new_note, rush=rushed, deliver_to=where, pieces=pieces)
            seen = order.version
        for place, beyond in more:
            order = order_more(order, place, beyond, seen_version=seen, moment=moment_at_the_firm(clock.now()))
            seen = order.version
        if supplier is not None:
            order = put_to(order, supplier, seen_version=seen, moment=moment_at_the_firm(clock.now()))
            seen = order.version
        if take_off is not None:
            order = take_off_line(order, take_off, seen_version=seen)
            seen = order.version
        if renew:
            order = bring_up_to_date(order, seen_version=seen, moment=moment_at_the_firm(clock.now()))
        return answer(order_named(number))

    @describe("throw_order_away", "Throw an order away that is not placed; its items are free again.", gives="Order")
    def delete(self, request: Request, number: str) -> Response:
        throw_away(order_named(number), reason="", by=request.user.full_name, now=clock.now())
        return answer(order_named(number))


def _pieces(reader: Reader) -> tuple[int, list[int]]:
    place, counts = reader.whole("place", 0, 5000), list(reader.values("counts", 200))
    for index, value in enumerate(counts):
        if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= 1_000_000:
            raise reader.error(f"counts[{index}]", "must be how many of that kind, a whole number from 0 to 1000000")
    return place, counts


def _choices(line: OrderLine) -> list[Document]:
    """What the pieces of a replacement are chosen from, with how many of each it orders."""
    whole = to_choose_from(line)
    return [
        {
            "wall": kind.wall,
            "run": kind.run,
            "pack": kind.label,
            "length_mm": kind.length_mm,
            "radii_mm": [radius.radius_mm for radius in kind.radii],
            "most": kind.count,
            "chosen": chosen,
        }
        for kind, chosen in (kinds_chosen(line, whole) if whole else ())
    ]


def _places(reader: Reader) -> list[int]:
    places = []
    for index, value in enumerate(reader.values("rush", 200)):
        if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= 5000:
            raise reader.error(f"rush[{index}]", "must be the place of a line, a whole number from 0 to 5000")
        places.append(value)
    return places


class PlaceOrder(ApiView):
    @describe(
        "place_order",
        "Place an order: by mail from here with its sheet, or otherwise. The same `request_key` places it once.",
        takes="Placing",
        gives="Order",
        tagged=True,
        guarded="the order",
    )
    def post(self, request: Request, number: str) -> Response:
        order, seen, now = order_named(number), version_seen(request), clock.now()
        reader = Reader(document_of(request))
        way = reader.choice("way", HOW)
        key = reader.text("request_key", longest=100)
        address, message = reader.text("to_address", "", longest=254), reader.text("message", "", longest=5000)
        reason = reader.text("unsigned_reason", "", longest=2000)
        reader.finish()
        order = place_order(
            order,
            way=way,
            seen_version=seen,
            to_address=address,
            message=message,
            unsigned_reason=reason,
            request_key=key,
            by=request.user.full_name,
            now=now,
            moment=moment_at_the_firm(now),
        )
        return answer(order)


class OrderItems(WorkingView):
    @describe(
        "read_order_items",
        "What of a job cannot be had from the shelf: what an order states, what holds it, when to order, what helps.",
        gives="OrderItems",
        works=True,
    )
    def get(self, request: Request, key: str) -> Response:
        moment = moment_at_the_firm(clock.now())
        work = work_of(job_of(key), book_of(), moment.date(), moment.time())
        ways = {entry.item.need.material: entry for entry in ways_of(work, moment)}
        items = [item for item in items_of(work).values() if item.need.is_long_lead]
        parts = {key: so_far.balance for key, so_far in on_orders(items).items()}
        return Response(
            {
                "items": [
                    {
                        **of_item(standing_of_item(item, moment), parts.get(item.key)),
                        **of_ways(ways.get(item.need.material)),
                    }
                    for item in items
                ],
                "trouble": work.trouble,
            }
        )


class ReleaseItem(WorkingView):
    @describe(
        "release_item",
        "Release an item to order under your name, as it is stated by `mark`. With a reason past holds that may be "
        "set aside.",
        takes="NewRelease",
        gives="OrderItem",
        works=True,
    )
    def post(self, request: Request, key: str, material: str) -> Response:
        now, job, reader = clock.now(), job_of(key), Reader(document_of(request))
        mark, reason = reader.text("mark", longest=64), reader.text("reason", "", longest=2000)
        reader.finish()
        moment = moment_at_the_firm(now)
        names = {"by": request.user.full_name, "now": now}
        release_item(job, material, seen_mark=mark, reason=reason, moment=moment, **names)
        return Response(_item(key, material))

    @describe("end_release", "Take a release back.", takes="Reason", gives="OrderItem", works=True)
    def delete(self, request: Request, key: str, material: str) -> Response:
        reader = Reader(document_of(request))
        reason = reader.text("reason")
        reader.finish()
        end_release(job_of(key), material, reason=reason, by=request.user.full_name, now=clock.now())
        return Response(_item(key, material))


def _item(key: str, material: str) -> Document:
    moment = moment_at_the_firm(clock.now())
    item = items_of(work_of(job_of(key), book_of(), moment.date(), moment.time())).get(material)
    if item is None:
        raise Http404
    so_far = on_orders([item]).get(item.key)
    return of_item(standing_of_item(item, moment), so_far.balance if so_far else None)


def order_named(number: str) -> Order:
    return Order.objects.select_related("supplier").get(number=number)


def answer(order: Order, status: int = 200) -> Response:
    return tagged(Response(of_order(order), status=status), order.version)


def of_head(order: Order) -> Document:
    return {
        "number": order.number,
        "supplier": order.supplier_id,
        "state": order.state,
        "version": order.version,
        "placed_on": day(order.placed_on),
        "counted_from": day(order.counted_from),
        "placed_by": order.placed_by_name,
    }


def of_order(order: Order) -> Document:
    is_draft = order.state == "draft"
    standing = standing_of_order(order, moment_at_the_firm(clock.now())) if is_draft else None
    return {
        **of_head(order),
        "note": order.note,
        "deliver_to": order.deliver_to,
        "freight": money(order.freight),
        "rush_fee": money(order.rush_fee),
        "lines": [
            {
                **of_line(line),
                "mark": line.statement_mark,
                "extra": plain(line.extra),
                "extra_reason": line.extra_reason,
                "rush": line.rush,
                "amount": money(line.amount),
                "need_by": day(line.need_by),
                "order_by": day(line.order_by),
                "quoted_workdays": line.quoted_workdays,
                "quoted_dock_on": day(line.quoted_dock_on),
                "released_by": line.release.released_by_name if line.release else "",
                "replaces": line.replaces.order.number if line.replaces else "",
                "choices": _choices(line) if order.state == "draft" else [],
            }
            for line in order.lines.select_related("job", "release", "replaces__order")
        ],
        "stops": list(standing.stops) if standing else [],
        "unsigned": list(standing.unsigned_names) if standing else [],
        "mails": [
            {
                "to_address": mail.to_address,
                "asked_at": mail.asked_at.isoformat(),
                "sent_at": mail.left_at.isoformat() if mail.left_at else None,
                "went_by": mail.went_by,
                "error": errand.error if errand else "",
            }
            for mail, errand in mails_of(order)
        ],
    }


def of_item(standing: ItemStanding, part: LeftToOrder | None = None) -> Document:
    """part: what is left to order, where orders carry some of it."""
    item, need = standing.item, standing.item.need
    return {
        "job": item.job.key,
        "material": need.material,
        "name": need.name,
        "quantity": _figure(item.statement.quantity),
        "unit": item.statement.unit,
        "left": _figure(item.statement.quantity if part is None else part.left),
        "so_far": "" if part is None else part.sentence or part.so_far,
        "amount": money(item.amount),
        "need_by": day(need.need_by),
        "order_by": day(need.dates.order_by) if need.dates else None,
        "mark": item.statement.mark,
        "missing": list(item.statement.missing_sentences),
        "holds": [
            {"key": hold.key, "sentence": hold.sentence, "next": hold.step, "may_override": hold.may_override}
            for hold in standing.holds
        ],
        "needs_release": standing.needs_release,
        "released_by": standing.release.released_by_name if standing.release else "",
        "signed": standing.is_signed,
        "asks_reason": standing.asks_reason,
        "ready": standing.is_ready,
    }


def _figure(quantity: Decimal | None) -> str | None:
    return None if quantity is None else format(quantity, "f")


def of_ways(ways: ItemWays | None) -> Mapping[str, Any]:
    """Empty for what is on an order already, or of which no supplier is known."""
    if ways is None:
        return {"choices": [], "best": None, "remedies": []}
    return {
        "choices": [
            {
                "way": choice.way,
                "order_day": day(choice.order_day),
                "usable": day(choice.usable),
                "days_in_hand": choice.days_in_hand,
                "late_workdays": choice.late_workdays,
                "fit": choice.fit,
                "risk": choice.risk,
                "extra": money(choice.extra),
                "remake": money(choice.remake),
                "gaps": list(choice.gaps),
            }
            for choice in ways.choices
        ],
        "best": ways.best.way if ways.best else None,
        "remedies": [
            {
                "kind": remedy.kind,
                "sentence": remedy.sentence,
                "usable": day(remedy.usable),
                "late_workdays": remedy.late_workdays,
                "cost": money(remedy.cost),
                "client_agrees": remedy.signed,
                "gaps": list(remedy.gaps),
            }
            for remedy in ways.remedies
        ],
    }


def of_line(line: OrderLine) -> Document:
    return {
        "place": line.place,
        "job": line.job.key,
        "material": line.material_id,
        "what": line.what,
        "quantity": plain(line.quantity),
        "unit": line.unit,
    }
