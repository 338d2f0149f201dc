"""What is known of placed orders, from their rows, for the list of what to ask suppliers next."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from django.db.models import Max, Min

from catalog.core.ground.workdays import CalendarError, WorkCalendar
from jobs.core.ordering.chasing import Chase, ClaimFacts, OrderFacts, chase_list
from jobs.core.ordering.deviations import Deviation
from jobs.core.ordering.order_lines import count_in_words
from jobs.deliveries.models import Confirmation, ReceiptLine, ReturnedGoods
from jobs.deliveries.services.claims import claim_count, needs_claim, to_claim
from jobs.deliveries.services.deviations import Otherwise, otherwise
from jobs.deliveries.services.due_deliveries import DueOrder, due_in_short
from jobs.deliveries.services.returns import uncredited_returns
from jobs.orders.models import Order, OrderLine, Promise


@dataclass(frozen=True)
class ToAsk:
    """chases: the one due longest first. bad: orders whose days nobody can count, in sentences. facts: of each order
    with anything still to come or to settle, by its id."""

    chases: tuple[Chase, ...]
    bad: tuple[str, ...]
    facts: Mapping[int, OrderFacts] = field(default_factory=dict)

    @property
    def beside_late(self) -> tuple[Chase, ...]:
        """For lists that name what is on order and too late anyway."""
        return tuple(one for one in self.chases if one.kind != "promised_late")


def to_ask(today: date, firm: WorkCalendar, order_id: int | None = None) -> ToAsk:
    """Of one order, or of all in a number of queries that does not grow. One in disorder silences no other."""
    found = otherwise(today, None if order_id is None else OrderLine.objects.filter(order=order_id))
    facts, bad = dict[int, OrderFacts](), list(found.bad)
    for known in _known(found, order_id):
        try:
            one = known()
            chase_list([one], today, firm)
        except (ValueError, CalendarError) as problem:
            bad.append(f"{problem}; correct the order's days.")
        else:
            facts[known.order.pk] = one
    return ToAsk(chase_list(facts.values(), today, firm), tuple(bad), facts)


@dataclass(frozen=True)
class _Known:
    """Made into facts one by one, so that one that cannot be stops no other."""

    order: Order
    due: DueOrder | None
    confirmed_on: date | None
    last_word_on: date | None
    claims: tuple[ClaimFacts, ...]
    deviations: tuple[Deviation, ...] = ()
    claimed: tuple[ClaimFacts, ...] = ()
    uncredited: tuple[tuple[str, str], ...] = ()

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
            claimed=self.claimed,
            uncredited=self.uncredited,
        )


def _known(otherwise_ones: Otherwise, order_id: int | None) -> Iterable[_Known]:
    due = {one.order.pk: one for one in due_in_short(order_id)}
    orders = {pk: one.order for pk, one in due.items()}
    claims: dict[int, list[ReceiptLine]] = defaultdict(list)
    for row in filter(needs_claim, to_claim(order_id)):
        claims[row.delivery.order_id].append(row)
        orders.setdefault(row.delivery.order_id, row.delivery.order)
    back: dict[int, list[ReturnedGoods]] = defaultdict(list)
    for sent in uncredited_returns(order_id):
        back[sent.line.order_id].append(sent)
        orders.setdefault(sent.line.order_id, sent.line.order)
    deviating: dict[int, list[Deviation]] = defaultdict(list)
    for one in otherwise_ones.found:
        orders.setdefault(one.line.order_id, one.line.order)
        deviating[one.line.order_id].append(one.found)
    confirmed = _days(Confirmation.objects.filter(order__in=orders), "order", Min("received_on"))
    heard = _days(Confirmation.objects.filter(order__in=orders), "order", Max("received_on"))
    told = _days(Promise.objects.filter(line__order__in=orders), "line__order", Max("told_on"))
    for pk, order in orders.items():
        words = [day for day in (heard.get(pk), told.get(pk)) if day]
        yield _Known(
            order,
            due.get(pk),
            confirmed.get(pk),
            max(words, default=None),
            tuple(_claim(row) for row in claims[pk] if row.claimed_on is None),
            tuple(deviating[pk]),
            tuple(_claim(row) for row in claims[pk] if row.claimed_on is not None),
            tuple((str(sent.pk), count_in_words(sent.quantity, sent.line.unit)) for sent in back[pk]),
        )


def _days(rows: object, of: str, day: Min | Max) -> dict[int, date]:
    return dict(rows.order_by().values_list(of).annotate(day=day))  # type: ignore[attr-defined]


def _claim(row: ReceiptLine) -> ClaimFacts:
    amounts = ((row.damaged, "damaged"), (row.wrong, "wrong"))
    what = ", ".join(f"{amount.normalize():f} {how}" for amount, how in amounts if amount) or "too much"
    words = f"{row.line.what}, {what}"
    return ClaimFacts(str(row.pk), words, row.delivery.received_on, row.claim_by, claim_count(row))
