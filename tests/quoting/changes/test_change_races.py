"""Two people at once on one change note, or on the draft of one: exactly one wins, and the other is told. As
test_quote_races does for quotes, with a control to each race."""

import threading
from functools import partial

import pytest
from django.db import connection

from quoting.changes.models import ChangeAnswer, ChangeDraft, ChangeNote, ChangeNoteLine, ChangeState
from quoting.changes.services import change_notes
from quoting.changes.services.change_drafts import save_draft
from quoting.changes.services.change_notes import answer_change, issue_change, withdraw_change
from quoting.client.services import acceptance_withdrawal
from quoting.client.services.acceptance_withdrawal import Notice, take_back
from quoting.platform.immutable_tables import thaw
from quoting.quotes.models import CancellationTerm, QuoteRevision, TakeBack
from quoting.quotes.services.given_answers import Given
from tests.support.answered import accept, with_note_paper, with_paper
from tests.support.racing import ROUNDS, another, another_note, at_once, emptied, lost
from tests.support.worked import NOW, TODAY, estimator, issued, small_job

__all__ = ["emptied"]
pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.faults,
    pytest.mark.postgresql,
    pytest.mark.usefixtures("emptied"),
]
NICHE = {"title": "A niche", "reason": "Asked for.", "lines": [{"what": "Niche", "price": "200.00"}]}
DEARER = NICHE | {"lines": [{"what": "Niche", "price": "300.00"}]}


@pytest.fixture
def template(db):
    """A quote as issued, and a change note of another as accepted: both are copied for each round."""
    sent = with_paper(issued(small_job()))
    agreed = another(sent, "agreed")
    accept(agreed)
    note = note_of(drafted(agreed.quote.job), "template")
    return sent, with_note_paper(note)


def drafted(job, document=NICHE):
    return save_draft(job, document, by=estimator(), now=NOW)


def note_of(draft, key, seen_version=1):
    return issue_change(draft, request_key=key, seen_version=seen_version, by=estimator(), now=NOW, today=TODAY)


def accepted(template, turn):
    revision = another(template[0], turn)
    accept(revision)
    return revision


def waiting(template, turn):
    return another_note(template[1], accepted(template, turn))


def answered(note, answer, name="Ada Client"):
    return answer_change(note, Given(answer, name), now=NOW, today=TODAY)


def withdrawn(note):
    return withdraw_change(note.pk, now=NOW, by_name="R. Sallow", reason="A slip.")


def signed_by_ada_and(second, template, turn):
    note = waiting(template, turn)
    gave = at_once(partial(answered, note, "signed"), partial(second, note))
    note.refresh_from_db()
    return note, lost(gave)


@pytest.mark.parametrize(
    ("second", "then"),
    [
        (withdrawn, ChangeState.WITHDRAWN),
        (partial(answered, answer="declined"), ChangeState.DECLINED),
        (partial(answered, answer="signed", name="Ben Other"), ChangeState.SIGNED),
    ],
    ids=["sign and withdraw", "sign and decline", "sign and sign"],
)
def test_of_two_who_end_a_note_one_does(template, second, then, monkeypatch):
    for turn in range(ROUNDS):
        note, was_lost = signed_by_ada_and(second, template, turn)
        assert sorted(was_lost) == [False, True]
        assert note.state == (then if was_lost[0] else ChangeState.SIGNED)
        does = ChangeAnswer.objects.filter(note=note)
        assert [entry.answer for entry in does] == ([] if note.state == ChangeState.WITHDRAWN else [note.state])
    without_the_guard_both_end_it(template, second, monkeypatch)


def without_the_guard_both_end_it(template, second, monkeypatch):
    thaw(connection)
    monkeypatch.setattr(change_notes, "_move", looks_then_writes(threading.Barrier(2)))
    monkeypatch.setattr(ChangeAnswer.objects, "create", lambda **stored: stored)
    assert signed_by_ada_and(second, template, "c")[1] == [False, False]


def looks_then_writes(meeting):
    def move(note_id, state, *, now, by_name, reason):
        stands = ChangeNote.objects.filter(pk=note_id, state=ChangeState.ISSUED).exists()
        meeting.wait(20)
        ChangeNote.objects.filter(pk=note_id).update(state=state, state_at=now, state_by_name=by_name)
        return stands

    return move


def edited(draft):
    return save_draft(draft.job, DEARER, by=estimator(), now=NOW, draft=draft, seen_version=1)


def test_a_draft_issued_while_it_is_edited_is_issued_as_shown_or_not_at_all(template, monkeypatch):
    estimator()
    for turn in range(ROUNDS):
        draft = drafted(accepted(template, turn).quote.job)
        gave = at_once(partial(note_of, draft, f"e-{turn}"), partial(edited, draft))
        was_lost = lost(gave)
        assert sorted(was_lost) == [False, True]
        issued_prices = list(ChangeNoteLine.objects.filter(note__job=draft.job).values_list("price", flat=True))
        drafted_prices = list(ChangeDraft.objects.filter(pk=draft.pk).values_list("lines__price", flat=True))
        assert (issued_prices, drafted_prices) == (([], [300]) if was_lost[0] else ([200], []))
    without_the_guard_an_edit_is_lost(template, monkeypatch)


def without_the_guard_an_edit_is_lost(template, monkeypatch):
    """The draft is read and, before it is frozen, edited: the edit is said to be kept, and is gone."""
    draft, read, saved = drafted(accepted(template, "c").quote.job), threading.Event(), threading.Event()

    def unlocked(draft, seen_version):
        row = ChangeDraft.objects.get(pk=draft.pk)
        read.set()
        saved.wait(20)
        return row

    def edit():
        read.wait(20)
        row = edited(draft)
        saved.set()
        return row

    monkeypatch.setattr(change_notes, "_as_shown", unlocked)
    assert lost(at_once(partial(note_of, draft, "c"), edit)) == [False, False]
    assert not ChangeDraft.objects.filter(pk=draft.pk).exists()


def backed(revision, name="Ada Client"):
    return take_back(revision, Notice(name, TODAY), now=NOW, today=TODAY)


@pytest.fixture
def with_window(db):
    CancellationTerm.objects.create(starts_on=TODAY, days=3, counting="calendar", source="our lawyer")


def test_of_two_who_take_an_acceptance_back_one_does(with_window, template, monkeypatch):
    for turn in range(ROUNDS):
        revision = accepted(template, turn)
        gave = at_once(partial(backed, revision), partial(backed, revision, "Ben Other"))
        assert sorted(lost(gave)) == [False, True]
        revision.refresh_from_db()
        does = TakeBack.objects.get(answer__revision=revision)
        assert (revision.state, revision.state_by_name) == ("taken_back", does.typed_name)
    without_the_guard_both_take_it_back(template, monkeypatch)


def without_the_guard_both_take_it_back(template, monkeypatch):
    thaw(connection)
    revision, meeting, stored = accepted(template, "c"), threading.Barrier(2), []

    def looks_then_writes(revision, given_on, *, now, by_name, reason):
        stands = QuoteRevision.objects.filter(pk=revision.pk, state="accepted").exists()
        meeting.wait(20)
        QuoteRevision.objects.filter(pk=revision.pk).update(state="taken_back")
        return stands

    monkeypatch.setattr(acceptance_withdrawal, "_lock", lambda job_id: None)
    monkeypatch.setattr(acceptance_withdrawal, "_move", looks_then_writes)
    monkeypatch.setattr(acceptance_withdrawal, "_keep", lambda *about: stored.append(about))
    assert lost(at_once(partial(backed, revision), partial(backed, revision, "Ben Other"))) == [False, False]
    assert len(stored) == 2


def test_a_note_issued_while_the_acceptance_is_taken_back_does_not_wait_for_a_signature(with_window, template):
    estimator()
    for turn in range(ROUNDS):
        revision = accepted(template, turn)
        draft = drafted(revision.quote.job)
        gave = at_once(partial(note_of, draft, f"t-{turn}"), partial(backed, revision))
        assert lost(gave)[1] is False
        left = ChangeNote.objects.filter(revision=revision).values_list("state", flat=True)
        assert list(left) == ([] if lost(gave)[0] else [ChangeState.WITHDRAWN])
    without_the_lock_a_note_waits_on_nothing(template)


def without_the_lock_a_note_waits_on_nothing(template):
    """The contract is read and, before the note is frozen, taken back: the note waits for what nobody can sign."""
    revision, read, gone = accepted(template, "c"), threading.Event(), threading.Event()
    draft, contract_of = drafted(revision.quote.job), change_notes.contract_of

    def read_first(job):
        contract = contract_of(job)
        read.set()
        gone.wait(20)
        return contract

    def back():
        read.wait(20)
        backed(revision)
        gone.set()

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(change_notes, "contract_of", read_first)
        patch.setattr(acceptance_withdrawal, "_lock", lambda job_id: None)
        assert lost(at_once(partial(note_of, draft, "c"), back)) == [False, False]
    assert ChangeNote.objects.get(revision=revision).state == ChangeState.ISSUED
