"""The page of a job's cutting plans: asked for, followed, chosen, dropped, and what is on hand."""

import pytest

from jobs.jobs.models import Job
from jobs.plans.models import ChosenPlan, FoundPlan
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
    assert b"waits for the worker" in office.get(f"/plans/errands/{errand.pk}/").content
    assert run_errand(errand.pk, "worker") == "done"
    shown = office.get(page).content.decode()
    assert "Cut the job by this plan" in shown and "proven" in shown
    assert office.post(f"{page}sticks/use/", {"seen_version": "999"}).status_code == 302
    assert not ChosenPlan.objects.exists(), "of two who choose, the second is told"
    assert office.post(f"{page}sticks/use/", {"seen_version": job.version}).status_code == 302
    chosen = ChosenPlan.objects.get(job=job)
    assert chosen.by and chosen.document == FoundPlan.objects.get().document
    assert f"Cut by the plan {chosen.by}" in office.get(page).content.decode()
    assert office.post(f"{page}sticks/drop/").status_code == 302
    assert not ChosenPlan.objects.exists()


def test_what_is_on_hand_is_cut_first_and_makes_a_plan_out_of_date(job: Job, as_) -> None:
    office = as_("office")
    stud = job.walls.get().stud_id
    sent = {"material": [stud], "length": ["10 ft"], "count": ["2"], "seen_version": job.version}
    assert office.post(f"/jobs/{job.pk}/plans/on-hand/", sent).status_code == 302
    shown = office.get(f"/jobs/{job.pk}/plans/").content.decode()
    assert "on hand, 10&#x27; 0&quot;" in shown
    assert "not in sticks: Base, bendable polymer" in shown, "what no stick plan covers is named, and why"


@pytest.mark.parametrize(
    ("material", "length", "count", "told"),
    [
        ("3-5/8-STUD", "-3", "1", "Row 1: length"),
        ("nothing", "3 ft", "1", "is not in the catalog"),
        ("3-5/8-STUD", "3 ft", "0", "Row 1: count"),
        ("", "3 ft", "1", "Row 1: material"),
    ],
)
def test_a_wrong_row_on_hand_is_named_and_nothing_is_kept(job: Job, as_, material, length, count, told) -> None:
    sent = {"material": [material], "length": [length], "count": [count]}
    answer = as_("office").post(f"/jobs/{job.pk}/plans/on-hand/", sent)
    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert not job.on_hand.exists()


def test_plans_show_costs_so_the_lead_does_not_see_them(job: Job, as_) -> None:
    assert as_("lead").get(f"/jobs/{job.pk}/plans/").status_code == 403
