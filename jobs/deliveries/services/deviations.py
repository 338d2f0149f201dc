"""What goes otherwise than ordered, of all open jobs, of one job or one order; and what somebody settles of it."""

from collections.abc import Collection, Iterator
from contextlib import suppress
from dataclasses import asdict, dataclass
from datetime import date, datetime
from typing import Annotated, Any

from django.db import transaction
from django.db.models import QuerySet

from catalog.core.ground.declared import Choice, Text, read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import EntryError, Refused
from catalog.core.ground.workdays import CalendarError
from catalog.services.book import firm_of
from jobs.core.ordering.deviations import OF_CONFIRMATIONS, Deviation, LineFacts, deviations, standing_deviations
from jobs.deliveries.models import ConfirmedLine, SettledDeviation, Settlement
from jobs.deliveries.services.comparing_orders import settle_differences
from jobs.deliveries.services.line_facts import facts_of, lines_to_look_at
from jobs.deliveries.services.order_events import held_order, line_at
from jobs.jobs.services.changes import fact_changed
from jobs.orders.models import OrderLine
from quoting.platform.people.signatures import Signature


@dataclass(frozen=True)
class NewSettlement:
    """An accepted one says why; what was asked again is silent for two working days."""

    mark: Annotated[str, Text(longest=200), "Of the deviation."]
    how: Annotated[str, Choice(tuple(Settlement.values))]
    reason: str = ""

    def __post_init__(self) -> None:
        if self.how == Settlement.ACCEPTED and not self.reason.strip():
            raise EntryError("reason", "is missing; say why you accept it")


@dataclass(frozen=True)
class LineDeviation:
    line: OrderLine
    deviation: Deviation

    @property
    def key(self) -> tuple[int, str, str]:
        return self.line.pk, self.deviation.kind, self.deviation.mark


@dataclass(frozen=True)
class Otherwise:
    """deviations: order by order. bad: lines whose days nobody can count, in sentences; they silence no other."""

    deviations: tuple[LineDeviation, ...]
    bad: tuple[str, ...] = ()


def otherwise(today: date, rows: QuerySet[OrderLine] | None = None) -> Otherwise:
    """rows: lines to look at, None for those of all open jobs. Raises NoFirmYet."""
    lines = list(lines_to_look_at(OrderLine.objects.all() if rows is None else rows))
    if not lines:
        return Otherwise(())
    firm, rows_otherwise, bad = firm_of(), list[LineDeviation](), list[str]()
    for line, facts in facts_of(lines, today):
        try:
            rows_otherwise += [
                LineDeviation(line, deviation)
                for deviation in deviations(facts, today, firm.calendar, firm.display_units)
            ]
        except CalendarError as problem:
            bad.append(f"Order {facts.order}, {facts.what}: {problem}; correct its days.")
    return Otherwise(tuple(rows_otherwise), tuple(bad))


def otherwise_of_order(order_id: int, today: date) -> list[LineDeviation]:
    return list(otherwise(today, OrderLine.objects.filter(order=order_id)).deviations)


def standing_of_jobs(job_ids: Collection[int], today: date) -> Iterator[tuple[OrderLine, LineFacts, Deviation, date]]:
    """Each fact that is not accepted, with how its line stands and the day it is told from. Raises NoFirmYet."""
    lines = list(lines_to_look_at(OrderLine.objects.filter(job__in=job_ids)))
    firm = firm_of() if lines else None
    for line, facts in facts_of(lines, today) if firm else ():
        # What cannot be counted is told by `otherwise`, and silences no other.
        with suppress(CalendarError):
            for deviation, told_from in standing_deviations(facts, firm.calendar, firm.display_units):
                yield line, facts, deviation, told_from


@transaction.atomic
def settle(line: OrderLine, document: dict[str, Any], signature: Signature, *, now: datetime) -> Deviation:
    """Somebody settles a fact of a line, by a NewSettlement.

    What was confirmed is accepted as a whole. Raises DocumentError, and Refused for what does not stand so any more.
    """
    order = held_order(line.order_id)
    line = line_at(order, line.place)
    asked = read(NewSettlement, Reader(document))
    standing = [row.deviation for row in otherwise_of_order(order.pk, signature.on) if row.line.pk == line.pk]
    deviation = next((row for row in standing if row.mark == asked.mark), None)
    if deviation is None:
        raise Refused(f"{line.what} has changed since: look at the order again.")
    if deviation.kind in OF_CONFIRMATIONS and asked.how == Settlement.ACCEPTED:
        row = ConfirmedLine.objects.select_related("confirmation", "line").get(pk=asked.mark.removeprefix("confirmed "))
        system = firm_of().display_units
        settle_differences(row, {"reason": asked.reason}, signature, now=now, system=system)
        return deviation
    SettledDeviation.objects.create(
        line=line,
        **asdict(asked),
        settled_on=signature.on,
        need_by=next((facts.need_by for _, facts in facts_of([line], signature.on)), None),
        entered_at=now,
        entered_by_name=signature.by,
    )
    fact_changed(line.job_id)
    return deviation
