"""The page of a job's cutting plans: asked for, followed, chosen, dropped, and what is on hand."""

import pytest

from jobs.jobs.models import Job
from jobs.plans.models import ChosenPlan, FoundPlan
from jobs.stock.models import Stock
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import run_errand
from tests.stored import stored_job
from tests.support.desk import as_

pytestmark = pytest.mark.both_engines
__all__ = ["as_"]


@pytest.fixture
def job(db: None) -> Job:
    return stored_job("larkmoor-dental")


def test_stick_plans_are_asked_for_once_found_chosen_and_dropped(job: Job, as_) -> None:
    office, page = as_("office"), f"/jobs/{job.pk}/plans/"
    for _ in range(2):
        assert office.post(f"{page}sticks/ask/").status_code == 302
    errand = Errand.objects.get(kind="plan_sticks")
    assert b"Looking for a plan" in office.get(f"/plans/errands/{errand.pk}/").content
    assert run_errand(errand.pk, "worker") == "done"
    shown = office.get(page).content.decode()
    assert "Use this plan" in shown and "proven" in shown
    assert office.post(f"{page}sticks/use/", {"seen_version": "999"}).status_code == 302
    assert not ChosenPlan.objects.exists(), "of two who choose, the second is told"
    assert office.post(f"{page}sticks/use/", {"seen_version": job.version}).status_code == 302
    chosen = ChosenPlan.objects.get(job=job)
    assert chosen.by and chosen.document == FoundPlan.objects.get().document
    assert f"Cut by the plan of {chosen.by}" in office.get(page).content.decode()
    assert office.post(f"{page}sticks/drop/").status_code == 302
    assert not ChosenPlan.objects.exists()


def test_what_is_set_aside_is_cut_first(job: Job, as_) -> None:
    office, stud = as_("office"), job.walls.get().stud_id
    Stock.objects.create(job=job, material_id=stud, length_mm=3048, count=2)
    shown = office.get(f"/jobs/{job.pk}/plans/").content.decode()
    assert "on hand, 10&#x27; 0&quot;" in shown
    assert "Sold by length, so not in this plan: Base, bendable polymer" in shown


def test_plans_show_costs_so_the_lead_does_not_see_them(job: Job, as_) -> None:
    assert as_("lead").get(f"/jobs/{job.pk}/plans/").status_code == 403
