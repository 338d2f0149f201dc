"""Better plans by errand: found, checked, chosen, out of date, dropped."""

from datetime import UTC, date, datetime

import pytest

from jobs.models import FoundPlan, Job
from jobs.services.plans import choose_plan
from quoting.models import Errand
from quoting.services.errands import run_errand
from quoting.services.job_files import work_up_job
from quoting.services.plans.asking import ask_for_plan
from tests.stored import stored_job

TODAY = date(2026, 10, 5)
NOW = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)


@pytest.fixture
def job(db: None, monkeypatch: pytest.MonkeyPatch) -> Job:
    # Long enough for the linear programme to find something better; the proof is the core's tests'.
    monkeypatch.setattr("quoting.services.plans.finding.BOARDS_LIMIT_S", 3)
    return stored_job("larkmoor-dental")


def found(job: Job, what: str) -> FoundPlan:
    errand = ask_for_plan(job, what, work_up_job(job, TODAY), NOW)
    assert run_errand(errand.pk, "worker") == "done", Errand.objects.get(pk=errand.pk).error
    return FoundPlan.objects.get(job=job, what=what)


def test_a_board_plan_is_found_chosen_and_out_of_date_once_the_wall_changes(job: Job) -> None:
    plan = found(job, "boards")
    quick = work_up_job(job, TODAY)
    assert not any(one.kept for wall in quick.walls for one in wall.face_plans)
    choose_plan(plan, by="Ines Okafor", on=TODAY)
    done = work_up_job(Job.objects.get(pk=job.pk), TODAY)
    assert all(one.kept for wall in done.walls for one in wall.face_plans)
    kept = done.read.job.plans.boards
    boards = next(one for one in done.takeoff.purchases if one.kind == "board")
    assert boards.sheets is not None
    assert kept is not None and boards.sheets.cost == kept.cost
    assert kept.cost is not None and kept.quick_cost is not None
    assert kept.cost <= kept.quick_cost
    job.walls.update(stud_spacing_mm=150)
    stale = work_up_job(Job.objects.get(pk=job.pk), TODAY)
    assert not any(one.kept for wall in stale.walls for one in wall.face_plans)
    keys = {one.key for one in stale.takeoff.findings}
    assert {"plans/boards", "reception-screen/left/boards/kept-plan"} <= keys
