"""The books of the demonstration: hours of its crew, bills, requests for payment, and the months its owner closed."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from catalog.core.ground.money import to_cents
from catalog.services.book import firm_of
from jobs.bills.services.differences import Differs
from jobs.bills.services.entering import enter_bill
from jobs.hours.models import Worker
from jobs.hours.services.entering import enter_hours
from jobs.hours.services.saying_left import say_left
from jobs.hours.services.steps import steps_of
from jobs.jobs.models import Job
from jobs.orders.models import Order
from quoting.core.money.quoted import QuotedCost
from quoting.core.money.requests import instalment_part
from quoting.job_money.services.quoted_sides import quoted_sides_of
from quoting.month.services.closing import close_month
from quoting.month.services.overhead import enter_overhead
from quoting.month.services.sentences import say_why
from quoting.payment_requests.services.events import mark_event
from quoting.payment_requests.services.issuing import issue_request
from quoting.payment_requests.services.payments_received import enter_payment
from quoting.payment_requests.services.standing import requests_of
from quoting.platform.people.models import Person
from quoting.platform.people.signatures import Signature
from quoting.service.demo.demo_desk import DemoOffice
from quoting.service.demo.demo_finished import FinishedJob
from quoting.service.demo.demo_jobs import LEAD

A_DAY = 8 * 60
QUARTER = 15
OVERHEADS = (("Rent of the workshop", "1850.00"), ("Insurance and vans", "940.00"))


@dataclass(frozen=True)
class DemoBooks:
    """office: whose name stands under it, on one day."""

    office: Person
    on: date

    def on_day(self, day: date) -> "DemoBooks":
        return DemoBooks(self.office, day)

    @property
    def _desk(self) -> DemoOffice:
        return DemoOffice(self.office.full_name, self.on)

    @property
    def _signed(self) -> dict[str, Any]:
        return {"signature": Signature(self.office.full_name, self.on), "now": self._desk.now}

    def ask(self, job: Job, place: int, *, paid_after: int | None = None) -> None:
        """place: of the instalment. paid_after: working days until the client paid it; None while it is open."""
        request, part = requests_of(job), instalment_part(place)
        if request is not None and request.event_day(part) is None:
            document = {"request_key": f"demo {job.key} {part}", "part": part, "happened_on": self.on.isoformat()}
            mark_event(job, document, **self._signed)
        document = {"request_key": f"demo {job.key} {part} asked", "part": part}
        row, _ = issue_request(job, document, self.office, now=self._desk.now)
        if paid_after is not None:
            paid = self.on_day(firm_of().calendar.forward(self.on, paid_after))
            text = {"amount": f"{row.total}", "received_on": paid.on.isoformat(), "what_for": row.what}
            enter_payment(job, text | {"request_key": f"demo {row} paid"}, **paid._signed)

    def work(self, job: Job, days: Iterable[date], slower_by: Callable[[str], Decimal], crew: Iterable[str]) -> None:
        """A crew's days on a job, step after step, until it is done."""
        steps = {key: step.planned for key, step in steps_of(job, self.on).items() if step.planned}
        left = [(key, _quarters(minutes * slower_by(key))) for key, minutes in steps.items()]
        last = self.on
        for last in days:
            lines = list(_day_of_the_crew(left, last, crew))
            if not lines:
                break
            workers = {worker.name: worker.pk for worker in Worker.objects.all()}
            text = [line | {"worker": workers[line["worker"]], "job": job.key} for line in lines]
            document = {"request_key": f"demo {job.key} {last.isoformat()}", "lines": text}
            enter_hours(document, **self.on_day(last)._signed, among=Worker.objects.all())
        result = [{"step": key, "is_done": True} for key in steps]
        say_left(job, {"request_key": f"demo {job.key} done", "steps": result}, **self.on_day(last)._signed)

    def bill_goods(self, job: Job, supplier: str, number: str, *, dearer: Decimal, but: Iterable[str] = ()) -> None:
        """What was quoted of goods, bought over the counter. but: materials that were ordered, and are billed so."""
        rows = [row for row in _quoted(job, "materials") if row.item not in but and row.quantity > 0]
        lines = [
            {
                "job": job.key,
                "category": "materials",
                "item": row.item,
                "what": row.what,
                "quantity": f"{row.quantity.normalize():f}",
                "unit_price": f"{to_cents(Decimal(str(float(row.unit_cost))) * dearer)}",
            }
            for row in rows
        ]
        self._bill({"supplier": supplier, "number": number, "lines": lines})

    def bill_lumps(self, job: Job, shop: str, number: str, category: str, *, dearer: Decimal = Decimal(1)) -> None:
        lines = [
            {
                "job": job.key,
                "category": category,
                "item": row.item,
                "what": row.what,
                "quantity": "1",
                "amount": f"{to_cents(row.cost * dearer)}",
            }
            for row in _quoted(job, category)
        ]
        self._bill({"shop": shop, "number": number, "lines": lines})

    def wait(self, job: Job, step: str, hours: int, note: str) -> None:
        """Hours lost to what came late, of the crew's lead."""
        worker = Worker.objects.get(name=LEAD)
        line = {"worker": worker.pk, "job": job.key, "day": self.on.isoformat(), "minutes": hours * 60, "step": step}
        document = {"request_key": f"demo {job.key} late", "lines": [line | {"tag": "late", "note": note}]}
        enter_hours(document, **self._signed, among=Worker.objects.all())

    def bill_order(self, order: Order, number: str, *, freight: str) -> None:
        """All that is on it, at its own prices; freight was not agreed, and is accepted as it is."""
        lines = [
            {
                "order": order.number,
                "place": line.place,
                "quantity": f"{line.quantity.normalize():f}",
                "amount": f"{line.amount}",
            }
            for line in order.lines.all()
            if line.amount
        ]
        bill = {"supplier": order.supplier_id, "number": number, "lines": lines, "freight": freight}
        try:
            self._bill(bill)
        except Differs as differs:
            self._bill(bill | {"accept": list(differs.sentences)})

    def _bill(self, document: dict[str, Any]) -> None:
        amounts = [
            Decimal(line["amount"])
            if "amount" in line
            else to_cents(Decimal(line["unit_price"]) * Decimal(line["quantity"]))
            for line in document["lines"]
        ]
        if amounts:
            head = {"request_key": f"demo {document['number']}", "kind": "bill", "day": self.on.isoformat()}
            total = sum(amounts) + Decimal(document.get("freight", "0.00"))
            enter_bill(head | document | {"total": f"{total}"}, **self._signed)

    def pay_overhead(self) -> None:
        for what, amount in OVERHEADS:
            texts = {"what": what, "amount": amount, "day": self.on.isoformat()}
            enter_overhead(texts | {"request_key": f"demo {what} {self.on:%Y-%m}"}, **self._signed)

    def close(self, month: date, owner: Person, job: FinishedJob) -> None:
        signed: dict[str, Any] = {"signature": Signature(owner.full_name, self.on), "now": self._desk.now}
        say_why(Job.objects.get(key=job.key), month, {"text": job.why}, **signed)
        close_month(month, **signed)


def _quoted(job: Job, category: str) -> list[QuotedCost]:
    return [row for row in quoted_sides_of([job.pk])[job.pk].quoted if row.category == category]


def _quarters(minutes: Decimal) -> int:
    return int((minutes / QUARTER).to_integral_value(ROUND_HALF_UP)) * QUARTER


def _day_of_the_crew(left: list[tuple[str, int]], day: date, crew: Iterable[str]) -> Iterable[dict[str, Any]]:
    """Takes a day of each worker off what is left."""
    for name in crew:
        free = A_DAY
        while left and free:
            key, minutes = left.pop(0)
            taken = min(free, minutes)
            free -= taken
            if minutes > taken:
                left.insert(0, (key, minutes - taken))
            if taken:
                yield {"worker": name, "day": day.isoformat(), "minutes": taken, "step": key}
