"""What every step after an order was placed stands on: the order held, its lines by place, the days it may name."""

from datetime import date

from catalog.core.ground.day_words import day_words
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import Refused
from jobs.orders.models import Order, OrderLine
from quoting.platform.people.signatures import Signature

MAX_NAME_LENGTH = 200
MAX_QUANTITY = "1000000"


def order_of(number: str) -> Order:
    return Order.objects.select_related("supplier").get(number=number)


def held_order(order_id: int) -> Order:
    """A placed order, held to the end of the transaction: of two who enter something of it the second waits."""
    order = Order.objects.select_for_update(of=("self",)).select_related("supplier").get(pk=order_id)
    if order.placed_on is None:
        raise Refused(f"{order} is not placed yet: place it first, then say what became of it.")
    return order


def line_at(order: Order, place: int) -> OrderLine:
    return order.lines.select_related("job", "material", "order__supplier").get(place=place)


def lines_by_place(order: Order) -> dict[int, OrderLine]:
    rows = order.lines.select_related("job", "material").prefetch_related("receipts__pieces")
    return {row.place: row for row in rows}


def line_named(reader: Reader, lines: dict[int, OrderLine], order: Order) -> OrderLine:
    place = reader.whole("place", 0, 5_000)
    if place not in lines:
        known = ", ".join(str(place) for place in lines) or "none"
        raise reader.error("place", f"{place} is no line of {order}; its lines are {known}")
    return lines[place]


def past_day(reader: Reader, name: str, signature: Signature, *, not_before: date | None = None, why: str = "") -> date:
    """A day that has come, today where none is said."""
    day = reader.optional_day(name) or signature.on
    if day > signature.on:
        raise reader.error(name, f"{day_words(day)} has not come yet; today is {day_words(signature.on)}")
    if not_before is not None and day < not_before:
        raise reader.error(name, f"{day_words(day)} lies before {day_words(not_before)}, {why}")
    return day
