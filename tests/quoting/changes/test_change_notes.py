"""Changes of what was agreed: priced, frozen, signed, and counted only then. Arithmetic worked by hand in each test."""

from copy import deepcopy
from decimal import Decimal

import pytest
from django.db import IntegrityError, connection, transaction
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.services.catalog_file import store_book
from jobs.deleted.models import Deleted
from jobs.deleted.services.deleted import Deletion, put_back
from quoting.changes.models import ChangeAnswer, ChangeDraft, ChangeNote
from quoting.changes.services.change_drafts import (
    draft_from_allowance,
    draft_from_walls,
    remove_draft,
    save_draft,
    spec_of_draft,
)
from quoting.changes.services.change_notes import answer_change, issue_change, withdraw_change
from quoting.changes.services.change_snapshots import frozen_change_paper
from quoting.changes.services.contracts import contract_of
from quoting.changes.services.draft_cautions import cautions_of, hours_sentence
from quoting.job_files.services.job_files import export_job_file, import_job_file
from quoting.platform import clock
from quoting.platform.errands.models import Errand
from quoting.platform.immutable_tables import freeze, thaw
from quoting.platform.papers.typeset import paper_html
from quoting.quotes.services.given_answers import Given
from quoting.quotes.services.snapshots import snapshot_of
from tests.documents import starter
from tests.support.answered import accept, secret_to, with_note_paper, with_paper
from tests.support.desk import as_
from tests.support.worked import NOW, PRICING, TODAY, estimator, issued, small_document, small_job

__all__ = ["as_"]
pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
NICHE = {
    "title": "A niche",
    "reason": "Asked for on site.",
    "days_moved": 2,
    "lines": [{"what": "Niche", "price": "200.00"}, {"what": "One door less", "price": "-80.00"}],
}


@pytest.fixture
def agreed(revision):
    accept(with_paper(revision))
    return revision.quote.job


def drafted(job, **more):
    return save_draft(job, NICHE | more, by=estimator(), now=NOW)


def noted(draft, key="note-1", **more):
    wanted = {"request_key": key, "seen_version": draft.version, "by": estimator(), "now": NOW, "today": TODAY}
    return issue_change(draft, **(wanted | more))


def signed(note, name="Ada Client"):
    return answer_change(note, Given("signed", name, entered_by_name="R. Sallow"), now=NOW, today=TODAY)


def test_a_note_is_exposure_until_it_is_signed_and_part_of_the_contract_then(agreed):
    """120.00 with 13 % tax is 135.60; the accepted total is 15,641.39; together 15,776.99."""
    note = with_note_paper(noted(drafted(agreed)))
    assert (note.number, note.price, note.tax) == (1, Decimal("120.00"), Decimal("15.60"))
    before = contract_of(agreed).sums
    assert (before.total, before.exposure) == (Decimal("15641.39"), Decimal("135.60"))
    signed(note)
    after = contract_of(agreed)
    assert (after.sums.total, after.sums.exposure, after.days_moved) == (Decimal("15776.99"), Decimal("0.00"), 2)
    assert ChangeAnswer.objects.get().typed_name == "Ada Client"


def test_nothing_is_changed_by_a_note_before_a_quote_is_accepted(revision):
    with pytest.raises(Refused, match="No quote of"):
        drafted(revision.quote.job)
    assert not ChangeDraft.objects.exists()


def test_the_same_request_issues_once_and_the_draft_is_gone(agreed):
    draft = drafted(agreed)
    assert noted(draft).pk == noted(draft).pk
    assert (ChangeNote.objects.count(), ChangeDraft.objects.count()) == (1, 0)
    assert Errand.objects.filter(kind="render_change_note").count() == 1


def test_a_note_is_answered_once(agreed):
    note = with_note_paper(noted(drafted(agreed)))
    first = signed(note)
    assert signed(note).pk == first.pk
    with pytest.raises(Refused, match="is signed, and that is final"):
        answer_change(note, Given("declined", "Ada Client"), now=NOW, today=TODAY)
    with pytest.raises(Refused, match="final"):
        withdraw_change(note.pk, now=NOW, by_name="R. Sallow", reason="A slip.")


def test_a_note_without_its_paper_cannot_be_signed(agreed):
    with pytest.raises(Refused, match="not made yet"):
        signed(noted(drafted(agreed)))
    assert contract_of(agreed).sums.signed == 0


def test_a_withdrawn_note_is_neither_contract_nor_exposure(agreed):
    note = noted(drafted(agreed))
    withdraw_change(note.pk, now=NOW, by_name="R. Sallow", reason="Not needed after all.")
    sums = contract_of(agreed).sums
    assert (sums.total, sums.exposure) == (Decimal("15641.39"), Decimal("0.00"))


def test_an_issued_note_is_frozen_by_the_database(agreed):
    note = noted(drafted(agreed))
    change = "UPDATE quoting_changenote SET total = 1 WHERE id = %s"
    with pytest.raises(IntegrityError), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(change, [note.pk])
    thaw(connection)  # The control: without the triggers the same statement goes through, but for its own sum.
    try:
        with connection.cursor() as cursor:
            cursor.execute("UPDATE quoting_changenote SET title = 'Other' WHERE id = %s", [note.pk])
    finally:
        freeze(connection)
    assert ChangeNote.objects.get(pk=note.pk).title == "Other"


def test_wrong_lines_are_refused_by_name_and_nothing_is_kept(agreed):
    with pytest.raises(DocumentError, match=r"lines\[0\].price"):
        drafted(agreed, lines=[{"what": "Niche", "price": "12.345"}])
    with pytest.raises(DocumentError, match="taxed"):
        drafted(agreed, lines=[{"what": "Niche", "price": "10.00", "taxed": "20.00"}])
    assert not ChangeDraft.objects.exists()


def test_a_change_of_the_walls_is_priced_against_what_was_agreed_and_then_counts_from_there(db):
    """Labour of 10 h more at 47.00 and 38 % margin: 470 / 0.62 = 758.06 more."""
    job = small_job()
    accept(with_paper(issued(job)))
    document = export_job_file(job, TODAY)
    document["pricing"]["labour"][0]["hours"] = "106"
    job = import_job_file(document, now=NOW, on_known="replace")
    draft = draft_from_walls(job, by=estimator(), now=NOW, today=TODAY)
    assert [line.price for line in draft.lines.all()] == [Decimal("758.06")]
    note = with_note_paper(noted(draft))
    assert snapshot_of(note)["job_file"]["pricing"]["labour"][0]["hours"] == "106"
    with pytest.raises(Refused, match="waits for a signature"):
        draft_from_walls(job, by=estimator(), now=NOW, today=TODAY)
    signed(note)
    with pytest.raises(Refused, match="as agreed"):
        draft_from_walls(job, by=estimator(), now=NOW, today=TODAY)


def longer(job, inches):
    document = export_job_file(job, TODAY)
    document["walls"][0]["pieces"][0]["arc"] = f"{inches} in"
    return import_job_file(document, now=NOW, on_known="replace")


def test_days_are_proposed_by_the_hours_and_move_nothing_until_somebody_enters_them(db):
    """One wall of about 19 h built twice as long is a day more for two people. An inch more is a stud of 0.54 h and a
    72nd of the 12 h of boards, coats and paint: 0.7 h."""
    job = small_job(pricing=deepcopy(PRICING) | {"materials": "takeoff"})
    accept(with_paper(issued(job)))
    draft = draft_from_walls(longer(job, 144), by=estimator(), now=NOW, today=TODAY)
    assert (draft.days_moved, draft.days_proposed) == (0, 1)
    assert "more work: 1 working day later proposed. Nothing moves until you enter days." in cautions_of(draft)[0]
    draft.days_moved = 1
    assert cautions_of(draft) == ()
    remove_draft(draft.pk, Deletion("Bram Sawtry", NOW))
    little = draft_from_walls(longer(job, 73), by=estimator(), now=NOW, today=TODAY)
    assert (little.days_proposed, cautions_of(little)) == (0, ())
    assert hours_sentence(little) == "0.7 h more work: too little to move the end."


def with_other_boards(job):
    document = export_job_file(job, TODAY)
    document["walls"][0]["left"]["layers"] = [{"board": "GB-38"}]
    store_book(starter(), on_known="keep")
    return import_job_file(document, now=NOW, on_known="replace")


def test_one_board_for_another_is_a_substitution_that_keeps_what_was_agreed(agreed):
    boards = starter().materials
    draft = draft_from_walls(with_other_boards(agreed), by=estimator(), now=NOW, today=TODAY)
    assert draft.kind == "substitution"
    assert boards["GB-14"].name in draft.original
    assert boards["GB-38"].name in draft.replacement
    assert cautions_of(draft) == ()


def test_a_substitution_agreed_in_words_is_not_charged_again_when_it_comes_to_the_walls(agreed):
    """What the note charged, 120.00, is taken off the difference of the walls; the contract counts it once."""
    boards = starter().materials
    swap = {"kind": "substitution", "original": boards["GB-14"].name, "replacement": f"{boards['GB-38'].name}, left"}
    note = with_note_paper(noted(drafted(agreed, **swap)))
    job = with_other_boards(agreed)
    with pytest.raises(Refused, match="waits for a signature"):
        draft_from_walls(job, by=estimator(), now=NOW, today=TODAY)
    signed(note)
    draft = draft_from_walls(job, by=estimator(), now=NOW, today=TODAY)
    taken_off = {line.what: line.price for line in draft.lines.all() if line.what.startswith("Agreed by change note 1")}
    assert sum(taken_off.values()) == Decimal("-120.00")
    assert "so it is left out here" in cautions_of(draft)[0]
    signed(with_note_paper(noted(draft, "note-2")))
    with pytest.raises(Refused, match="as agreed"):
        draft_from_walls(job, by=estimator(), now=NOW, today=TODAY)


def test_other_work_agreed_in_words_is_asked_about_before_a_difference_of_the_walls_is_issued(agreed):
    signed(with_note_paper(noted(drafted(agreed))))
    draft = draft_from_walls(with_other_boards(agreed), by=estimator(), now=NOW, today=TODAY)
    assert not any(line.what.startswith("Agreed by") for line in draft.lines.all())
    assert '"A niche", was typed by hand and is signed. If it is on the walls now too' in cautions_of(draft)[0]


def test_an_allowance_used_makes_a_draft_of_the_difference_once(db):
    """620 where 500 was allowed: 120 more."""
    document = small_document()
    document["pricing"]["allowances"] = [{"what": "Lamp", "amount": "500.00"}]
    job = small_job(pricing=document["pricing"])
    accept(with_paper(issued(job)))
    draft = draft_from_allowance(job, "Lamp", Decimal("620.00"), by=estimator(), now=NOW, today=TODAY)
    assert [line.price for line in draft.lines.all()] == [Decimal("120.00")]
    with pytest.raises(Refused, match="already"):
        draft_from_allowance(job, "Lamp", Decimal("700.00"), by=estimator(), now=NOW, today=TODAY)


def test_the_office_enters_a_change_issues_it_and_keeps_the_signature(agreed, client, make_person):
    client.force_login(make_person("estimator"))
    with clock.use(clock.FrozenClock(NOW)):
        typed = {"title": "A niche", "kind": "lines", "reason": "Asked for.", "days_moved": "1"}
        typed |= {"lines-0-what": "Niche", "lines-0-price": "200"}
        assert client.post(reverse("change_add", args=[agreed.pk]), typed).status_code == 302
        draft = ChangeDraft.objects.get()
        shown = client.get(reverse("change_draft", args=[draft.pk])).content.decode()
        assert "226.00" in shown
        client.post(reverse("change_issue", args=[draft.pk]), {"request_key": "k", "seen_version": str(draft.version)})
        note = with_note_paper(ChangeNote.objects.get())
        answer = {"name": "Ada Client", "answer": "signed"}
        client.post(reverse("change_answer", args=[agreed.pk, note.number]), answer)
        listed = client.get(reverse("change_list", args=[agreed.pk])).content.decode()
    assert "15,867.39" in listed and "Signed" in listed


def test_the_paper_says_price_days_and_the_contract(agreed):
    note = noted(drafted(agreed))
    paper = frozen_change_paper(note)
    assert paper.total.endswith("135.60") and "2 working days later" in paper.days
    assert paper.contract[-1].value.endswith("15,776.99")
    assert "Contract sum with this change" in paper_html(paper)


def test_a_client_reads_and_signs_a_note_by_the_link_of_the_accepted_quote_and_no_other_note(revision, client):
    secret = secret_to(with_paper(revision))
    accept(revision)
    note = with_note_paper(noted(drafted(revision.quote.job)))
    there = f"/q/{secret}/changes/{note.number}/"
    with clock.use(clock.FrozenClock(NOW)):
        shown = client.get(there)
        assert "135.60" in shown.content.decode() and shown["Cache-Control"] == "no-store"
        assert ChangeNote.objects.get().state == "issued"
        assert client.post(f"{there}answer/", {"answer": "sign", "name": ""}).status_code == 422
        client.post(f"{there}answer/", {"answer": "sign", "name": "Ada Client"})
        assert "Change note 1" in client.get(f"/q/{secret}/").content.decode()
        assert client.get(f"/q/{secret}/changes/2/").status_code == 404
    stored = ChangeAnswer.objects.get()
    assert (stored.answer, stored.way, stored.entered_by_name) == ("signed", "page", "")


def test_a_draft_that_was_deleted_is_put_back_by_those_who_price(agreed, as_):
    draft, owner = drafted(agreed), as_("owner")
    owner.post(reverse("change_draft_remove", args=[draft.pk]))
    row = Deleted.objects.get()
    back = reverse("job_put_back", args=[row.job_id, row.pk])
    assert as_("office").post(back).status_code == 403
    owner.post(back)
    again = agreed.change_drafts.get()
    assert spec_of_draft(again) == spec_of_draft(drafted(agreed)) and again.made_at == NOW


def test_of_two_drafts_from_the_walls_the_deleted_one_stays_deleted(agreed):
    draft = draft_from_walls(longer(agreed, 144), by=estimator(), now=NOW, today=TODAY)
    row = remove_draft(draft.pk, Deletion("Bram Sawtry", NOW))
    draft_from_walls(longer(agreed, 150), by=estimator(), now=NOW, today=TODAY)
    with pytest.raises(Refused, match="worked out from the walls already"):
        put_back(row, Deletion("Bram Sawtry", NOW))
