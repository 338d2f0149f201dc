"""What passes between firm and client, through the API: mails, links, answers, taking back, change notes, texts.

Every answer is held against the API's own schema by the asker. 15,641.39 was accepted; 200.00 with 13 % is 226.00.
"""

from datetime import date

import pytest
from django.test import override_settings

from quoting.client.models import ClientLink, QuoteMail
from quoting.client.services.client_links import find_link
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import run_errand
from quoting.quotes.models import CancellationTerm
from tests.quoting.client.test_taking_back import noted
from tests.support.answered import accept, with_note_paper, with_paper
from tests.support.asking import reasons
from tests.support.worked import NOW, issued, small_job

pytestmark = pytest.mark.django_db
MAIL = {"request_key": "m-1", "to_address": "client@firm.example"}


@pytest.fixture
def job(frozen_clock):
    frozen_clock.move_to(NOW)
    return small_job()


@pytest.fixture
def sent(job):
    CancellationTerm.objects.create(starts_on=date(2026, 1, 1), days=3, counting="calendar", source="our lawyer")
    return with_paper(issued(job))


def of(revision, rest=""):
    return f"/api/quotes/{revision.quote.number}/revisions/{revision.number}{rest}"


def test_a_revision_is_mailed_once_and_its_mails_are_read(office, lead, sent):
    first, again = office.post(of(sent, "/mails"), MAIL), office.post(of(sent, "/mails"), MAIL)
    assert (first.status_code, again.status_code) == (201, 200)
    assert first.json() == again.json() == office.get(of(sent, "/mails")).json()["mails"][0]
    assert (first.json()["state"], QuoteMail.objects.get().origin) == ("waiting", "http://testserver")
    assert Errand.objects.filter(kind="mail_quote").count() == 1
    wrong = office.post(of(sent, "/mails"), MAIL | {"request_key": "m-2", "to_address": "nobody"})
    assert (wrong.status_code, "is not a mail address" in reasons(wrong)[""]) == (409, True)
    assert lead.post(of(sent, "/mails"), MAIL).status_code == 403


def test_a_mail_kept_in_the_folder_has_no_time_it_was_sent_at(office, sent, tmp_path):
    office.post(of(sent, "/mails"), MAIL)
    with override_settings(EMAIL_BACKEND="quoting.platform.mail_folder.EmailBackend", EMAIL_FILE_PATH=tmp_path):
        assert run_errand(Errand.objects.get(kind="mail_quote").pk, "w") == "done"
    [stored] = office.get(of(sent, "/mails")).json()["mails"]
    assert (stored["sent_at"], stored["went_by"]) == (None, "folder")


def test_a_link_is_told_once_and_withdrawn(office, sent):
    made = office.post(of(sent, "/link"))
    secret = made.json()["address"].rstrip("/").rpartition("/")[2]
    assert find_link(secret).revision == sent and made["Cache-Control"] == "no-store"
    assert office.post(of(sent, "/link/withdraw")).json() == {"in_use": False}
    assert office.post(of(sent, "/link/withdraw")).status_code == 409
    assert ClientLink.objects.get().withdrawn_at is not None


def test_an_answer_on_paper_is_entered_and_taken_back(office, estimator, sent):
    answer = {"answer": "accepted", "name": "Ada Client", "signed_on": "2026-11-25"}
    assert office.get(of(sent, "/answer")).status_code == 409
    late = office.post(of(sent, "/answer"), answer | {"signed_on": "2026-11-26"})
    assert "must be a day from the day it was quoted" in reasons(late)[""]
    for _ in range(2):
        entered = office.post(of(sent, "/answer"), answer)
        assert (entered.status_code, entered.json()["way"], entered.json()["taken_back"]) == (201, "paper", None)
    back = {"name": "Ada Client", "given_on": "2026-11-25", "way": "letter", "reason": "none given"}
    assert set(reasons(office.post(of(sent, "/take-back"), back | {"way": "page"}))) == {"way"}
    taken = office.post(of(sent, "/take-back"), back)
    assert taken.json()["taken_back"]["entered_by"] == "the-office"
    assert office.get(of(sent)).json()["state"] == "taken_back"
    contract = office.get(f"/api/jobs/{sent.quote.job.key}/contract")
    assert (contract.status_code, "the contract sum is zero" in reasons(contract)[""]) == (409, True)


def test_a_change_note_is_read_mailed_answered_and_withdrawn(office, estimator, sent, job):
    accept(sent)
    first, second = with_note_paper(noted(job)), noted(job, "m")
    there = f"/api/jobs/{job.key}/change-notes"
    assert office.get(f"{there}/1").json()["lines"] == [{"what": "Niche", "price": "200.00", "taxed": "200.00"}]
    assert [office.post(f"{there}/1/mails", MAIL).status_code for _ in range(2)] == [201, 200]
    assert office.get(f"{there}/1/mails").json()["mails"][0]["to_address"] == "client@firm.example"
    assert office.get(of(sent, "/mails")).json()["mails"] == []
    assert office.post(f"{there}/2/mails", MAIL | {"request_key": "m-2"}).status_code == 409, "no paper yet"
    signed = office.post(f"{there}/1/answer", {"answer": "signed", "name": "Ada Client"})
    assert (signed.status_code, signed.json()["state"], signed.json()["answer"]["way"]) == (201, "signed", "paper")
    assert office.post(f"{there}/2/withdraw", {"reason": "A slip."}).status_code == 403
    assert estimator.post(f"{there}/2/withdraw", {"reason": "A slip."}).json()["state"] == "withdrawn"
    assert estimator.post(f"{there}/1/withdraw", {"reason": "A slip."}).status_code == 409
    assert office.get(f"{there}/3").status_code == 404
    assert (first.number, second.number) == (1, 2)


def test_sentences_and_notices_are_entered_changed_ended_and_removed(estimator, office, job):
    sentence, of = {"block": "cautions", "text": "Dust.", "starts_on": "2026-11-01"}, {"of": "/api/texts"}
    assert office("PUT", "/api/texts/sentences/dust", sentence).status_code == 403
    for text in ("Dust.", "Dust is made."):
        entered = estimator.as_read("PUT", "/api/texts/sentences/dust", sentence | {"text": text}, **of)
    assert estimator.as_read("PUT", "/api/texts/sentences/Dust%20X", sentence, **of).status_code == 400
    end = "/api/texts/sentences/dust/end"
    assert estimator.as_read("POST", end, {"last_day": "2026-12-01"}, **of).status_code == 204
    assert estimator.as_read("POST", end, {"last_day": "2027-01-01"}, **of).status_code == 409
    notice = {"place": "Sallow Reach", "language": "en", "version": "1", "title": "N", "text": "T",
              "starts_on": "2026-11-01"}  # fmt: skip
    ids = {estimator.as_read("POST", "/api/texts/notices", notice, **of).json()["id"] for _ in range(2)}
    required = {"name": "Sallow Reach", "requires_notice": True}
    place = estimator.as_read("POST", "/api/texts/places", required, **of).json()
    stored = office.get("/api/texts").json()
    assert [(entry["text"], entry["ends_on"]) for entry in stored["sentences"]] == [("Dust is made.", "2026-12-01")]
    assert [entry["id"] for entry in stored["notices"]] == list(ids) and stored["places"] == [place]
    assert estimator.as_read("DELETE", f"/api/texts/places/{place['id']}", **of).status_code == 400
    for path in (f"notices/{ids.pop()}", f"places/{place['id']}", f"wordings/{entered.json()['id']}"):
        assert [estimator.as_read("DELETE", f"/api/texts/{path}", **of).status_code for _ in range(2)] == [204, 404]
