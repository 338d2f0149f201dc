"""The letter of a claim on the dental screen's base: of four pieces the second came damaged and the fourth wrong."""

import io
import re

import pytest
from django.core import mail as post
from django.urls import reverse
from pypdf import PdfReader

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.models import Supplier
from jobs.deliveries.models import ClaimMail, ReceiptLine
from jobs.deliveries.services.claim_errands import MailClaim
from jobs.deliveries.services.claim_letters import claim_letter, request_letter
from jobs.deliveries.services.claim_mailing import MAIL_CLAIM, queue_claim_mail
from jobs.deliveries.services.claims import correct_receipt, receipts_with_parts, settle_claim
from jobs.deliveries.services.deliveries import add_receipt_photo
from quoting.audit_checks import papers_are_kept
from quoting.platform import failpoints
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errand_kinds import Claim
from quoting.platform.errands.services.errands import run_errand
from quoting.platform.papers.models import Paper
from quoting.platform.papers.papers import RENDER_CLAIM_LETTER, path_of
from tests.jobs.deliveries.test_pieces_checked_in import BAD, MOMENT, NOW, SIGNED, came, job, line
from tests.jobs.walls.test_photos import picture
from tests.support.desk import as_

__all__ = ["as_", "job", "line"]
pytestmark = pytest.mark.django_db
ASKED = {"request_key": "0123456789abcdef", "asks": "make_again", "to_address": "claims@mill.example"}


@pytest.fixture
def row(line, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    Supplier.objects.filter(code="HENNOCK").update(contact="Ada", phone="555 0148", account_number="K-207")
    return fresh(came(line, BAD))


def fresh(row):
    return receipts_with_parts().get(pk=row.pk)


def ask(row, **other):
    return queue_claim_mail(row, ASKED | other, SIGNED, now=NOW)


def run(kind):
    return run_errand(Errand.objects.get(kind=kind).pk, "w")


def sent_mail(row):
    ask(row)
    return [run(RENDER_CLAIM_LETTER), run(MAIL_CLAIM)]


def test_the_letter_names_supplier_order_pieces_and_what_is_asked(row):
    letter = claim_letter(row, "credit", SIGNED)
    facts = {fact.label: fact.value for fact in letter.facts}
    assert letter.supplier.lines == ("Ada", "555 0148", "sales@hennock.example", "Our account K-207")
    assert facts["Our order"] == f"{row.delivery.order.number}, line 1" and facts["Came on"] == "Wed 9 Dec 2026"
    assert (letter.ordered, letter.came) == ("4 pieces", "2 good, 1 damaged, 1 wrong")
    assert [(piece.number, piece.length, piece.came, piece.place) for piece in letter.pieces] == [
        ("2", "4' 0\"", "damaged", "Base, desk side, Reception screen: 2 from the right"),
        ("4", "5' 0\"", "wrong", "Base, waiting side, Reception screen: 2 from the left"),
    ]
    assert letter.asks == "Please credit what came damaged or wrong: 2 of 4 pieces."


def test_the_last_day_to_claim_stands_in_it_or_that_nobody_stated_it(row):
    def last(entry):
        return {fact.label: fact.value for fact in claim_letter(entry, "credit", SIGNED).facts}["Last day to claim"]

    row.claim_by = None
    assert last(row) == "not stated in your terms"
    row.claim_by = MOMENT.date()
    assert last(row) == "Wed 9 Dec 2026"


def test_more_than_was_ordered_is_asked_to_be_taken_back(line, row):
    good = {"pieces": [{"number": n, "state": "good"} for n in BAD], "more": "1", "note": "Looked again"}
    row = fresh(correct_receipt(row, good | {"seen": [2, 1, 1]}))
    message = claim_letter(row, "make_again", SIGNED).asks
    assert message == "Please collect what came beyond the order, 1 more than 4 pieces, and credit it."


def test_the_letter_is_one_page_with_its_photos_and_making_it_claims_nothing(row):
    add_receipt_photo(row, picture(), caption="Cracked along the back", signature=SIGNED, now=NOW)
    request_letter(fresh(row), {"asks": "credit"}, SIGNED, NOW)
    assert run(RENDER_CLAIM_LETTER) == "done"
    [page] = PdfReader(path_of(Paper.objects.get())).pages
    assert "Cracked along the back" in page.extract_text() and len(page.images) == 1
    assert fresh(row).claimed_on is None and not Errand.objects.filter(kind=MAIL_CLAIM).exists()


def test_a_letter_that_left_by_the_mail_server_is_the_claim_under_the_name_of_who_sent_it(row):
    assert [ask(row).pk, ask(row).pk] == [ClaimMail.objects.get().pk] * 2
    assert not Errand.objects.filter(kind=MAIL_CLAIM).exists(), "it waits for its letter"
    assert [run(RENDER_CLAIM_LETTER), run(MAIL_CLAIM), run(MAIL_CLAIM)] == ["done", "done", "not ours"]
    [message] = post.outbox
    assert message.to == ["claims@mill.example"] and message.attachments[0][0] == "claim-O-0001-line-1.pdf"
    text = PdfReader(io.BytesIO(message.attachments[0][1])).pages[0].extract_text()
    assert "K-207" in text and "2 from the left" in text
    assert (fresh(row).claimed_on, fresh(row).claimed_by_name) == (MOMENT.date(), "R. Sallow")


def test_a_letter_that_stays_in_the_folder_claims_nothing_and_is_not_called_sent(row, as_, settings, tmp_path):
    settings.EMAIL_BACKEND, settings.EMAIL_FILE_PATH = "quoting.platform.mail_folder.EmailBackend", tmp_path
    assert sent_mail(row) == ["done", "done"]
    assert fresh(row).claimed_on is None and ClaimMail.objects.get().left_at is None
    page = as_("office").get(reverse("receipt", args=[row.pk])).content.decode()
    assert "Not sent: kept in the mail folder" in page and "Not claimed yet" in page


def test_a_claim_entered_by_hand_keeps_its_day_and_name(row):
    ReceiptLine.objects.update(claimed_on=MOMENT.date(), claimed_by_name="By telephone")
    sent_mail(row)
    assert fresh(row).claimed_by_name == "By telephone"


@pytest.mark.both_engines
@pytest.mark.parametrize("place", ["mail_begun", "mail_sent"])
def test_a_worker_that_stops_while_sending_leaves_a_doubt_no_claim_and_no_second_mail(row, place):
    ask(row)
    run(RENDER_CLAIM_LETTER)
    killed(place)
    before = len(post.outbox)
    assert run(MAIL_CLAIM) == "failed" and len(post.outbox) == before <= 1
    assert "may not have left" in Errand.objects.get(kind=MAIL_CLAIM).error
    assert fresh(row).claimed_on is None


def test_without_the_beginning_that_is_kept_a_second_mail_would_leave(row):
    """The control of the one before."""
    ask(row)
    run(RENDER_CLAIM_LETTER)
    killed("mail_sent")
    ClaimMail.objects.update(began_at=None)
    assert run(MAIL_CLAIM) == "done" and len(post.outbox) == 2


def killed(place):
    errand = Errand.objects.get(kind=MAIL_CLAIM)
    with failpoints.ordered(**{place: "raise"}), pytest.raises(failpoints.FailpointError):
        # Past the errand's own net, as a killed process would be.
        MailClaim().work(Claim(errand.pk, errand.kind, errand.key, errand.payload, "w", 1, lambda text, percent: None))


def test_what_was_corrected_or_settled_since_is_not_sent(row):
    ask(row)
    run(RENDER_CLAIM_LETTER)
    right = {"pieces": [{"number": n, "state": "good" if n == 4 else s} for n, s in BAD.items()], "note": "It is right"}
    correct_receipt(row, right | {"seen": [2, 1, 1]})
    assert run(MAIL_CLAIM) == "failed" and not post.outbox
    assert "corrected after this letter was written" in Errand.objects.get(kind=MAIL_CLAIM).error
    settle_claim(row, {"outcome": "kept"}, SIGNED)
    with pytest.raises(Refused, match="answered already"):
        request_letter(fresh(row), {"asks": "credit"}, SIGNED, NOW)


def test_wrong_entries_are_named_and_nothing_is_kept(row):
    with pytest.raises(DocumentError, match="asks"):
        ask(row, asks="money")
    with pytest.raises(Refused, match="not a mail address"):
        ask(row, to_address="the mill")
    assert not ClaimMail.objects.exists() and not Errand.objects.filter(kind=RENDER_CLAIM_LETTER).exists()


def test_the_office_makes_and_sends_the_letter_from_the_receipt(row, as_):
    office, page = as_("office"), reverse("receipt", args=[row.pk])
    assert 'value="sales@hennock.example"' in office.get(page).content.decode()
    message = office.post(reverse("receipt_letter", args=[row.pk]), ASKED, follow=True).content.decode()
    assert "The letter is being made." in message and "Making the PDF" in message
    for _ in range(2):
        message = office.post(reverse("receipt_send", args=[row.pk]), ASKED, follow=True).content.decode()
    assert "waits for its letter" in message and ClaimMail.objects.count() == 1
    assert as_("lead").post(reverse("receipt_send", args=[row.pk]), ASKED).status_code == 403


def test_a_claim_with_its_letter_ready_has_one_filled_button(row, as_):
    request_letter(row, {"asks": "make_again"}, SIGNED, NOW)
    run(RENDER_CLAIM_LETTER)
    page = as_("office").get(reverse("receipt", args=[row.pk])).content.decode()
    filled = [entry for entry in re.findall(r"<(?:a|button)[^>]*>", page.split("</header>")[1]) if is_filled(entry)]
    assert "Download PDF" in page and len(filled) == 1, filled


def is_filled(tag):
    is_button = tag.startswith("<button") or 'class="button' in tag
    return is_button and "plain" not in tag


def test_the_letter_is_handed_to_the_desk_alone_and_audited(row, as_):
    request_letter(row, {"asks": "credit"}, SIGNED, NOW)
    run(RENDER_CLAIM_LETTER)
    paper = Paper.objects.get()
    url = reverse("paper", args=[paper.pk])
    assert as_("office").get(url)["Content-Disposition"] == 'attachment; filename="claim-O-0001-line-1.pdf"'
    assert as_("lead").get(url).status_code == 403 and not list(papers_are_kept(NOW))
    path_of(paper).unlink()
    assert any("Claim, order O-0001, line 1" in message for message in papers_are_kept(NOW))


def test_the_api_makes_the_letter_and_sends_it_once(office, row):
    path = f"/api/receiving/receipts/{row.pk}"
    assert office.get(f"{path}/letter").json()["state"] == "none"
    assert office.get(f"{path}/letter/file").status_code == 409
    assert office.post(f"{path}/letter", {"asks": "make_again"}).json()["state"] == "waiting"
    run(RENDER_CLAIM_LETTER)
    assert office.get(f"{path}/letter").json()["paper"]["file_name"] == "claim-O-0001-line-1.pdf"
    assert office.get(f"{path}/letter/file").content.startswith(b"%PDF")
    # The letter is written by whoever asks.
    answers = [office.post(f"{path}/mails", ASKED).status_code for _ in range(2)]
    assert answers == [201, 200] and len(office.get(f"{path}/mails").json()["mails"]) == 1
    assert office.post(f"{path}/letter", {}).status_code == 400
