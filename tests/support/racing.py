"""Two people at once: steps let go at the same moment, on quotes issued alike, with what each step gave."""

import os
import threading
from collections.abc import Callable
from typing import Any

import pytest
from django.db import connection

from catalog.core.ground.refusal import Refused
from quoting.changes.models import ChangeNote
from quoting.platform.immutable_tables import freeze, thaw
from quoting.platform.papers.models import Paper
from quoting.quotes.models import Quote, QuoteRevision, RevisionState
from tests.support.worked import NOW

# 200 of each under make faults, which asks for 20.
ROUNDS = 10 * int(os.environ.get("CURVEWRIGHT_FAULT_ROUNDS", "0")) or 4


@pytest.fixture
def emptied():
    """What is issued refuses to be emptied; the next test begins with the triggers again."""
    freeze(connection)
    yield
    thaw(connection)


def another(template: QuoteRevision, turn: object) -> QuoteRevision:
    """A quote of its own for each round, as issued as the first, without working it up again."""
    job, revision, paper = (type(row).objects.get(pk=row.pk) for row in (template.quote.job, template, template.paper))
    job.pk, job.key, job._state.adding = None, f"R-{turn}", True
    job.save()
    quote = Quote.objects.create(job=job, number=f"Q-R-{turn}", opened_at=NOW)
    return copied(revision, paper, quote, 1)


def copied(revision: QuoteRevision, paper: Paper | None, quote: Quote, number: int) -> QuoteRevision:
    revision.pk, revision._state.adding = None, True
    revision.quote, revision.number, revision.request_key, revision.state = quote, number, f"{quote}-{number}", "issued"
    revision.save()
    if paper is not None:
        paper.pk, paper._state.adding = None, True
        paper.revision, paper.job, paper.key = revision, quote.job, f"paper {quote} {number}"
        paper.save()
    return revision


def another_note(template: ChangeNote, revision: QuoteRevision) -> ChangeNote:
    """The note once more, of another accepted revision, its paper with it."""
    note, paper = ChangeNote.objects.get(pk=template.pk), Paper.objects.get(change_note=template)
    note.pk, note._state.adding, note.request_key = None, True, f"note of {revision}"
    note.job, note.revision = revision.quote.job, revision
    note.save()
    paper.pk, paper._state.adding = None, True
    paper.change_note, paper.job, paper.key = note, note.job, f"paper of {note}"
    paper.save()
    return note


def at_once(*steps: Callable[[], Any]) -> list[Any]:
    """What each gave, or its refusal; all begin at the same moment."""
    gate, gave = threading.Barrier(len(steps)), [None] * len(steps)

    def run(place: int, step: Callable[[], Any]) -> None:
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


def lost(gave: list[Any]) -> list[bool]:
    """Which of them were refused; anything else that went wrong is no refusal."""
    strange = [
        exception for exception in gave if isinstance(exception, Exception) and not isinstance(exception, Refused)
    ]
    assert strange == []
    return [isinstance(entry, Exception) for entry in gave]


def careless(meeting: threading.Barrier, then: threading.Event | None = None) -> Callable[..., QuoteRevision]:
    """The step without its guard: look, then write. meeting: where two have looked; then: what is awaited after it."""

    def move(
        revision_id: int, state: RevisionState, *, now: Any, by_name: str, reason: str = "", valid_on: Any = None
    ) -> QuoteRevision:
        row = QuoteRevision.objects.select_related("quote").get(pk=revision_id)
        if row.state != RevisionState.ISSUED:
            raise Refused(f"{row} is {row.state}.")
        meeting.wait(20)
        if then is not None:
            then.wait(20)
        QuoteRevision.objects.filter(pk=revision_id).update(state=state, state_at=now, state_by_name=by_name)
        return row

    return move
