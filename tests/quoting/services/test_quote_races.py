"""Two people at once on one quote: exactly one wins, and the other is told. Threads on PostgreSQL, which alone lets
two write at the same time; each race ends with its control, the same with the guard taken away."""

import os
import threading
from datetime import timedelta
from functools import partial

import pytest
from django.db import connection, transaction

from quoting.frozen import freeze, thaw
from quoting.models import ClientAnswer, Quote, QuoteRevision, RevisionState
from quoting.services import quotes
from quoting.services.acceptance import AnswerRefused
from quoting.services.job_files import figures_mark, job_file_of
from quoting.services.pricing import save_pricing
from quoting.services.quotes import ChangedSinceShown, QuoteRefused
from quoting.services.revisions import StepRefused, mark_lapsed, move_revision
from tests.quoting.answered import accept, with_paper
from tests.quoting.worked import NOW, PRICING, TODAY, estimator, issued, small_job

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults, pytest.mark.postgresql]

# 200 of each under make faults, which asks for 20.
ROUNDS = 10 * int(os.environ.get("CURVEWRIGHT_FAULT_ROUNDS", "0")) or 4
REFUSALS = (AnswerRefused, QuoteRefused, StepRefused)


@pytest.fixture(autouse=True)
def emptied():
    """What is issued refuses to be emptied; the next test begins with the triggers again."""
    freeze(connection)
    yield
    thaw(connection)


@pytest.fixture
def template(db):
    return with_paper(issued(small_job()))


def another(template, turn):
    """A quote of its own for each round, as issued as the first, without working it up again."""
    job, revision, paper = (type(row).objects.get(pk=row.pk) for row in (template.quote.job, template, template.paper))
    job.pk, job.key, job._state.adding = None, f"R-{turn}", True
    job.save()
    quote = Quote.objects.create(job=job, number=f"Q-R-{turn}", opened_at=NOW)
    return copied(revision, paper, quote, 1)


def copied(revision, paper, quote, number):
    revision.pk, revision._state.adding = None, True
    revision.quote, revision.number, revision.request_key, revision.state = quote, number, f"{quote}-{number}", "issued"
    revision.save()
    if paper is not None:
        paper.pk, paper._state.adding = None, True
        paper.revision, paper.job, paper.key = revision, quote.job, f"paper {quote} {number}"
        paper.save()
    return revision


def at_once(*steps):
    """What each gave, or its refusal; all begin at the same moment."""
    gate, gave = threading.Barrier(len(steps)), [None] * len(steps)

    def run(place, step):
        try:
            connection.ensure_connection()
            gate.wait(20)
            gave[place] = step()
        except Exception as error:
            gave[place] = error
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=pair) for pair in enumerate(steps)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)
    return gave


def lost(gave):
    strange = [one for one in gave if isinstance(one, Exception) and not isinstance(one, REFUSALS)]
    assert strange == []
    return [isinstance(one, Exception) for one in gave]


def careless(meeting, then=None):
    """The step without its guard: look, then write. meeting: where two have looked; then: what is awaited after it."""

    def move(revision_id, state, *, now, by_name, reason="", valid_on=None):
        row = QuoteRevision.objects.select_related("quote").get(pk=revision_id)
        if row.state != RevisionState.ISSUED:
            raise StepRefused(f"{row} is {row.state}.")
        meeting.wait(20)
        if then is not None:
            then.wait(20)
        QuoteRevision.objects.filter(pk=revision_id).update(state=state, state_at=now, state_by_name=by_name)
        return row

    return move


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
        kept = ClientAnswer.objects.get(revision=revision)
        revision.refresh_from_db()
        assert (revision.state, revision.state_by_name) == ("accepted", kept.typed_name)
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
    monkeypatch.setattr("quoting.services.acceptance.move_revision", careless(meeting))
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
    monkeypatch.setattr("quoting.services.acceptance.move_revision", careless(meeting, lapsed))

    def lapse():
        meeting.wait(20)
        found = mark_lapsed(NOW, revision.valid_until + timedelta(days=1))
        lapsed.set()
        return found

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
