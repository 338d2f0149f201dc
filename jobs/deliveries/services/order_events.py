"""What every step after an order was placed stands on: the order held, its lines by place, the days it may name."""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from typing import TypeVar

from catalog.core.ground.day_words import day_words
from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.ground.refusal import EntryError, Refused
from jobs.orders.models import Order, OrderLine
from quoting.platform.people.signatures import Signature

Entry = TypeVar("Entry")
Judged = TypeVar("Judged")
MAX_NAME_LENGTH = 200
MAX_QUANTITY = "1000000"


def order_of(number: str) -> Order:
    return Order.objects.select_related("supplier").get(number=number)


def held_order(order_id: int) -> Order:
    """A placed order, held to the end of the transaction: of two who enter something of it the second waits."""
    order = Order.objects.select_for_update(of=("self",)).select_related("supplier").get(pk=order_id)
    if order.placed_on is None:
        raise Refused(f"{order} is not placed yet: place it first.")
    return order


def line_at(order: Order, place: int) -> OrderLine:
    return order.lines.select_related("job", "material", "order__supplier").get(place=place)


def lines_by_place(order: Order) -> dict[int, OrderLine]:
    rows = order.lines.select_related("job", "material").prefetch_related("receipts__pieces")
    return {row.place: row for row in rows}


def line_named(place: int, lines: dict[int, OrderLine], order: Order) -> OrderLine:
    if place not in lines:
        known = ", ".join(str(place) for place in lines) or "none"
        raise EntryError("place", f"{place} is not a line of {order}; its lines are {known}")
    return lines[place]


def refuse_nothing_or_twice(places: Sequence[int], what: str, what_of_it: str) -> None:
    if not places:
        raise EntryError("lines", f"say of at least one line {what}")
    twice = [place for place, count in Counter(places).items() if count > 1]
    if twice:
        raise EntryError("lines", f"line {twice[0]} is named twice; say once {what_of_it}")


def judged_lines(entries: Iterable[Entry], judge: Callable[[Entry], Judged]) -> list[Judged]:
    """What each line of an entry comes to; complaints of all lines come together."""
    lines, problems = [], []
    for index, entry in enumerate(entries):
        try:
            lines.append(judge(entry))
        except EntryError as error:
            problems.append(DocumentProblem(f"lines[{index}].{error.field}", error.reason))
    if problems:
        raise DocumentError(problems)
    return lines


def day_of(order: Order, day: date | None, path: str, signature: Signature) -> date:
    """A day on which something became of an order, not before it was placed; today where none is said."""
    return day_come(day, path, signature, not_before=order.placed_on, why="the day it was ordered")


def day_come(
    day: date | None, path: str, signature: Signature, *, not_before: date | None = None, why: str = ""
) -> date:
    """A day that has come, today where none is said."""
    day = day or signature.on
    if day > signature.on:
        raise DocumentError.at(path, f"{day_words(day)} has not come yet; today is {day_words(signature.on)}")
    if not_before is not None and day < not_before:
        raise DocumentError.at(path, f"{day_words(day)} is before {day_words(not_before)}, {why}")
    return day
