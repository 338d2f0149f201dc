"""An acceptance taken back within its window: once, on a day of the window, with what hangs on it.

The window of three business days counting Saturday from Wed 25 Nov 2026 ends on Sat 28 Nov, as in test_acceptance.
"""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection

from catalog.core.ground.refusal import Refused
from quoting.changes.models import ChangeDraft
from quoting.changes.services.change_drafts import save_draft
from quoting.changes.services.change_notes import answer_change, issue_change
from quoting.changes.services.contracts import contract_of
from quoting.client.services.acceptance_withdrawal import Notice, take_back
from quoting.platform.immutable_tables import thaw
from quoting.platform.papers.models import Paper
from quoting.quotes.models import CancellationTerm, QuoteRevision, TakeBack, TakeBackWay
from quoting.quotes.services.answers import answer_of, can_be_taken_back, last_taken_back
from quoting.quotes.services.certificate_papers import request_certificate
from quoting.quotes.services.given_answers import Given
from quoting.service.audit.services.audit import audit
from tests.support.answered import accept, decline, with_note_paper, with_paper
from tests.support.worked import NOW, TODAY, estimator, issued

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
LAST = TODAY + timedelta(days=3)
NICHE = {"title": "A niche", "reason": "Asked for.", "lines": [{"what": "Niche", "price": "200.00"}]}


@pytest.fixture
def agreed(job):
    CancellationTerm.objects.create(starts_on=TODAY, days=3, counting="business_and_saturday", source="our lawyer")
    revision = with_paper(issued(job))
    accept(revision)
    return revision


def taken_back(revision, given_on=TODAY, today=None, **more):
    notice = Notice(**({"typed_name": "Ada Client", "given_on": given_on} | more))
    return take_back(revision, notice, now=NOW, today=today or given_on)


def noted(job, key="n"):
    draft = save_draft(job, NICHE, by=estimator(), now=NOW)
    return issue_change(draft, request_key=key, seen_version=1, by=estimator(), now=NOW, today=TODAY)


def test_what_is_kept_says_who_when_and_how_and_the_acceptance_and_its_certificate_stay(agreed):
    answer = answer_of(agreed)
    stored = taken_back(agreed, LAST, from_address="192.0.2.7", reason=" too dear ")
    agreed.refresh_from_db()
    assert (agreed.state, agreed.state_by_name, agreed.state_reason) == ("taken_back", "Ada Client", "too dear")
    assert (stored.answer, stored.given_on, stored.way, stored.from_address) == (answer, LAST, "page", "192.0.2.7")
    assert answer_of(agreed).answer == "accepted"
    assert request_certificate(answer, NOW).pk == request_certificate(answer, NOW).pk
    assert Paper.objects.filter(revision=agreed).exists()
    assert audit(NOW)["answers"] == []


def test_nothing_is_agreed_any_more_and_a_new_revision_can_be_issued_and_accepted(job, agreed):
    waiting, other = noted(job), with_note_paper(noted(job, "m"))
    answer_change(other, Given("signed", "Ada Client"), now=NOW, today=TODAY)
    taken_back(agreed)
    assert contract_of(job) is None
    waiting.refresh_from_db()
    assert (waiting.state, waiting.state_reason) == ("withdrawn", f"The client cancelled {agreed}.")
    with pytest.raises(Refused, match="on Wed 25 Nov 2026: the contract sum is zero"):
        noted(job, "o")
    second = with_paper(issued(job, "second"))
    accept(second, "Ben Other")
    contract = contract_of(job)
    # What was signed to the first acceptance is not part of the second; its numbers are not given again.
    assert (contract.sums.total, contract.sums.signed, contract.notes) == (Decimal("15641.39"), 0, ())
    assert noted(job, "p").number == 3
    assert last_taken_back(job) is None
    assert [audit(NOW)[name] for name in ("answers", "quotes", "change notes")] == [[], [], []]


def test_the_last_day_of_the_window_counts_and_the_day_after_does_not(agreed):
    answer = answer_of(agreed)
    assert can_be_taken_back(answer, "accepted", LAST)
    assert not can_be_taken_back(answer, "accepted", LAST + timedelta(days=1))
    with pytest.raises(Refused, match="up to and including Sat 28 Nov 2026; that day has passed"):
        taken_back(agreed, LAST + timedelta(days=1))
    assert taken_back(agreed, LAST, today=LAST + timedelta(days=2), way=TakeBackWay.LETTER, reason="none given",
                      entered_by_name="R. Sallow").given_on == LAST  # fmt: skip


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"given_on": TODAY - timedelta(days=1), "today": TODAY}, "must be a day from the acceptance"),
        ({"given_on": LAST, "today": TODAY}, "must be a day from the acceptance"),
        ({"typed_name": "12"}, "Your name is missing"),
        ({"entered_by_name": "R. Sallow", "way": TakeBackWay.MAIL}, "The reason is missing"),
    ],
)
def test_a_notice_that_is_none_is_refused_and_nothing_is_kept(agreed, wrong, message):
    with pytest.raises(Refused, match=message):
        taken_back(agreed, **wrong)
    assert not TakeBack.objects.exists()
    assert QuoteRevision.objects.get(pk=agreed.pk).state == "accepted"


def test_the_same_notice_twice_is_one_and_another_is_told(agreed):
    assert taken_back(agreed).pk == taken_back(agreed).pk
    with pytest.raises(Refused, match="is cancelled, and that is final"):
        taken_back(agreed, typed_name="Ben Other")


def test_without_an_acceptance_or_a_window_there_is_nothing_to_take_back(job):
    revision = with_paper(issued(job))
    with pytest.raises(Refused, match="was not accepted"):
        taken_back(revision)
    decline(revision)
    with pytest.raises(Refused, match="was not accepted"):
        taken_back(revision)
    second = with_paper(issued(job, "second"))
    accept(second)
    with pytest.raises(Refused, match="states no days"):
        taken_back(second)


def test_drafts_that_count_from_what_was_agreed_go_and_typed_ones_stay(job, agreed):
    typed = save_draft(job, NICHE, by=estimator(), now=NOW)
    counted = save_draft(job, NICHE | {"kind": "allowance", "allowance": "Lamp"}, by=estimator(), now=NOW)
    taken_back(agreed)
    assert list(ChangeDraft.objects.all()) == [typed]
    assert ChangeDraft.history.filter(id=counted.pk, history_type="-").exists()


def test_the_audit_finds_a_taking_back_that_nobody_gave(agreed):
    thaw(connection)
    QuoteRevision.objects.filter(pk=agreed.pk).update(state="taken_back")
    assert any("nobody's notice is kept" in sentence for sentence in audit(NOW)["answers"])
