"""What was confirmed of an order beside what was ordered; for each difference somebody stands by name."""

from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.db.models import QuerySet

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.reasons import Reason
from catalog.core.ground.refusal import Refused
from catalog.core.ground.units import System
from catalog.services.book import standards_of
from catalog.services.row_sync import save_if_changed
from jobs.core.ordering.confirmation import Asked, Comparison, Confirmed, Tolerances, compare, tolerances_of
from jobs.core.ordering.order_lines import OrderStatement, part_of
from jobs.deliveries.models import ConfirmedLine
from jobs.deliveries.services.dock_days import dock_days
from jobs.deliveries.services.order_events import held_order
from jobs.jobs.services.changes import fact_changed
from jobs.orders.models import Order, OrderLine
from jobs.orders.services.line_statement import statement_of_line
from quoting.platform.models.columns import normalized
from quoting.platform.people.signatures import Signature


@dataclass(frozen=True)
class ComparedLine:
    """row: what was confirmed of a line last. comparison: how it stands beside what was ordered."""

    row: ConfirmedLine
    comparison: Comparison

    @property
    def is_open(self) -> bool:
        """Whether it differs and nobody stands for that yet."""
        return not self.comparison.agrees and self.row.settled_at is None


def compared_lines(order: Order, system: System) -> list[ComparedLine]:
    """What was confirmed last of each line, beside what was ordered: a later confirmation stands for an earlier one."""
    return compared_of(ConfirmedLine.objects.filter(confirmation__order=order), system)


def compared_of(confirmed: QuerySet[ConfirmedLine], system: System) -> list[ComparedLine]:
    """Of any orders, in a number of queries that does not grow with them. said: every confirmation of their lines."""
    confirmed = confirmed.select_related("line__material", "line__order", "confirmation")
    last = {row.line_id: row for row in confirmed.order_by("confirmation__received_on", "confirmation_id", "pk")}
    docks = dock_days([row.line for row in last.values()])
    rows, within = sorted(last.values(), key=lambda row: row.line.place), tolerances_of(standards_of())
    return [ComparedLine(row, compared(row, system, docks.get(row.line_id), within)) for row in rows]


def compared(row: ConfirmedLine, system: System, dock_by: date | None, within: Tolerances) -> Comparison:
    """dock_by: the day it must be at the dock to be in time, where that is known."""
    return compare(asked_of(row.line, dock_by), confirmed_of(row), system, within)


def asked_of(line: OrderLine, dock_by: date | None) -> Asked:
    statement = statement_of_line(line) or OrderStatement(
        line.material_id, line.what, normalized(line.quantity), line.unit
    )
    return Asked(_ordered_of(statement, normalized(line.quantity)), line.amount, dock_by, line.quoted_dock_on)


def _ordered_of(statement: OrderStatement, quantity: Decimal) -> OrderStatement:
    """Of a line that orders some of what it states: lengths are not compared where nobody can tell which."""
    part = part_of(statement, quantity)
    if part is not None:
        return part
    runs = tuple(replace(run, piece_lengths_mm=()) for run in statement.runs)
    return replace(statement, quantity=quantity, runs=runs)


def confirmed_of(row: ConfirmedLine) -> Confirmed:
    return Confirmed(
        None if row.quantity is None else normalized(row.quantity),
        tuple(row.lengths_mm),
        tuple(row.radii_mm),
        row.radius_face,
        row.amount,
        row.promised_on,
        tuple(row.radius_lines),
    )


@transaction.atomic
def settle_differences(
    row: ConfirmedLine, document: dict[str, Any], signature: Signature, *, now: datetime, system: System
) -> ConfirmedLine:
    """Somebody stands for it, with a Reason, that a line is confirmed otherwise than it was ordered. The first counts.

    Raises DocumentError, and Refused for a line of which a later confirmation was entered.
    """
    order = held_order(row.confirmation.order_id)
    reason = read(Reason, Reader(document)).reason
    standing = next((line for line in compared_lines(order, system) if line.row.pk == row.pk), None)
    if standing is None:
        raise Refused("A later confirmation of this line was entered: settle what differs in that one.")
    if standing.comparison.agrees:
        raise Refused("It is confirmed as it was ordered: there is nothing to settle.")
    if standing.row.settled_at is None:
        save_if_changed(standing.row, {"settled_by_name": signature.by, "settled_at": now, "settled_reason": reason})
        fact_changed(standing.row.line.job_id)
    return standing.row
