"""A job and the catalog made of plain rows and remembered: never other than as they are stored."""

from decimal import Decimal

import pytest
from django.db.models import F

from catalog.models import Price
from catalog.services.book import book_of
from jobs.jobs.models import Client, Job
from jobs.walls.models import Opening, WallPiece
from jobs.work_up.services.kept_job_specs import kept_spec
from tests.documents import JOBS
from tests.stored import stored_job

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


@pytest.fixture
def job():
    return stored_job("larkmoor-dental")


@pytest.mark.parametrize("name", JOBS)
def test_a_job_made_of_its_rows_is_the_job_as_it_is_stored(name):
    job = stored_job(name)
    assert kept_spec(job) == Job.objects.get(pk=job.pk).to_core()


def test_nothing_is_made_anew_where_no_row_differs(job):
    assert kept_spec(job) is kept_spec(Job.objects.get(pk=job.pk))
    assert book_of() is book_of()


@pytest.mark.parametrize(("model", "column"), [(WallPiece, "chord_mm"), (Opening, "width_mm")])
def test_a_figure_changed_past_every_service_is_read_at_once(job, model, column):
    before = kept_spec(job)
    rows = model.objects.filter(wall__job=job, **{f"{column}__isnull": False})
    assert rows.update(**{column: F(column) + 1})
    assert before != kept_spec(job) == Job.objects.get(pk=job.pk).to_core()


def test_a_row_more_or_less_and_another_client_are_read_at_once(job):
    before = kept_spec(job)
    job.closures.create(first_day="2027-03-01", last_day="2027-03-05", reason="Moving")
    assert len(kept_spec(job).closures) == len(before.closures) + 1
    job.closures.all().delete()
    assert kept_spec(job).closures == ()
    Client.objects.update(name="Somebody else")
    assert kept_spec(job).client.name == "Somebody else"


def test_a_price_changed_past_every_service_is_in_the_next_book(job):
    price = Price.objects.select_related("pack__material").first()
    before, code = book_of(), price.pack.material.code
    Price.objects.filter(pk=price.pk).update(amount=Decimal("77.77"))
    amounts = [entry.amount for pack in book_of().materials[code].packs for entry in pack.prices]
    assert Decimal("77.77") in amounts
    assert before != book_of()
