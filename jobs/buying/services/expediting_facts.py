"""What is known of placed orders on a day, from kept rows, for the list of what to ask suppliers next."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from django.db.models import Q

from catalog.core.ground.plain_values import NotPlain
from catalog.core.ground.workdays import CalendarError, WorkCalendar
from catalog.services.book import firm_of
from catalog.services.changes import catalog_number_once
from catalog.services.suppliers import suppliers_by_code
from jobs.buying.services.known_orders import known_orders
from jobs.core.ordering.chasing import Chase, OrderFacts, chase_list, place_of
from jobs.core.ordering.needs import DatedNeed, counted_on
from jobs.core.results.known_orders import ItemKey, KnownOrder, order_facts
from jobs.needs.models import StoredNeed
from jobs.orders.models import Order, OrderState


@dataclass(frozen=True)
class ToAsk:
    """chases: the one due longest first. bad: orders whose days nobody can count, in sentences. facts: of each order
    with anything still to come or to settle, by its id. short: its items of which some came bad."""

    chases: tuple[Chase, ...]
    bad: tuple[str, ...]
    facts: Mapping[int, OrderFacts] = field(default_factory=dict)
    short: Mapping[int, frozenset[ItemKey]] = field(default_factory=dict)

    @property
    def beside_late(self) -> tuple[Chase, ...]:
        """For lists that name what is on order and too late anyway."""
        return tuple(chase for chase in self.chases if chase.kind != "promised_late")


def to_ask(today: date, firm: WorkCalendar, order_id: int | None = None) -> ToAsk:
    """Of one order, or of all in a number of queries that does not grow. One in disorder silences no other."""
    every = _known(order_id)
    facts, bad, result = dict[int, OrderFacts](), list[str](), list[Chase]()
    needs = _needs_of(every.values(), today)
    system = firm_of().display_units if every else "imperial"
    for pk, known in every.items():
        try:
            fact, untold = order_facts(known, needs, today, firm, system)
            chases = chase_list([fact], today, firm)
        except (ValueError, CalendarError) as problem:
            bad.append(f"{problem}; correct the order's days.")
            continue
        bad += untold
        if not fact.is_complete or fact.claims or fact.claimed or fact.uncredited or fact.deviations:
            facts[pk] = fact
            result += chases
    short = {pk: every[pk].short for pk in facts}
    return ToAsk(tuple(sorted(result, key=place_of)), tuple(bad), facts, short)


def _known(order_id: int | None) -> dict[int, KnownOrder]:
    """As kept, by number; what is missing or read by an older catalog is read anew."""
    rows = Order.objects.filter(Q(kept=None) | Q(kept__is_open=True), state=OrderState.PLACED)
    rows = rows if order_id is None else rows.filter(pk=order_id)
    number, orders, behind = catalog_number_once(), dict[int, KnownOrder](), list[int]()
    for row in rows.select_related("kept").order_by("number"):
        stored = getattr(row, "kept", None)
        try:
            if stored is None or stored.catalog_changes != number:
                raise KeyError
            orders[row.pk] = stored.to_core()
        except (KeyError, TypeError, ValueError, NotPlain):  # another version wrote it
            behind.append(row.pk)
    return {**orders, **known_orders(behind)}


def _needs_of(every: Iterable[KnownOrder], today: date) -> dict[ItemKey, DatedNeed]:
    """Of what is short, as it counts today."""
    keys = {key for order in every for key in order.short}
    if not keys:
        return {}
    rows = StoredNeed.objects.filter(job__in={job for job, _ in keys}, material__in={code for _, code in keys})
    sellers, firm = suppliers_by_code(), firm_of().calendar
    return {
        (row.job_id, row.material): counted_on(row.to_core(), sellers.get(row.supplier), firm, today)
        for row in rows
        if (row.job_id, row.material) in keys
    }
