"""The office of the demonstration at work on one day: drafting, placing, hearing from the mill, checking in."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any

from catalog.models import Firm, Supplier
from jobs.deliveries.services.confirming_orders import enter_confirmation
from jobs.deliveries.services.promises import add_promise
from jobs.deliveries.services.receiving import check_in
from jobs.jobs.models import Job
from jobs.orders.models import Order, OrderLine
from jobs.orders.services.drafting import draft_order
from jobs.orders.services.pieces import pieces_of_line
from jobs.orders.services.placing import place_order
from jobs.orders.services.releasing import release_item
from quoting.platform.firm_day import moment_at_the_firm
from quoting.platform.people.signatures import Signature


@dataclass(frozen=True)
class DemoOffice:
    """by: whose name stands under it all. on: the day it was done."""

    by: str
    on: date

    def on_day(self, day: date) -> "DemoOffice":
        return DemoOffice(self.by, day)

    @property
    def now(self) -> datetime:
        return datetime.combine(self.on, time(10), tzinfo=Firm.objects.get().zone)

    @property
    def moment(self) -> datetime:
        return moment_at_the_firm(self.now)

    @property
    def _signed(self) -> dict[str, Any]:
        return {"signature": Signature(self.by, self.on), "now": self.now}

    @property
    def _who(self) -> dict[str, Any]:
        return {"by": self.by, "now": self.now, "moment": self.moment}

    def draft(self, job: Job, supplier: str, materials: Sequence[str]) -> Order:
        chosen = [(job.pk, code) for code in materials]
        key = f"demo {job.key} {supplier}"
        return draft_order(Supplier.objects.get(code=supplier), chosen, request_key=key, **self._who)

    def place(self, job: Job, supplier: str, materials: Sequence[str], *, reason: str = "") -> Order:
        """reason: why what holds an item made to order is set aside, and why stock is bought for an unsigned job."""
        order = self.draft(job, supplier, materials)
        for line in order.lines.select_related("material").exclude(material__supply="stocked"):
            release_item(job, line.material_id, seen_mark=line.statement_mark, reason=reason, **self._who)
        key = f"place {order.request_key}"
        wanted = {"seen_version": order.version, "request_key": key, "unsigned_reason": reason}
        return place_order(order, way="other", **wanted, **self._who)

    def hear_confirmed(self, order: Order, promised_on: date) -> None:
        text = [
            {"place": line.place, "quantity": format(line.quantity, "f"), "promised_on": promised_on.isoformat()}
            for line in order.lines.all()
        ]
        document = {"request_key": f"confirmed {order.request_key}", "reference": "Sales desk, by telephone"}
        enter_confirmation(order, document | {"lines": text}, **self._signed)

    def hear_late(self, order: Order, promised_on: date, reason: str) -> None:
        for line in order.lines.all():
            document = {"promised_on": promised_on.isoformat(), "reason": reason, "told_by": "sales desk"}
            add_promise(line, document, **self._signed)

    def check_in(self, order: Order, lines: Iterable[OrderLine], *, damaged: int = 0, note: str = "") -> None:
        """damaged: of each line, its last pieces where it has some."""
        came = [{"place": line.place, "note": note, **_came(line, damaged)} for line in lines]
        document = {
            "request_key": f"came {self.on.isoformat()} {order.request_key}",
            "seen_deliveries": order.deliveries.count(),
            "lines": came,
        }
        check_in(order, document, **self._signed)


def _came(line: OrderLine, damaged: int) -> dict[str, Any]:
    good, pieces = line.quantity - damaged, pieces_of_line(line)
    if not pieces:
        return {"good": format(good, "f"), "damaged": str(damaged)}
    return {
        "pieces": [{"number": piece.number, "state": "good" if piece.number <= good else "damaged"} for piece in pieces]
    }
