"""What is known of placed orders, from all their rows, in a number of queries that does not grow with them."""

from collections import defaultdict
from collections.abc import Collection, Iterator
from datetime import date

from django.db.models import Max, Min

from catalog.core.ground.workdays import CalendarError
from catalog.services.book import firm_of
from jobs.core.ordering.chasing import ClaimFacts
from jobs.core.ordering.deviations import LineFacts, standing_deviations
from jobs.core.ordering.order_lines import count_in_words
from jobs.core.results.known_orders import KnownLine, KnownOrder, without_days
from jobs.deliveries.models import Confirmation, ReceiptLine, ReturnedGoods
from jobs.deliveries.services.claims import claim_count, needs_claim, to_claim
from jobs.deliveries.services.due_deliveries import DueOrder, due_in_short
from jobs.deliveries.services.line_facts import facts_of, lines_to_look_at
from jobs.deliveries.services.returns import uncredited_returns
from jobs.orders.models import Order, OrderLine, OrderState, Promise
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm


def known_orders(order_ids: Collection[int]) -> dict[int, KnownOrder]:
    """Of those of them that are placed and not all done with. Raises NoFirmYet."""
    rows = Order.objects.filter(pk__in=order_ids, state=OrderState.PLACED).select_related("supplier")
    orders = {row.pk: row for row in rows.order_by("number")}
    if not orders:
        return {}
    due = {order.order.pk: order for order in due_in_short(orders)}
    claims, back, lines = _claims(orders), _back(orders), _lines(orders)
    days = _Days(orders)
    result = {
        pk: _known(order, due.get(pk), claims[pk], back[pk], tuple(lines[pk]), days) for pk, order in orders.items()
    }
    return {pk: order for pk, order in result.items() if order.is_open}


def _known(
    order: Order,
    due: DueOrder | None,
    claims: list[ReceiptLine],
    back: list[ReturnedGoods],
    lines: tuple[KnownLine, ...],
    days: "_Days",
) -> KnownOrder:
    expected = [line for line in due.lines if line.expected_on] if due else []
    first = min(expected, key=lambda line: line.expected_on, default=None)
    assert order.placed_on is not None, "placed orders have their day"
    return KnownOrder(
        key=order.number,
        supplier=order.supplier.name,
        placed_on=order.placed_on,
        confirmed_on=days.confirmed.get(order.pk),
        promised_on=first.expected_on if first else None,
        is_promised=bool(first and first.line.promised_on),
        last_word_on=max((day for day in (days.heard.get(order.pk), days.told.get(order.pk)) if day), default=None),
        is_complete=due is None,
        claims=tuple(_claim(row) for row in claims if row.claimed_on is None),
        claimed=tuple(_claim(row) for row in claims if row.claimed_on is not None),
        uncredited=tuple((str(sent.pk), count_in_words(sent.quantity, sent.line.unit)) for sent in back),
        lines=lines,
    )


class _Days:
    """Of orders: when they were confirmed first, when the supplier was heard last, when it last gave a day."""

    def __init__(self, order_ids: Collection[int]) -> None:
        text = Confirmation.objects.filter(order__in=order_ids)
        self.confirmed = _days(text, "order", Min("received_on"))
        self.heard = _days(text, "order", Max("received_on"))
        self.told = _days(Promise.objects.filter(line__order__in=order_ids), "line__order", Max("told_on"))


def _days(rows: object, of: str, day: Min | Max) -> dict[int, date]:
    return dict(rows.order_by().values_list(of).annotate(day=day))  # type: ignore[attr-defined]


def _claims(order_ids: Collection[int]) -> defaultdict[int, list[ReceiptLine]]:
    claims: defaultdict[int, list[ReceiptLine]] = defaultdict(list)
    for row in filter(needs_claim, to_claim(order_ids)):
        claims[row.delivery.order_id].append(row)
    return claims


def _claim(row: ReceiptLine) -> ClaimFacts:
    amounts = ((row.damaged, "damaged"), (row.wrong, "wrong"))
    what = ", ".join(f"{amount.normalize():f} {how}" for amount, how in amounts if amount) or "too much"
    words = f"{row.line.what}, {what}"
    return ClaimFacts(str(row.pk), words, row.delivery.received_on, row.claim_by, claim_count(row))


def _back(order_ids: Collection[int]) -> defaultdict[int, list[ReturnedGoods]]:
    result: defaultdict[int, list[ReturnedGoods]] = defaultdict(list)
    for sent in uncredited_returns(order_ids):
        result[sent.line.order_id].append(sent)
    return result


def _lines(order_ids: Collection[int]) -> defaultdict[int, list[KnownLine]]:
    lines: defaultdict[int, list[KnownLine]] = defaultdict(list)
    for line, facts in _facts(order_ids):
        lines[line.order_id].append(KnownLine(line.job_id, line.material_id, without_days(facts)))
    return lines


def _facts(order_ids: Collection[int]) -> Iterator[tuple[OrderLine, LineFacts]]:
    """Of lines of which anything may be told; those whose days nobody can count are told of as well."""
    rows = list(lines_to_look_at(OrderLine.objects.filter(order__in=order_ids)))
    if not rows:
        return
    firm = firm_of()
    for line, facts in facts_of(rows, day_at_the_firm(clock.now())):
        try:
            tells = bool(standing_deviations(facts, firm.calendar, firm.display_units))
        except CalendarError:
            tells = True
        if tells:
            yield line, facts
