"""Stored jobs against the files they came from: figures, exports, and what an import leaves alone."""

import json
from dataclasses import replace

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from catalog.core.ground.document_reader import DocumentError, parse_document
from catalog.models import Closure, Firm, Material, Supplier
from catalog.services.book import book_of
from jobs.core.results.result_documents import schedule_document, takeoff_document
from jobs.jobs.models import Client, Job
from quoting.core.quotes.job_file import read_job_file
from quoting.core.quotes.quote_document import quote_document
from quoting.core.quotes.work_up import work_up
from quoting.job_files.services.job_files import (
    export_job_file,
    figures_mark,
    import_job_file,
    job_file_of,
    work_up_job,
)
from quoting.pricing.models import CostEntry, Pricing
from tests.documents import JOBS, document, starter
from tests.stored import stored_book
from tests.support.worked import NOW, PRICING, TODAY, small_document, small_job

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


@pytest.fixture
def catalog():
    stored_book(starter(), "starter")


def as_written(value):
    """As another program would read it: through JSON text."""
    return parse_document(json.dumps(value, allow_nan=False))


@pytest.mark.parametrize("name", JOBS)
def test_a_stored_example_has_the_figures_of_its_file(catalog, name):
    """The stored firm stands behind both: a file's own firm never replaces the one that is stored."""
    file = document(f"jobs/{name}.json")
    job = import_job_file(file, now=NOW)
    of_file = work_up(read_job_file({**file, "firm": None}, book_of()), TODAY)
    stored = work_up_job(Job.objects.get(pk=job.pk), TODAY)
    assert takeoff_document(stored) == takeoff_document(of_file)
    assert schedule_document(stored) == schedule_document(of_file)
    assert quote_document(stored) == quote_document(of_file)


@pytest.mark.parametrize("name", JOBS)
def test_an_export_read_in_again_is_exported_the_same(catalog, name):
    first = export_job_file(import_job_file(document(f"jobs/{name}.json"), now=NOW), TODAY)
    again = as_written(first)
    again["job"]["key"] = "J-9999"
    second = export_job_file(import_job_file(again, now=NOW), TODAY)
    second["job"]["key"] = first["job"]["key"]
    assert second == first


@pytest.mark.parametrize("name", JOBS)
def test_an_export_is_a_file_whole_in_itself(catalog, name):
    job = import_job_file(document(f"jobs/{name}.json"), now=NOW)
    alone = work_up(read_job_file(as_written(export_job_file(job, TODAY))), TODAY)
    assert quote_document(alone) == quote_document(work_up_job(job, TODAY))


def test_a_job_is_read_in_as_many_queries_whatever_its_size(catalog):
    def queries(name):
        job = import_job_file(document(f"jobs/{name}.json"), now=NOW)
        with CaptureQueriesContext(
            connection,
        ) as run:
            read = job_file_of(Job.objects.get(pk=job.pk), TODAY)
        assert read.pricing is not None
        return len(run), len(read.job.walls)

    one_wall, three_walls = queries("larkmoor-dental"), queries("brightwell-childcare")
    assert (one_wall[1], three_walls[1]) == (1, 3)
    assert one_wall[0] == three_walls[0] < 60


def test_the_stored_firm_and_what_the_catalog_knows_stay_as_they_are():
    small_job()
    Material.objects.filter(code="GB-14").update(name="As the office calls it")
    firm, closures = Firm.objects.get().name, Closure.objects.filter(supplier=None).count()
    import_job_file(document("jobs/larkmoor-dental.json") | {"firm": {**document("jobs/larkmoor-dental.json")["firm"],
                    "name": "Another firm", "closed": []}}, now=NOW)  # fmt: skip
    assert Firm.objects.get().name == firm
    assert Closure.objects.filter(supplier=None).count() == closures
    assert Material.objects.get(code="GB-14").name == "As the office calls it"


def test_what_the_catalog_lacks_comes_with_the_file():
    small_job()
    assert not Material.objects.filter(code="BASE-514-FLEX").exists()
    import_job_file(document("jobs/larkmoor-dental.json"), now=NOW)
    assert Material.objects.get(code="BASE-514-FLEX").supplier_id == "HENNOCK"
    assert Supplier.objects.filter(code="HENNOCK").exists()


def test_the_first_file_brings_its_firm():
    whole = export_job_file(small_job(), TODAY)
    for model in (Job, Client, Material, Firm):
        if model is Material:
            from catalog.models import KitEntry

            KitEntry.objects.all().delete()
        model.objects.all().delete()
    import_job_file(as_written(whole), now=NOW)
    assert Firm.objects.get().name == whole["firm"]["name"]


@pytest.mark.parametrize(
    ("spoil", "path"),
    [
        (lambda d: d["pricing"]["labour"][0].update(hours="0.1234567"), "pricing.labour.hours"),
        (lambda d: d["pricing"]["tax"].update(rate="0.13000001"), "pricing.tax.rate"),
        (lambda d: d["pricing"]["labour"][0].update(wall="Nowhere"), "pricing"),
        (lambda d: d["walls"][0].update(track="NO-SUCH"), "walls[0].track"),
        (lambda d: d["pricing"]["instalments"].pop(), "pricing.instalments"),
        (lambda d: d["pricing"].update(special_order_cost="99999999999"), "pricing.special_order_cost"),
    ],
)
def test_a_wrong_file_is_refused_at_its_path_and_leaves_nothing_behind(spoil, path):
    small_job()
    before = [model.objects.count() for model in (Job, Client, Material, Pricing, CostEntry)]
    file = small_document("J-0200", client={"name": "Somebody new"})
    file["materials"] = document("jobs/larkmoor-dental.json")["materials"][-1:]
    file["suppliers"] = document("jobs/larkmoor-dental.json")["suppliers"]
    spoil(file)
    with pytest.raises(DocumentError) as refusal:
        import_job_file(file, now=NOW)
    assert any(complaint.path == path for complaint in refusal.value.complaints), refusal.value
    assert [model.objects.count() for model in (Job, Client, Material, Pricing, CostEntry)] == before


def test_the_file_it_was_spoiled_from_is_taken():
    """The control of the test before."""
    small_job()
    file = small_document("J-0200")
    file["materials"] = document("jobs/larkmoor-dental.json")["materials"][-1:]
    file["suppliers"] = document("jobs/larkmoor-dental.json")["suppliers"]
    import_job_file(file, now=NOW)
    assert Job.objects.filter(key="J-0200").exists()


def test_a_taken_key_is_refused_and_replaced_only_when_asked():
    small_job()
    changed = small_document(pricing={**PRICING, "valid_days": 10})
    with pytest.raises(DocumentError, match="there is a job"):
        import_job_file(changed, now=NOW)
    job = import_job_file(changed, now=NOW, on_known="replace")
    assert work_up_job(job, TODAY).quote.pricing.valid_days == 10
    assert Pricing.objects.filter(job=job).count() == 1


def test_the_mark_changes_with_job_pricing_catalog_and_day_and_with_nothing_else():
    job = small_job()
    read = job_file_of(job, TODAY)
    mark = figures_mark(read, TODAY)
    assert figures_mark(job_file_of(Job.objects.get(pk=job.pk), TODAY), TODAY) == mark
    board = read.book.materials["GB-14"]
    others = [
        replace(read, job=replace(read.job, crew=3)),
        replace(read, pricing=replace(read.pricing, valid_days=31)),
        replace(read, book=read.book.with_more((), (replace(board, packs=board.packs[:1]),))),
    ]
    unused = replace(board, code="NEVER-USED")
    assert figures_mark(replace(read, book=read.book.with_more((), (unused,))), TODAY) == mark
    marks = {mark, figures_mark(read, TODAY.replace(day=26)), *(figures_mark(other, TODAY) for other in others)}
    assert len(marks) == 5
