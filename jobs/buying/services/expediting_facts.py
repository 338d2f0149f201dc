"""What is known of placed orders, from their rows, for the list of what to ask suppliers next."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import Max, Min

from catalog.core.ground.workdays import CalendarError, WorkCalendar
from jobs.core.ordering.chasing import Chase, ClaimFacts, OrderFacts, chase_list
from jobs.core.ordering.deviations import Deviation
from jobs.deliveries.models import Confirmation, ReceiptLine
from jobs.deliveries.services.claims import needs_claim, to_claim
from jobs.deliveries.services.deviations import Otherwise, otherwise
from jobs.deliveries.services.due_deliveries import DueOrder, due_orders
from jobs.orders.models import Order, Promise


@dataclass(frozen=True)
class ToAsk:
    """chases: the one due longest first. bad: orders whose days nobody can count, in sentences."""

    chases: tuple[Chase, ...]
    bad: tuple[str, ...]

    @property
    def beside_late(self) -> tuple[Chase, ...]:
        """For lists that name what is on order and too late anyway."""
        return tuple(one for one in self.chases if one.kind != "promised_late")


def to_ask(today: date, firm: WorkCalendar) -> ToAsk:
    """In a number of queries that does not grow with the orders. An order in disorder silences no other."""
    found = otherwise(today)
    facts, bad = [], list(found.bad)
    for known in _known(found):
        try:
            one = known()
            chase_list([one], today, firm)
        except (ValueError, CalendarError) as problem:
            bad.append(f"{problem}; correct the order's days.")
        else:
            facts.append(one)
    return ToAsk(chase_list(facts, today, firm), tuple(bad))


@dataclass(frozen=True)
class _Known:
    """Made into facts one by one, so that one that cannot be stops no other."""

    order: Order
    due: DueOrder | None
    confirmed_on: date | None
    last_word_on: date | None
    claims: tuple[ClaimFacts, ...]
    deviations: tuple[Deviation, ...] = ()

    def __call__(self) -> OrderFacts:
        lines = self.due.lines if self.due else ()
        first = min((one for one in lines if one.expected_on), key=lambda one: one.expected_on, default=None)
        assert self.order.placed_on is not None, "placed orders have their day"
        return OrderFacts(
            key=self.order.number,
            supplier=self.order.supplier.name,
            placed_on=self.order.placed_on,
            confirmed_on=self.confirmed_on,
            promised_on=first.expected_on if first else None,
            is_promised=bool(first and first.line.promised_on),
            last_word_on=self.last_word_on,
            is_complete=self.due is None,
            claims=self.claims,
            deviations=self.deviations,
        )


def _known(otherwise_ones: Otherwise) -> Iterable[_Known]:
    due = {one.order.pk: one for one in due_orders()}
    claims: dict[int, list[ReceiptLine]] = {}
    for row in to_claim().filter(claimed_on=None):
        if needs_claim(row):
            claims.setdefault(row.delivery.order_id, []).append(row)
    orders = {pk: one.order for pk, one in due.items()}
    orders |= {pk: rows[0].delivery.order for pk, rows in claims.items() if pk not in orders}
    deviating: dict[int, list[Deviation]] = {}
    for one in otherwise_ones.found:
        orders.setdefault(one.line.order_id, one.line.order)
        deviating.setdefault(one.line.order_id, []).append(one.found)
    confirmed = _days(Confirmation.objects.filter(order__in=orders), "order", Min("received_on"))
    heard = _days(Confirmation.objects.filter(order__in=orders), "order", Max("received_on"))
    told = _days(Promise.objects.filter(line__order__in=orders), "line__order", Max("told_on"))
    for pk, order in orders.items():
        words = [day for day in (heard.get(pk), told.get(pk)) if day]
        facts = tuple(_claim(row) for row in claims.get(pk, ()))
        told_so = tuple(deviating.get(pk, ()))
        yield _Known(order, due.get(pk), confirmed.get(pk), max(words, default=None), facts, told_so)


def _days(rows: object, of: str, day: Min | Max) -> dict[int, date]:
    return dict(rows.order_by().values_list(of).annotate(day=day))  # type: ignore[attr-defined]


def _claim(row: ReceiptLine) -> ClaimFacts:
    amounts = ((row.damaged, "damaged"), (row.wrong, "wrong"))
    what = ", ".join(f"{amount.normalize():f} {how}" for amount, how in amounts if amount) or "too much"
    return ClaimFacts(str(row.pk), f"{row.line.what}, {what}", row.delivery.received_on, row.claim_by)
