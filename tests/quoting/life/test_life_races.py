"""Two facts of one job written at once: the row has both. With the row not held, one is lost: the control."""

import threading

import pytest

from jobs.jobs.models import Job
from quoting.client.models import ClientLink
from quoting.client.services.openings import count_opening
from quoting.life.models import KeptLife
from quoting.life.services import keeping
from quoting.payment_requests.services.payments_received import enter_payment
from quoting.platform.people.signatures import Signature
from quoting.quotes.models import QuoteRevision
from tests.support.answered import accept, secret_to, with_paper
from tests.support.racing import ROUNDS, another, at_once
from tests.support.racing import emptied as emptied
from tests.support.worked import NOW, TODAY, issued, small_job

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults, pytest.mark.postgresql]
OFFICE = Signature("I. Quarrell", TODAY)


@pytest.fixture
def template(emptied, frozen_clock):
    frozen_clock.move_to(NOW)
    return with_paper(issued(small_job()))


def signed_with_a_link(template: QuoteRevision, turn: object) -> ClientLink:
    revision = another(template, turn)
    secret_to(revision, by_hand=True)
    accept(revision)
    return ClientLink.objects.get(revision=revision)


def payment(turn: object) -> dict:
    return {"request_key": f"p{turn}", "amount": "10.00", "received_on": TODAY.isoformat(), "paid_ahead": True}


def both_write(link: ClientLink, turn: object) -> dict:
    """The client opens the page, and the office enters what came in."""
    job = Job.objects.get(pk=link.revision.quote.job_id)
    paid = payment(turn)
    steps = [lambda: count_opening(link, now=NOW, today=TODAY), lambda: enter_payment(job, paid, OFFICE, now=NOW)]
    assert not [exception for exception in at_once(*steps) if isinstance(exception, Exception)]
    return KeptLife.objects.get(job=job).facts


def both_are_there(facts: dict) -> bool:
    return (facts["revision"]["opened"], facts["money"]["received"]) == (1, "10.00")


def test_the_row_has_both(template):
    for turn in range(ROUNDS):
        assert both_are_there(both_write(signed_with_a_link(template, turn), turn))


def test_whoever_signs_while_a_payment_is_entered_waits_for_nobody_who_waits_for_them(template):
    """A row written twice in one transaction asks for no lock on its job."""
    for turn in range(ROUNDS):
        revision = another(template, turn)
        secret_to(revision, by_hand=True)
        paid = payment(turn)
        job = Job.objects.get(pk=revision.quote.job_id)
        gave = at_once(lambda: accept(revision), lambda: enter_payment(job, paid, OFFICE, now=NOW))  # noqa: B023
        assert not [exception for exception in gave if isinstance(exception, Exception)]
        assert KeptLife.objects.get(job=job).facts["money"]["received"] == "10.00"


def test_without_the_row_held_one_is_lost(template, monkeypatch):
    link, meeting, gather = signed_with_a_link(template, "control"), threading.Barrier(2), keeping.facts_of

    def gathered(*wanted):
        facts = gather(*wanted)
        meeting.wait(20)
        return facts

    monkeypatch.setattr(keeping, "held_lives", lambda ids: list(KeptLife.objects.filter(pk__in=ids)))
    monkeypatch.setattr(keeping, "facts_of", gathered)
    assert not both_are_there(both_write(link, "control"))
