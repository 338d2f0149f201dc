"""Each invariant broken behind the guards' back is found; a service in order passes."""

from contextlib import contextmanager
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection

from jobs.jobs.models import Job, WorkedJob
from jobs.needs.models import StoredNeed, StoredResult
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.needs.services.stored_jobs import stored_job
from quoting.platform import clock
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import run_errand
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.immutable_tables import freeze, thaw
from quoting.platform.papers.models import Paper
from quoting.platform.papers.papers import paper_of, path_of
from quoting.quotes.models import QuoteInstalment, QuoteLine, QuoteRevision
from quoting.quotes.services.quote_papers import quote_paper_errand
from quoting.service.audit import date_audit
from quoting.service.audit.services.audit import audit
from tests.support.worked import TODAY

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines, pytest.mark.usefixtures("a_minute_later")]


@pytest.fixture
def made(revision, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    errand = quote_paper_errand(revision)
    run_errand(errand.pk, "w")
    return paper_of(errand)


@contextmanager
def thawed():
    thaw(connection)
    yield
    freeze(connection)


def found(name):
    return audit(clock.now())[name]


def test_a_service_in_order_passes(made):
    assert {name: sentences for name, sentences in audit(clock.now()).items() if sentences} == {}


@pytest.mark.parametrize(
    ("model", "change", "message"),
    [
        (QuoteLine, {"price": Decimal("1.00")}, "the lines add up to 1.00, but the price is 13841.94"),
        (QuoteInstalment, {"amount": Decimal("1.00")}, "the instalments add up to 3.00, but the total is 15641.39"),
        (QuoteRevision, {"snapshot": "{}"}, "is not what was issued"),
        (QuoteRevision, {"snapshot_sha256": "0" * 64}, "is not what was issued"),
        (
            QuoteRevision,
            {"price": Decimal("13841.95"), "total": Decimal("15641.40")},
            "its total is 15641.40, but 15641.39 was frozen",
        ),
    ],
)
def test_a_quote_that_does_not_add_up_is_found(revision, model, change, message):
    assert found("quotes") == []
    with thawed():
        model.objects.update(**change)
    assert any(message in sentence for sentence in found("quotes"))


def test_a_missing_trigger_is_found(db):
    with thawed():
        assert any("quoting_paper_delete_frozen" in sentence for sentence in found("frozen"))
    assert found("frozen") == []


def test_a_paper_whose_file_is_gone_or_changed_is_found(made):
    path_of(made).unlink()
    assert "cannot be read" in found("papers")[0]


def test_a_paper_that_nobody_is_asked_for_is_found(revision):
    assert found("papers") == []
    Errand.objects.all().delete()
    assert "nobody is asked to make it" in found("papers")[0]


def test_an_errand_done_without_a_paper_is_found(made):
    with thawed():
        Paper.objects.all().delete()
    assert any("its paper is not there" in sentence for sentence in found("papers"))


def test_a_long_lead_item_without_a_date_and_without_a_gap_is_found(job):
    keep_needs(job.pk, *find_needs(job.pk, TODAY), clock.now())
    assert found("order dates") == []
    entry = StoredNeed.objects.filter(pk=StoredNeed.objects.first().pk)
    gap = {"key": "x", "weight": "gap", "sentence": "No lead time is known."}
    days = dict.fromkeys(("decide_by", "order_by", "ship", "dock"))
    entry.update(**days, supply="custom_made", findings=[gap])
    assert found("order dates") == []
    entry.update(findings=[])
    assert "no gap says why" in found("order dates")[0]


def test_rows_older_than_a_day_and_jobs_nobody_works_up_are_found(job):
    keep_needs(job.pk, *find_needs(job.pk, TODAY), clock.now())
    assert found("stored needs") == []
    WorkedJob.objects.update(dated_on=TODAY - timedelta(days=2))
    assert "are those of" in found("stored needs")[0]
    WorkedJob.objects.all().delete()
    Job.objects.update(created_at=clock.now() - timedelta(days=2))
    message = " ".join(found("stored needs"))
    assert "never worked up" in message and "nothing says what it was worked out of" in message


def test_a_stored_result_that_claims_to_stand_and_is_none_of_a_work_up_is_found(job, frozen_clock):
    stored_job(job, day_at_the_firm(clock.now()))
    assert found("stored results") == []
    takeoff = StoredResult.objects.get(kind="takeoff")
    takeoff.document = takeoff.document.replace('"net":"', '"net":"1', 1)
    takeoff.save()
    assert found("stored results") == [
        f"{job}: what pages read of it is not what a work-up finds; close it and open it again."
    ]
    StoredResult.objects.update(rules="0" * 64)
    assert found("stored results") == [], "what is older than the rules is read by nobody"


@pytest.mark.sqlite
def test_a_number_that_is_none_is_found(job):
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA ignore_check_constraints = ON")
        try:
            cursor.execute("UPDATE catalog_price SET amount = 9e999 WHERE id = (SELECT min(id) FROM catalog_price)")
        finally:
            cursor.execute("PRAGMA ignore_check_constraints = OFF")
    assert found("numbers") == ["price: 1 rows hold no ordinary number as amount."]


@pytest.mark.postgresql
def test_nan_is_found(job):
    with connection.cursor() as cursor:
        cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
        cursor.execute("ALTER TABLE catalog_price DROP CONSTRAINT price_amount_in_bounds")
        cursor.execute("UPDATE catalog_price SET amount = 'NaN' WHERE id = (SELECT min(id) FROM catalog_price)")
    assert found("numbers") == ["price: 1 rows hold no ordinary number as amount."]


def test_a_check_that_cannot_be_done_is_told_and_stops_no_other(job, monkeypatch):
    def breaks(now):
        raise ArithmeticError("no such number")

    monkeypatch.setattr(date_audit, "day_at_the_firm", breaks)
    wordses = audit(clock.now())
    assert wordses["stored needs"] == ["The check itself could not be done: ArithmeticError: no such number"]
    assert wordses["numbers"] == []
