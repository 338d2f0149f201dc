"""Whatever people do to requests in whatever order, what is asked, held, paid and still to come is the contract."""

import os
import random
from contextlib import suppress
from decimal import Decimal as D

import pytest

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from quoting.changes.services.contracts import contract_of
from quoting.core.money.requests import DEPOSIT, NOTES, RELEASE, instalment_part
from quoting.payment_requests.models import EventMark, PaymentReceived, PaymentRequest, RequestSequence
from quoting.payment_requests.services.asked import asked_of
from quoting.payment_requests.services.events import take_mark_back
from quoting.payment_requests.services.issuing import credit_request
from quoting.payment_requests.services.payments_received import enter_payment, undo_payment
from tests.support.asked import OWNER, ask, hall, marked, office, signed_note
from tests.support.worked import NOW, TODAY

pytestmark = [pytest.mark.both_engines, pytest.mark.faults, pytest.mark.usefixtures("db")]
STEPS, SEED = (400 if os.environ.get("CURVEWRIGHT_FAULT_ROUNDS") else 60), 20270531
PARTS = [DEPOSIT, *(instalment_part(place) for place in range(4)), RELEASE, NOTES]


class People:
    """The office and the client of one job, each step in one of many ways; what is refused changes nothing."""

    def __init__(self, job, chance):
        self.job, self.chance, self.turn = job, chance, 0

    def key(self):
        self.turn += 1
        return f"k{self.turn}"

    def some(self, rows):
        result = list(rows.order_by("pk"))
        return self.chance.choice(result) if result else None

    def ask(self):
        ask(self.job, self.chance.choice(PARTS), key=self.key())

    def credit(self):
        row = self.some(PaymentRequest.objects.all())
        if row:
            credit_request(row, {"request_key": self.key(), "reason": "Wrong"}, office(), now=NOW)

    def mark(self):
        marked(self.job, self.chance.choice(PARTS[1:6]))

    def unmark(self):
        row = EventMark.objects.filter(voided_at=None).order_by("-pk").first()
        if row:
            take_mark_back(row, {"reason": "A slip"}, OWNER, now=NOW)
            EventMark.objects.filter(pk=row.pk).update(request_key=self.key())

    def pay(self):
        document = {"request_key": self.key(), "amount": str(self.chance.randint(1, 900_000) / D(100))}
        document |= {"received_on": TODAY.isoformat(), "paid_ahead": self.chance.random() < 0.5}
        enter_payment(self.job, document, OWNER, now=NOW)

    def undo(self):
        row = self.some(PaymentReceived.objects.all())
        if row:
            undo_payment(row, {"reason": "Sent back"}, OWNER, now=NOW)

    def sign(self):
        line = {"what": "Niche", "price": str(self.chance.randint(-50_000, 90_000) / D(100))}
        key = self.key()
        signed_note(self.job, key, {"title": key, "reason": "Asked for.", "lines": [line]})


def adds_up(job):
    adds, contract = asked_of([job.pk])[job.pk], contract_of(job)
    rows = PaymentRequest.objects.filter(job=job)
    stands = sum(entry.amount for entry in PaymentReceived.objects.filter(job=job, undone_at=None))
    assert adds.requested.total == sum(row.total for row in rows)
    assert adds.paid + adds.ahead == stands + sum(max(D(0), -entry.request.to_pay.total) for entry in live(adds))
    assert [row.number for row in rows] == list(range(1, len(rows) + 1))
    assert len(rows) == (RequestSequence.objects.first() or RequestSequence()).last
    return contract.sums.total - adds.requested.total - adds.held.total


def live(result):
    return [request for request in result.requests if request.request.credited_by is None]


def test_what_is_asked_paid_and_held_adds_up_after_every_step_and_comes_to_the_contract(frozen_clock):
    frozen_clock.move_to(NOW)
    chance = random.Random(SEED)
    people = People(hall(), chance)
    ways = [people.ask] * 4 + [people.mark] * 2 + [people.pay, people.undo, people.unmark, people.credit, people.sign]
    for _ in range(STEPS):
        with suppress(Refused, DocumentError):
            chance.choice(ways)()
        adds_up(people.job)
    for part in (*PARTS[1:5], NOTES, RELEASE):
        with suppress(Refused, DocumentError):
            marked(people.job, part)
        with suppress(Refused):
            ask(people.job, part, key=people.key())
    assert PaymentRequest.objects.exclude(credits=None).count() > 2 and PaymentReceived.objects.count() > 2
    assert adds_up(people.job) == 0 and asked_of([people.job.pk])[people.job.pk].held.total == 0
