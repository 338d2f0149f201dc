"""Orders to suppliers: what is to be ordered, orders being put together, placed and sent. The desk's."""

from dataclasses import asdict

from django.http import Http404
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.reasons import Reason
from catalog.models import Supplier
from catalog.services.book import book_of
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import job_of
from jobs.orders.api.shapes import orders as shapes
from jobs.orders.api.shapes.requests import NewOrder, NewRelease, OrderChange, Placing
from jobs.orders.models import Order, OrderState
from jobs.orders.services.drafting import (
    bring_up_to_date,
    change_draft,
    draft_order,
    order_more,
    take_off_line,
    throw_away,
)
from jobs.orders.services.items import items_of, on_orders
from jobs.orders.services.other_supplier import put_to
from jobs.orders.services.placing import place_order, standing_of_order
from jobs.orders.services.releasing import end_release, release_item, standing_of_item
from jobs.orders.services.ways import ways_of
from jobs.work_up.services.job_work_up import work_of
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, WorkingView, document_of, tagged, version_seen
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import moment_at_the_firm


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
        now, asked = clock.now(), read(NewOrder, Reader(document_of(request)))
        supplier = _supplier(asked.supplier)
        is_new = not Order.objects.filter(request_key=asked.request_key).exists()
        jobs = dict(Job.objects.filter(key__in=[item.job for item in asked.items]).values_list("key", "pk"))
        for item in asked.items:
            if item.job not in jobs:
                raise DocumentError.at("items", f'"{item.job}" is not a job')
        chosen = [(jobs[item.job], item.material) for item in asked.items]
        more = {key: item.more for key, item in zip(chosen, asked.items, strict=True) if item.more}
        names = {"request_key": asked.request_key, "by": request.user.full_name, "now": now}
        order = draft_order(supplier, chosen, moment=moment_at_the_firm(now), more=more, **names)
        return answer(order, 201 if is_new else 200)


def _supplier(code: str) -> Supplier:
    supplier = Supplier.objects.filter(code=code).first()
    if supplier is None:
        raise DocumentError.at("supplier", f'"{code}" is not a supplier in the catalog')
    return supplier


class OneOrder(ApiView):
    @describe("read_order", "One order with its lines, what holds it, and its mails.", gives="Order", tagged=True)
    def get(self, request: Request, number: str) -> Response:
        return answer(order_named(number))

    @describe(
        "change_order",
        "Change a draft order: its note, rushed lines, where it goes, more than a job needs, a line removed, or all "
        "lines updated.",
        takes="OrderChange",
        gives="Order",
        tagged=True,
        guarded="the order",
    )
    def patch(self, request: Request, number: str) -> Response:
        order, seen = order_named(number), version_seen(request)
        asked, moment = read(OrderChange, Reader(document_of(request))), moment_at_the_firm(clock.now())
        supplier = _supplier(asked.supplier) if asked.supplier else None
        if asked.note is not None or asked.rush is not None or asked.pieces or asked.deliver_to:
            rushed = [line.place for line in order.lines.all() if line.rush] if asked.rush is None else asked.rush
            order = change_draft(
                order,
                seen_version=seen,
                note=order.note if asked.note is None else asked.note,
                rush=rushed,
                deliver_to=asked.deliver_to,
                pieces={line.place: line.counts for line in asked.pieces},
            )
            seen = order.version
        for line in asked.more:
            order = order_more(order, line.place, line.more, seen_version=seen, moment=moment)
            seen = order.version
        if supplier is not None:
            order = put_to(order, supplier, seen_version=seen, moment=moment)
            seen = order.version
        if asked.take_off is not None:
            order = take_off_line(order, asked.take_off, seen_version=seen)
            seen = order.version
        if asked.up_to_date:
            bring_up_to_date(order, seen_version=seen, moment=moment)
        return answer(order_named(number))

    @describe("throw_order_away", "Delete an order that is not placed; its items are free again.", gives="Order")
    def delete(self, request: Request, number: str) -> Response:
        throw_away(order_named(number), reason="", by=request.user.full_name, now=clock.now())
        return answer(order_named(number))


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
        asked = read(Placing, Reader(document_of(request)))
        names = {"by": request.user.full_name, "now": now, "moment": moment_at_the_firm(now)}
        order = place_order(order, seen_version=seen, **asdict(asked), **names)
        return answer(order)


class OrderItems(WorkingView):
    @describe(
        "read_order_items",
        "What of a job must be ordered: what an order states, what holds it, when to order, what helps.",
        gives="OrderItems",
        works=True,
    )
    def get(self, request: Request, key: str) -> Response:
        moment = moment_at_the_firm(clock.now())
        work = work_of(job_of(key), book_of(), moment.date(), moment.time())
        ways = {entry.item.need.material: entry for entry in ways_of(work, moment)}
        items = [item for item in items_of(work).values() if item.need.is_long_lead]
        parts = {key: so_far.balance for key, so_far in on_orders(items).items()}
        shown = [
            shapes.ItemRead(standing_of_item(item, moment), parts.get(item.key), ways.get(item.need.material))
            for item in items
        ]
        return Response(write(shapes.OrderItems(shown, work.trouble)))


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
        now, asked = clock.now(), read(NewRelease, Reader(document_of(request)))
        moment = moment_at_the_firm(now)
        names = {"by": request.user.full_name, "now": now}
        release_item(job_of(key), material, seen_mark=asked.mark, reason=asked.reason, moment=moment, **names)
        return Response(_item(key, material))

    @describe("end_release", "Undo a release.", takes="Reason", gives="OrderItem", works=True)
    def delete(self, request: Request, key: str, material: str) -> Response:
        asked = read(Reason, Reader(document_of(request)))
        end_release(job_of(key), material, reason=asked.reason, by=request.user.full_name, now=clock.now())
        return Response(_item(key, material))


def _item(key: str, material: str) -> Document:
    moment = moment_at_the_firm(clock.now())
    item = items_of(work_of(job_of(key), book_of(), moment.date(), moment.time())).get(material)
    if item is None:
        raise Http404
    so_far = on_orders([item]).get(item.key)
    shown = shapes.ItemRead(standing_of_item(item, moment), so_far.balance if so_far else None)
    return write(shown, shapes.OrderItem)


def order_named(number: str) -> Order:
    return Order.objects.select_related("supplier").get(number=number)


def answer(order: Order, status: int = 200) -> Response:
    is_draft = order.state == OrderState.DRAFT
    standing = standing_of_order(order, moment_at_the_firm(clock.now())) if is_draft else None
    return tagged(Response(write(shapes.OrderRead(order, standing), shapes.Order), status=status), order.version)
