"""Better plans by errand: found, checked, chosen, out of date, dropped."""

from datetime import UTC, date, datetime

import pytest

from catalog.models import Pack
from jobs.jobs.models import Job
from jobs.plans.models import FoundPlan
from jobs.plans.services.asking import ask_for_plan
from jobs.plans.services.plans import choose_plan, drop_plan
from quoting.job_files.services.job_files import job_file_of, work_up_job
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import run_errand
from quoting.quotes.services.snapshots import snapshot_of
from tests.stored import stored_job
from tests.support.worked import issued, small_job

pytestmark = pytest.mark.both_engines
TODAY = date(2026, 10, 5)
NOW = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)


@pytest.fixture
def job(db: None, monkeypatch: pytest.MonkeyPatch) -> Job:
    # Long enough for the linear programme to find something better; the proof is the core's tests'.
    monkeypatch.setattr("jobs.plans.services.finding.BOARDS_LIMIT_S", 3)
    return stored_job("larkmoor-dental")


def found(job: Job, what: str) -> FoundPlan:
    errand = ask_for_plan(job, what, work_up_job(job, TODAY), NOW)
    assert run_errand(errand.pk, "worker") == "done", Errand.objects.get(pk=errand.pk).error
    return FoundPlan.objects.get(job=job, what=what)


def test_a_board_plan_is_found_chosen_and_out_of_date_once_the_wall_changes(job: Job) -> None:
    plan = found(job, "boards")
    quick = work_up_job(job, TODAY)
    assert not any(plan.is_chosen for wall in quick.walls for plan in wall.face_plans)
    choose_plan(plan, by="Ines Okafor", on=TODAY)
    work_up = work_up_job(Job.objects.get(pk=job.pk), TODAY)
    assert all(plan.is_chosen for wall in work_up.walls for plan in wall.face_plans)
    board = work_up.read.job.plans.boards
    boards = next(purchase for purchase in work_up.takeoff.purchases if purchase.kind == "board")
    assert boards.sheets is not None
    assert board is not None and boards.sheets.cost == board.cost
    assert board.cost is not None and board.quick_cost is not None
    assert board.cost <= board.quick_cost
    job.walls.update(stud_spacing_mm=150)
    stale = work_up_job(Job.objects.get(pk=job.pk), TODAY)
    assert not any(plan.is_chosen for wall in stale.walls for plan in wall.face_plans)
    keys = {finding.key for finding in stale.takeoff.findings}
    assert {"plans/boards", "reception-screen/left/boards/kept-plan"} <= keys


def test_an_errand_for_a_job_that_changed_since_is_refused_and_keeps_nothing(job: Job) -> None:
    errand = ask_for_plan(job, "sticks", work_up_job(job, TODAY), NOW)
    job.walls.update(stud_spacing_mm=150)
    assert run_errand(errand.pk, "worker") == "failed"
    errand.refresh_from_db()
    assert "were changed after this was asked for. Ask again." in errand.error
    assert not FoundPlan.objects.exists()
    # What is asked of the job as it is now is answered: it was the change that was refused.
    assert found(Job.objects.get(pk=job.pk), "sticks").job_id == job.pk


def test_an_issued_quote_freezes_the_plan_chosen_for_its_job(db: None) -> None:
    job = small_job()
    assert job_file_of(job, TODAY).job.plans.sticks is None
    choose_plan(found(job, "sticks"), by="Ines Okafor", on=TODAY)
    revision = issued(Job.objects.get(pk=job.pk))
    drop_plan(job, "sticks")
    stored = snapshot_of(revision)
    assert stored["job_file"]["job"]["plans"]["sticks"]["by"] == "Ines Okafor"
    track = next(entry for entry in stored["takeoff"]["purchases"] if entry["material"] == "TRACK-358")
    assert track["cuts"], "track is cut by the plan that stood at issue"
    now = work_up_job(Job.objects.get(pk=job.pk), TODAY).takeoff.purchases
    assert [purchase.cuts for purchase in now if purchase.material == "TRACK-358"] == [None]


def test_pieces_longer_than_every_stick_are_refused_at_once_in_words(job: Job) -> None:
    Pack.objects.filter(material=job.walls.get().stud).update(length_mm=1000)
    errand = ask_for_plan(job, "sticks", work_up_job(job, TODAY), NOW)
    assert run_errand(errand.pk, "worker") == "failed", "trying again would find the same"
    errand.refresh_from_db()
    assert errand.error.startswith("The pieces cannot be cut from the sticks there are: ")
