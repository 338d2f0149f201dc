"""One board in the place of another: what was agreed stays, and the change is counted once."""

from copy import deepcopy
from dataclasses import replace

import pytest

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.services.catalog_file import store_book
from jobs.walls.models import Layer
from quoting.changes.services.change_drafts import draft_from_walls
from quoting.changes.services.change_notes import answer_change, issue_change
from quoting.changes.services.contracts import agreed_job_file
from quoting.changes.services.substitutions import substitute
from quoting.quotes.services.given_answers import Given
from tests.documents import starter
from tests.support.answered import accept, with_note_paper, with_paper
from tests.support.worked import NOW, PRICING, TODAY, estimator, issued, small_book, small_job

ASKED = {"material": "GB-14", "instead": "GB-38", "reason": "The thin board cannot be had before March."}
pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


def agreed_job():
    job = small_job(pricing=deepcopy(PRICING) | {"materials": "takeoff"})
    store_book(replace(small_book(), materials={"GB-38": starter().materials["GB-38"]}), on_known="keep")
    accept(with_paper(issued(job)))
    return job


def asked(job, **more):
    return substitute(job, ASKED | more, by=estimator(), now=NOW, today=TODAY)


def note_of(row):
    draft = row.draft
    note = issue_change(draft, request_key="note", seen_version=draft.version, by=estimator(), now=NOW, today=TODAY)
    return with_note_paper(note)


def test_nothing_is_put_in_the_place_of_what_nobody_agreed(db):
    with pytest.raises(Refused, match="No quote of"):
        asked(small_job())


def test_a_substitution_is_priced_linked_both_ways_and_counted_once():
    job = agreed_job()
    with pytest.raises(DocumentError, match="cannot take its place"):
        asked(job, instead="STUD-358")
    row, _ = asked(job)
    assert asked(job) == (row, False)
    assert row.draft.kind == "substitution" and row.draft.lines.get().price != 0
    assert "GB-14" in [layer.board_id for layer in Layer.objects.all()], "the wall stays as it was agreed"
    note = note_of(row)
    row.refresh_from_db()
    assert (row.note, row.draft, note.substitution) == (note, None, row)
    with pytest.raises(Refused, match="waits for a signature"):
        draft_from_walls(job, by=estimator(), now=NOW, today=TODAY)
    answer_change(note, Given("signed", "Ada Client"), now=NOW, today=TODAY)
    assert agreed_job_file(note.revision).job.walls[0].left.layers[0].board == "GB-38"
    Layer.objects.update(board_id="GB-38")
    with pytest.raises(Refused, match="as agreed: there is nothing"):
        draft_from_walls(job, by=estimator(), now=NOW, today=TODAY)
