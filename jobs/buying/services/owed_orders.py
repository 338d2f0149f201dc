"""Orders suppliers still owe something of, each with what is to be done about it; and those that are complete."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet

from catalog.core.ground.workdays import WorkCalendar
from jobs.buying.services.expediting_facts import ToAsk, to_ask
from jobs.buying.services.listed_orders import ListedOrder, listed_orders
from jobs.core.ordering.chasing import OrderFacts
from jobs.core.ordering.order_acts import OrderAct, order_acts, state_words
from jobs.core.ordering.order_lines import count_in_words
from jobs.dates.services.item_schedule import OpenJobItems
from jobs.orders.models import Order, OrderState


@dataclass(frozen=True)
class OwedOrder:
    """acts: what is to be done, the first first; none of what is complete. states: how it stands, in words. goods: in a
    few words."""

    listed: ListedOrder
    acts: tuple[OrderAct, ...]
    states: tuple[str, ...]
    goods: str

    @property
    def order(self) -> Order:
        return self.listed.order

    @property
    def act(self) -> OrderAct | None:
        return self.acts[0] if self.acts else None


def open_orders(rows: QuerySet[Order], asking: ToAsk) -> QuerySet[Order]:
    """Placed, and with something still to come, to claim, to order again or to be credited."""
    return rows.filter(pk__in=asking.facts)


def complete_orders(rows: QuerySet[Order], asking: ToAsk) -> QuerySet[Order]:
    """Placed or called off, and nothing more is to be done about them; the last placed first."""
    return rows.exclude(placed_on=None).exclude(pk__in=asking.facts).order_by("-placed_at", "-pk")


def owed_orders(rows: Iterable[Order], read: OpenJobItems, asking: ToAsk) -> list[OwedOrder]:
    """By the day of the next act. In a number of queries that does not grow with the orders."""
    orders = [_owed(order, asking, read.desk.today, read.desk.calendar) for order in listed_orders(rows, read)]
    return sorted(orders, key=_rank)


def facts_of_order(order: Order, today: date, firm: WorkCalendar) -> OrderFacts | None:
    """What is known of one order; None of a draft, and of one that is complete or cannot be counted."""
    if order.state != OrderState.PLACED:
        return None
    return to_ask(today, firm, order.pk).facts.get(order.pk)


def _owed(listed: ListedOrder, asking: ToAsk, today: date, firm: WorkCalendar) -> OwedOrder:
    facts = asking.facts.get(listed.order.pk)
    if facts is None:
        return OwedOrder(listed, (), (), goods_words(listed.order))
    states = state_words(facts, here=listed.here, lines=listed.lines, late_workdays=listed.late_workdays)
    return OwedOrder(listed, order_acts(facts, today, firm), states, goods_words(listed.order))


def _rank(order: OwedOrder) -> tuple[bool, int, str]:
    in_hand = order.act.in_hand if order.act else None
    return in_hand is None, in_hand or 0, order.order.number


def goods_words(order: Order) -> str:
    """The first line, and how many more; a name up to its first comma says what it is."""
    lines = list(order.lines.all())
    if not lines:
        return "nothing"
    name = lines[0].what.partition(",")[0].partition(" (")[0]
    more = len(lines) - 1
    if more:
        return f"{name} and {more} more"
    return f"{name}, {count_in_words(lines[0].quantity, lines[0].unit)}"
