"""What follows if goods come damaged or wrong: by when they must be ordered again, and until when the supplier takes a
claim; said while they are checked in."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from catalog.models import OrderTerms
from jobs.core.ordering.order_by import days_in_hand
from jobs.dates.services.item_schedule import desk_at
from jobs.deliveries.services.receiving import calendar_of_supplier
from jobs.needs.models import StoredNeed
from jobs.orders.models import Order, OrderLine


@dataclass(frozen=True)
class IfBad:
    """order_by: the last day to order again in time, in_hand working days from today, negative when past; None where
    that is not known. claim_by: None where the supplier never said."""

    order_by: date | None
    in_hand: int | None
    claim_by: date | None

    @property
    def days_late(self) -> int:
        return max(0, -(self.in_hand or 0))


def if_bad(order: Order, lines: Collection[OrderLine], received_on: date, moment: datetime) -> Mapping[int, IfBad]:
    """By id of the line, of one order. moment: by the firm's own clock."""
    desk, terms = desk_at(moment), OrderTerms.objects.filter(supplier=order.supplier).first()
    claim_by = terms.to_core().claim_by(received_on, calendar_of_supplier(order)) if terms else None
    keys = {"job__in": {line.job_id for line in lines}, "material__in": {line.material_id for line in lines}}
    needs = {(row.job_id, row.material): row for row in StoredNeed.objects.filter(**keys)}
    follows = {}
    for line in lines:
        need = needs.get((line.job_id, line.material_id))
        dates = desk.counted(need.to_core()).dates if need else None
        by = dates.order_by if dates else None
        follows[line.pk] = IfBad(by, days_in_hand(desk.today, by, desk.calendar) if by else None, claim_by)
    return follows
