import re
from datetime import date, timedelta

import pytest
from django.db import connection

from jobs.dates.papers.order_dates import OrderDatesPaper
from jobs.dates.services.order_dates_paper import order_dates_paper, request_order_dates
from quoting.core.quotes.quote_document import quote_document
from quoting.core.quotes.work_up import work_up
from quoting.job_files.services.job_files import work_up_job
from quoting.platform import clock, failpoints
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import Outcome, retry_errand, run_errand
from quoting.platform.immutable_tables import freeze, thaw
from quoting.platform.papers.errors import PaperNotKept, PaperRefused, PaperTimeOut
from quoting.platform.papers.models import Paper
from quoting.platform.papers.paper_documents import PaperUnreadable, read_paper, write_paper
from quoting.platform.papers.papers import download_name, list_papers, paper_bytes, paper_of, path_of
from quoting.quotes.models import QuoteRevision
from quoting.quotes.papers.sheets import QuotePaper
from quoting.quotes.services.quote_papers import paper_of_revision, quote_paper_errand, request_quote_paper
from quoting.quotes.services.snapshots import frozen_paper
from tests.documents import job_file
from tests.support.paper_reading import page_texts, whole_text
from tests.support.worked import NOW, TODAY, issued

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def own_files(settings, tmp_path, a_minute_later):
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def errand(revision):
    return quote_paper_errand(revision)


def run(errand):
    outcome = run_errand(errand.pk, "w")
    errand.refresh_from_db()
    return outcome


def test_issuing_asks_for_the_paper_and_the_worker_makes_it(revision, errand):
    assert (errand.state, paper_of(errand)) == ("waiting", None)
    assert run(errand) == Outcome.DONE
    paper = paper_of_revision(revision)
    assert paper == paper_of(errand)
    assert (paper.kind, paper.job) == ("quote", revision.quote.job)
    pdf = paper_bytes(paper)
    assert paper.page_count == len(page_texts(pdf))
    assert paper.size_bytes == len(pdf)
    text = whole_text(pdf)
    assert "Q-2026-0001" in text
    assert "15,641.39" in text


def test_a_quote_tells_no_cost_no_margin_and_no_supplier(revision, errand):
    run(errand)
    text = whole_text(paper_bytes(paper_of(errand)))
    for secret in ("8,582.00", "8582", "3,180.00", "47.00", "4,512.00", "38 %", "0.38", "Tollard"):
        assert secret not in text
    office = str(quote_document(work_up_job(revision.quote.job, TODAY))["office"])
    assert "8582.00" in office


def test_the_paper_is_the_frozen_one_whatever_was_changed_before_it_was_made(revision, errand, job):
    job.title = "Another title"
    job.save()
    job.client.name = "Another client"
    job.client.save()
    run(errand)
    text = whole_text(paper_bytes(paper_of(errand)))
    assert "Corridor screen" in text
    assert "Tern Street Clinic" in text
    assert "Another" not in text


def test_made_again_it_says_the_same(revision, errand):
    run(errand)
    first = whole_text(paper_bytes(paper_of(errand)))
    thaw(connection)
    Paper.objects.all().delete()
    freeze(connection)
    Errand.objects.update(state="waiting", finished_at=None)
    run(errand)
    assert whole_text(paper_bytes(paper_of(errand))) == first


def test_asked_for_twice_there_is_one_errand_and_one_paper(revision, errand):
    again = request_quote_paper(revision, NOW)
    assert again.pk == errand.pk
    assert [run(errand), run(again)] == [Outcome.DONE, Outcome.NOT_OURS]
    assert request_quote_paper(revision, NOW).state == "done"
    assert Paper.objects.count() == 1


def test_two_revisions_have_two_papers(job):
    """The control: it is the key that keeps two clicks to one paper."""
    for key in ("a", "b"):
        run(quote_paper_errand(issued(job, key)))
    assert Paper.objects.count() == 2


def order_dates(job, today=TODAY):
    return request_order_dates(job, work_up_job(job, today), prepared_by="I. Calloway", now=NOW)


def test_the_order_dates_are_made_as_they_were_shown(job):
    errand = order_dates(job)
    job.item_dates.all().delete()
    run(errand)
    paper = paper_of(errand)
    text = whole_text(paper_bytes(paper))
    assert paper.revision is None
    assert "Curvable track" in text
    assert "Wed 25 Nov 2026" in text


def test_the_same_order_dates_asked_for_twice_are_one_paper(job):
    first, second = order_dates(job), order_dates(job)
    assert first.pk == second.pk
    assert order_dates(job, TODAY + timedelta(days=1)).pk != first.pk


def test_a_changed_file_is_not_handed_out(errand):
    run(errand)
    paper = paper_of(errand)
    path_of(paper).chmod(0o600)
    path_of(paper).write_bytes(paper_bytes(paper)[:-1] + b"x")
    with pytest.raises(PaperNotKept, match="its content has changed"):
        paper_bytes(paper)
    path_of(paper).unlink()
    with pytest.raises(PaperNotKept, match="restore it from the backup"):
        paper_bytes(paper)


def test_a_failure_is_seen_with_its_reason_and_can_be_tried_again(errand, monkeypatch):
    from quoting.platform.papers import paper_errand

    def refuse(paper, images):
        raise PaperRefused("The paper asks for something it may not have.")

    with monkeypatch.context() as patch:
        patch.setattr(paper_errand, "paper_pdf", refuse)
        assert run(errand) == Outcome.FAILED
    assert "something it may not have" in errand.error
    assert paper_of(errand) is None
    assert retry_errand(errand.pk, clock.now())
    assert run(errand) == Outcome.DONE


def test_what_may_pass_by_itself_is_tried_again_by_itself(errand, monkeypatch):
    from quoting.platform.papers import paper_errand

    def too_slow(paper, images):
        raise PaperTimeOut("The paper was not finished in time.")

    with monkeypatch.context() as patch:
        patch.setattr(paper_errand, "paper_pdf", too_slow)
        assert run(errand) == Outcome.TRY_AGAIN
    assert "not finished in time" in errand.error


def test_a_snapshot_that_was_tampered_with_is_not_rendered(revision, errand):
    thaw(connection)
    QuoteRevision.objects.update(snapshot=revision.snapshot.replace("15641.39", "1564.13"))
    freeze(connection)
    assert run(errand) == Outcome.FAILED
    assert "is not what was issued" in errand.error


@pytest.mark.parametrize("place", ["during_render", "after_file", "before_commit"])
def test_a_fault_at_any_place_leaves_no_paper_and_the_next_try_one(errand, place):
    with failpoints.ordered(**{place: "raise"}):
        assert run(errand) == Outcome.TRY_AGAIN
    assert not Paper.objects.exists()
    Errand.objects.update(due_at=clock.now() - timedelta(seconds=1))
    assert run(errand) == Outcome.DONE
    assert Paper.objects.count() == 1
    assert paper_bytes(paper_of(errand)).startswith(b"%PDF-")


def test_papers_are_read_back_as_they_were_filled(revision, job):
    dates = order_dates_paper(work_up_job(job, TODAY), prepared_by="I. Calloway")
    assert read_paper(OrderDatesPaper, write_paper(dates)) == dates
    paper = frozen_paper(revision)
    assert read_paper(QuotePaper, write_paper(paper)) == paper


def test_the_notes_of_the_order_dates_write_days_as_its_columns_do():
    """The mill is shut from 21 December to 1 January: track ordered on 14 December comes after it is needed."""
    paper = order_dates_paper(work_up(job_file("larkmoor-dental"), date(2026, 12, 14)), prepared_by="I. Calloway")
    notes = " ".join(row.note for row in paper.rows)
    assert "ordered today it is usable Wed 6 Jan 2027, 2 working days late" in notes
    assert not re.search("[0-9]{4}-[0-9]{2}", " ".join((notes, *paper.gaps)))


@pytest.mark.parametrize(
    "spoil",
    [
        lambda stored: stored.pop("total"),
        lambda stored: stored.update(totl="1"),
        lambda stored: stored.update(total=""),
        lambda stored: stored.update(walls=3),
        lambda stored: stored["walls"][0]["drawings"][0].update(svg="<script/>"),
    ],
)
def test_a_kept_paper_that_is_no_paper_is_refused(revision, spoil):
    stored = write_paper(frozen_paper(revision))
    spoil(stored)
    with pytest.raises(PaperUnreadable, match="kept QuotePaper cannot be read"):
        read_paper(QuotePaper, stored)


def test_papers_are_listed_and_named_for_saving(job, revision, errand):
    run(errand)
    run(order_dates(job))
    names = {download_name(paper) for paper in list_papers(job)}
    assert names == {"Q-2026-0001-revision-1.pdf", "J-0100-order-dates.pdf"}
    assert [paper.kind for paper in list_papers(job, "quote")] == ["quote"]
