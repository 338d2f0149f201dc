"""Two people at once on one quote: exactly one wins, and the other is told. Threads on PostgreSQL, which alone lets
two write at the same time; each race ends with its control, the same with the guard taken away."""

import threading
from datetime import timedelta
from functools import partial

import pytest
from django.db import connection, transaction

from catalog.core.ground.refusal import Refused
from quoting.job_files.services.job_files import figures_mark, job_file_of
from quoting.platform.immutable_tables import thaw
from quoting.pricing.models import MarginApproval
from quoting.pricing.services.pricing import save_pricing
from quoting.quotes.models import ClientAnswer, QuoteRevision, RevisionApproval, RevisionState
from quoting.quotes.services import quotes
from quoting.quotes.services.margin_approval import approve_margin
from quoting.quotes.services.quotes import ChangedSinceShown
from quoting.quotes.services.revisions import mark_lapsed, move_revision
from tests.support.answered import accept, with_paper
from tests.support.racing import ROUNDS, another, at_once, careless, copied, emptied, lost
from tests.support.worked import NOW, PRICING, TODAY, estimator, issued, small_job

__all__ = ["emptied"]
pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.faults,
    pytest.mark.postgresql,
    pytest.mark.usefixtures("emptied"),
]


@pytest.fixture
def template(db):
    return with_paper(issued(small_job()))


def revise(revision):
    with transaction.atomic():
        number = quotes._supersede(revision.quote, estimator(), NOW) + 1
        row = QuoteRevision.objects.get(pk=revision.pk)
        return copied(row, None, revision.quote, number)


def states(revision):
    return list(
        QuoteRevision.objects.filter(quote=revision.quote_id).order_by("number").values_list("state", flat=True)
    )


def test_of_two_acceptances_one_is_kept(template):
    for turn in range(ROUNDS):
        revision = another(template, turn)
        gave = at_once(partial(accept, revision, "Ada Client"), partial(accept, revision, "Ben Other"))
        assert sorted(lost(gave)) == [False, True]
        test = ClientAnswer.objects.get(revision=revision)
        revision.refresh_from_db()
        assert (revision.state, revision.state_by_name) == ("accepted", test.typed_name)
    without_the_guard_both_take_the_step(template)


def without_the_guard_both_take_the_step(template):
    revision, meeting = another(template, "c"), threading.Barrier(2)
    thaw(connection)

    def step(name):
        return lambda: careless(meeting)(revision.pk, RevisionState.ACCEPTED, now=NOW, by_name=name)

    assert lost(at_once(step("Ada"), step("Ben"))) == [False, False]

    def guarded(name):
        return lambda: move_revision(template.pk, RevisionState.ACCEPTED, now=NOW, by_name=name)

    assert sorted(lost(at_once(guarded("Ada"), guarded("Ben")))) == [False, True]


def test_an_acceptance_and_a_new_revision_do_not_both_stand(template, monkeypatch):
    estimator()
    for turn in range(ROUNDS):
        revision = another(template, turn)
        gave = at_once(partial(accept, revision), partial(revise, revision))
        assert sorted(lost(gave)) == [False, True]
        assert states(revision) in (["accepted"], ["superseded", "issued"])
        assert ClientAnswer.objects.filter(revision=revision).exists() is (states(revision) == ["accepted"])
    without_the_guard_what_was_accepted_is_superseded(template, monkeypatch)


def without_the_guard_what_was_accepted_is_superseded(template, monkeypatch):
    estimator()
    revision, meeting = another(template, "c"), threading.Barrier(2)
    thaw(connection)
    monkeypatch.setattr("quoting.quotes.services.acceptance.move_revision", careless(meeting))
    monkeypatch.setattr(quotes, "move_revision", careless(meeting))
    assert lost(at_once(partial(accept, revision), partial(revise, revision))) == [False, False]


def test_an_acceptance_and_the_end_of_validity_do_not_both_stand(template, monkeypatch):
    for turn in range(ROUNDS):
        revision = another(template, turn)
        last = revision.valid_until
        gave = at_once(
            partial(accept, revision, today=last),
            partial(mark_lapsed, NOW, last + timedelta(days=1)),
        )
        [was_refused, _] = lost(gave)
        assert states(revision) == ["lapsed" if was_refused else "accepted"]
        assert ClientAnswer.objects.filter(revision=revision).exists() is not was_refused
    without_the_guard_what_lapsed_is_accepted(template, monkeypatch)


def without_the_guard_what_lapsed_is_accepted(template, monkeypatch):
    revision, meeting, lapsed = another(template, "c"), threading.Barrier(2), threading.Event()
    thaw(connection)
    monkeypatch.setattr("quoting.quotes.services.acceptance.move_revision", careless(meeting, lapsed))

    def lapse():
        meeting.wait(20)
        result = mark_lapsed(NOW, revision.valid_until + timedelta(days=1))
        lapsed.set()
        return result

    gave = at_once(partial(accept, revision, today=revision.valid_until), lapse)
    assert lost(gave) == [False, False] and gave[1] >= 1
    assert states(revision) == ["accepted"]


def test_what_is_issued_while_somebody_edits_is_what_was_seen(db):
    for turn in range(max(2, ROUNDS // 10)):
        job = small_job(f"E-{turn}")
        seen = figures_mark(job_file_of(job, TODAY), TODAY)
        estimator()
        gave = at_once(
            partial(issued, job, f"e-{turn}", seen_mark=seen),
            partial(save_pricing, job, PRICING | {"valid_days": 5}, seen_version=None, on_day=TODAY),
        )
        assert not isinstance(gave[1], Exception)
        if isinstance(gave[0], Exception):
            assert isinstance(gave[0], ChangedSinceShown)
            assert not QuoteRevision.objects.filter(quote__job=job).exists()
        else:
            assert (gave[0].valid_until - gave[0].quoted_on).days == 30
    without_the_guard_something_unseen_is_issued()


def without_the_guard_something_unseen_is_issued():
    job = small_job("E-c")
    save_pricing(job, PRICING | {"valid_days": 5}, seen_version=None, on_day=TODAY)
    revision = issued(job, "c", seen_mark=None)
    assert (revision.valid_until - revision.quoted_on).days == 5


LOW = {"policy": {"mode": "margin", "target_margin": "0.2", "minimum_margin": "0.3"}}


def low_job(key):
    job = small_job(key)
    save_pricing(job, PRICING | LOW, seen_version=None, on_day=TODAY)
    return job, figures_mark(job_file_of(job, TODAY), TODAY)


def test_a_low_price_issued_while_it_is_approved_has_its_second_person_or_is_refused(db):
    issuer, second = estimator(), estimator("second")
    for turn in range(max(2, ROUNDS // 10)):
        job, seen = low_job(f"A-{turn}")
        wanted = {"seen_mark": seen, "reason": "An old client", "now": NOW, "today": TODAY}
        gave = at_once(
            partial(issued, job, f"a-{turn}", seen_mark=seen, by=issuer),
            partial(approve_margin, job, by=second, **wanted),
        )
        assert isinstance(gave[1], MarginApproval)
        if isinstance(gave[0], Exception):
            assert isinstance(gave[0], Refused)
            assert not QuoteRevision.objects.filter(quote__job=job).exists()
        else:
            let_pass = RevisionApproval.objects.get(revision=gave[0])
            assert (let_pass.approval, let_pass.approved_by, let_pass.issued_by) == (gave[1], second, issuer)
    who_approves_while_issuing_does_not_pass_it(issuer)


def who_approves_while_issuing_does_not_pass_it(issuer):
    """The control: without the second person's guard the one who approves issues alone."""
    for guarded in (True, False):
        job, seen = low_job(f"A-{guarded}")
        approve_margin(job, seen_mark=seen, reason="Mine", by=issuer, now=NOW, today=TODAY)
        with pytest.MonkeyPatch.context() as patch:
            if not guarded:
                patch.setattr(quotes, "_second_person", lambda job, sheet, by: None)
            [gave] = at_once(partial(issued, job, f"alone-{guarded}", by=issuer))
        assert lost([gave]) == [guarded]
