"""Several people at once on requests: numbers without a gap, a part and a note on one request, each with a control."""

import threading
from functools import partial

import pytest
from django.db import IntegrityError

from jobs.jobs.models import Job
from quoting.changes.services.change_notes import answer_change
from quoting.client.services import acceptance_withdrawal
from quoting.client.services.acceptance_withdrawal import Notice, take_back
from quoting.payment_requests.models import PaymentRequest, RequestedNote, RequestSequence
from quoting.payment_requests.services import issuing
from quoting.payment_requests.services.issuing import issue_request
from quoting.payment_requests.services.terms import set_terms
from quoting.quotes.models import CancellationTerm, QuoteRevision, RevisionState
from quoting.quotes.services.given_answers import Given
from tests.support.answered import accept, with_note_paper, with_paper
from tests.support.asked import PRICED, TERMS, ask, issued_note, marked, office, signed_note
from tests.support.racing import ROUNDS, another, at_once, emptied, lost
from tests.support.worked import NOW, TODAY, issued, small_job

__all__ = ["emptied"]
pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.faults,
    pytest.mark.postgresql,
    pytest.mark.usefixtures("emptied"),
]


@pytest.fixture
def template(db, frozen_clock):
    frozen_clock.move_to(NOW)
    CancellationTerm.objects.create(starts_on=TODAY, days=3, counting="calendar", source="our lawyer")
    set_terms(TERMS)
    office()
    return with_paper(issued(small_job(pricing=PRICED)))


def agreed(template, turn) -> QuoteRevision:
    revision = another(template, turn)
    accept(revision)
    return revision


def job_of(revision) -> Job:
    return Job.objects.get(pk=revision.quote.job_id)


def asking(revision, part="deposit", key=""):
    document = {"request_key": key or f"{revision} {part}", "part": part}
    return partial(issue_request, job_of(revision), document, office(), now=NOW)


def numbers():
    return list(PaymentRequest.objects.order_by("number").values_list("number", flat=True))


def test_numbers_given_at_once_are_all_different_and_have_no_gap(template):
    """A refused one among them takes its number back."""
    for turn in range(ROUNDS):
        revisions = [agreed(template, f"{turn}-{place}") for place in range(4)]
        at_once(*(asking(revision) for revision in revisions), asking(revisions[0], "instalment 0"))
    assert numbers() == list(range(1, 4 * ROUNDS + 1)) == list(range(1, RequestSequence.objects.get().last + 1))


def test_without_the_sequence_held_two_take_one_number(template, monkeypatch):
    meeting = threading.Barrier(2)

    def careless():
        last = PaymentRequest.objects.count()
        meeting.wait(20)
        return last + 1

    monkeypatch.setattr(issuing, "next_number", careless)
    gave = at_once(*(asking(agreed(template, f"control-{place}")) for place in range(2)))
    assert [isinstance(entry, IntegrityError) for entry in gave].count(True) == 1


def test_a_part_asked_for_by_two_at_once_is_on_one_request(template):
    for turn in range(ROUNDS):
        revision = agreed(template, turn)
        gave = at_once(asking(revision, key=f"{turn} a"), asking(revision, key=f"{turn} b"))
        assert sorted(lost(gave)) == [False, True]
        assert PaymentRequest.objects.filter(revision=revision).count() == 1


def test_pressed_twice_at_once_it_is_one_request(template):
    for turn in range(ROUNDS):
        revision = agreed(template, turn)
        gave = at_once(asking(revision), asking(revision))
        assert len({row.pk for row, _ in gave}) == 1 and sorted(is_new for _, is_new in gave) == [False, True]


def unheld(meeting, monkeypatch):
    """Requests issued with the job not held; meeting: where two have looked at what stands."""
    look = issuing.agreed_requests

    def looked(job):
        request = look(job)
        meeting.wait(20)
        return request

    monkeypatch.setattr(issuing, "held_job", lambda job: Job.objects.select_related("client").get(pk=job.pk))
    monkeypatch.setattr(issuing, "agreed_requests", looked)


def test_without_the_job_held_the_database_alone_keeps_a_part_from_being_asked_for_twice(template, monkeypatch):
    revision = agreed(template, "control")
    unheld(threading.Barrier(2), monkeypatch)
    gave = at_once(asking(revision, key="a"), asking(revision, key="b"))
    assert [isinstance(entry, IntegrityError) for entry in gave].count(True) == 1


def test_a_note_signed_while_a_request_issues_is_on_this_one_or_the_next_once(template):
    for turn in range(ROUNDS):
        revision = agreed(template, turn)
        job = job_of(revision)
        marked(job, "instalment 0", "instalment 1")
        note = with_note_paper(issued_note(job, f"note {turn}"))
        sign = partial(answer_change, note, Given("signed", "Ada Client"), now=NOW, today=TODAY)
        gave = at_once(asking(revision, "instalment 0"), sign)
        assert not [exception for exception in gave if isinstance(exception, Exception)]
        ask(job, "instalment 1")
        assert RequestedNote.objects.filter(note=note).count() == 1


def test_without_the_job_held_two_requests_take_one_note(template, monkeypatch):
    revision = agreed(template, "control")
    job = job_of(revision)
    marked(job, "instalment 0", "instalment 1")
    signed_note(job)
    unheld(threading.Barrier(2), monkeypatch)
    gave = at_once(asking(revision, "instalment 0"), asking(revision, "instalment 1"))
    assert [isinstance(entry, IntegrityError) for entry in gave].count(True) == 1


def taking_back(revision):
    return partial(take_back, revision, Notice("Ada Client", TODAY), now=NOW, today=TODAY)


def is_asked_of_nothing(revision) -> bool:
    """A request of an acceptance that was taken back."""
    revision.refresh_from_db()
    return revision.state == RevisionState.TAKEN_BACK and PaymentRequest.objects.filter(revision=revision).exists()


def test_of_an_acceptance_taken_back_and_a_request_issued_at_once_one_stands(template):
    for turn in range(ROUNDS):
        revision = agreed(template, turn)
        assert sorted(lost(at_once(asking(revision), taking_back(revision)))) == [False, True]
        assert not is_asked_of_nothing(revision)


def test_without_the_job_held_a_request_is_issued_to_what_is_taken_back(template, monkeypatch):
    revision, refuse = agreed(template, "control"), acceptance_withdrawal.refuse_requests_out

    def looked(revision_id):
        refuse(revision_id)
        at_once(asking(revision))

    monkeypatch.setattr(acceptance_withdrawal, "_lock", lambda job_id: None)
    monkeypatch.setattr(acceptance_withdrawal, "refuse_requests_out", looked)
    taking_back(revision)()
    assert is_asked_of_nothing(revision)
