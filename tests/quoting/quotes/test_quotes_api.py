import hashlib
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from quoting.platform.errands.models import ErrandState
from quoting.platform.errands.services.errands import run_errand
from quoting.platform.papers.models import Paper
from quoting.platform.papers.papers import path_of
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.quote_papers import quote_paper_errand
from tests.support.asking import reasons


@pytest.fixture(autouse=True)
def _own_folder_for_papers(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


def issue(asker, job, key="first", **headers):
    headers = headers or {"If_Match": asker.get(f"/api/jobs/{job.key}/quote")["ETag"]}
    return asker.post(f"/api/jobs/{job.key}/quote/issue", {"request_key": key}, **headers)


def test_a_quote_is_issued_once_whoever_often_it_is_asked_for(estimator, dental):
    first, again = issue(estimator, dental), issue(estimator, dental)
    assert (first.status_code, again.status_code) == (201, 200)
    assert first.json() == again.json()
    assert (first.json()["state"], first.json()["total"]) == ("issued", "15641.39")
    assert QuoteRevision.objects.count() == 1


def test_a_quote_is_issued_only_as_it_was_read(estimator, dental):
    assert issue(estimator, dental, If_Match='"0123"').status_code == 412
    assert estimator.post(f"/api/jobs/{dental.key}/quote/issue", {"request_key": "k"}).status_code == 428
    assert not QuoteRevision.objects.exists()


def test_what_stands_in_the_way_is_told_in_sentences(estimator, starter_catalog):
    key = estimator.post("/api/jobs", {"client": {"name": "C"}, "job": {"title": "S"}}).json()["job"]["key"]
    mark = estimator.get(f"/api/jobs/{key}/quote")["ETag"]
    answer = estimator.post(f"/api/jobs/{key}/quote/issue", {"request_key": "k"}, If_Match=mark)
    assert answer.status_code == 409
    assert "not priced yet" in reasons(answer)[""]


def test_an_issued_revision_keeps_its_figures_when_the_catalog_moves(estimator, office, dental):
    issued = issue(estimator, dental)
    before = estimator.get(issued["Location"]).json()
    document = office.get("/api/catalog/materials/GB-14").json()
    for pack in document["packs"]:
        pack["prices"] = [{"amount": "99.00", "starts_on": "2026-01-01"}]
    assert office.as_read("PATCH", "/api/catalog/materials/GB-14", {"packs": document["packs"]}).status_code == 200
    assert estimator.get(issued["Location"]).json() == before
    assert before["quote"]["total"] == before["total"] == "15641.39"


def test_the_office_is_not_shown_the_margin_that_was_frozen(estimator, office, dental):
    issued = issue(estimator, dental)
    full, given = estimator.get(issued["Location"]).json(), office.get(issued["Location"]).json()
    assert "margin" in full and "margin" in full["quote"]["office"]
    assert "margin" not in given and "margin" not in given["quote"]["office"]
    assert given["cost"] == "8582.00"


def test_quotes_are_listed_with_their_revisions(estimator, office, dental):
    number = issue(estimator, dental).json()["number"]
    issue(estimator, dental, key="second")
    listed = office.get("/api/quotes").json()["results"]
    assert [(entry["number"], len(entry["revisions"])) for entry in listed] == [(number, 2)]
    each = office.get(f"/api/quotes/{number}").json()
    assert [revision["state"] for revision in each["revisions"]] == ["issued", "superseded"]
    assert "margin" not in each["revisions"][0]


def test_a_revision_is_withdrawn_once_and_for_a_reason(estimator, dental):
    path = f"{issue(estimator, dental)['Location']}/withdraw"
    assert set(reasons(estimator.post(path, {"reason": " "}))) == {"reason"}
    assert estimator.post(path, {"reason": "the door moved"}).json()["state"] == "withdrawn"
    again = estimator.post(path, {"reason": "once more"})
    assert (again.status_code, "is withdrawn" in reasons(again)[""]) == (409, True)


def test_the_paper_is_waited_for_and_downloaded_as_it_was_made(estimator, dental):
    issued = issue(estimator, dental)
    paper = f"{issued['Location']}/paper"
    assert estimator.get(paper).json()["state"] == "waiting"
    early = estimator.get(f"{paper}/file", Accept="application/pdf")
    assert (early.status_code, early["Content-Type"]) == (409, "application/problem+json")
    run_errand(quote_paper_errand(QuoteRevision.objects.get()).pk, "a test")
    state = estimator.get(paper).json()
    assert (state["state"], state["progress_percent"]) == ("done", 100)
    file = estimator.get(f"{paper}/file", Accept="application/pdf")
    assert (file.status_code, file["Content-Type"]) == (200, "application/pdf")
    assert hashlib.sha256(file.content).hexdigest() == state["paper"]["sha256"]
    assert len(PdfReader(BytesIO(file.content)).pages) == state["paper"]["page_count"]
    assert state["paper"]["file_name"] in file["Content-Disposition"]


def test_a_paper_whose_file_was_changed_is_not_handed_out(estimator, dental):
    issued = issue(estimator, dental)
    run_errand(quote_paper_errand(QuoteRevision.objects.get()).pk, "a test")
    Path(path_of(Paper.objects.get())).write_bytes(b"%PDF-1.7 something else")
    answer = estimator.get(f"{issued['Location']}/paper/file")
    assert (answer.status_code, "changed since" in answer.json()["detail"]) == (503, True)


def test_a_failed_paper_says_why_and_can_be_tried_again(estimator, dental, frozen_clock):
    paper = f"{issue(estimator, dental)['Location']}/paper"
    assert estimator.post(f"{paper}/retry").status_code == 409
    errand = quote_paper_errand(QuoteRevision.objects.get())
    errand.state, errand.error, errand.finished_at = ErrandState.FAILED, "The disk is full.", frozen_clock.now()
    errand.save()
    state = estimator.get(paper).json()
    assert (state["state"], state["error"], state["paper"]) == ("failed", "The disk is full.", None)
    assert estimator.post(f"{paper}/retry").json()["state"] == "waiting"
