"""What a work-up found, as documents: read without working the job up, and never read when something has changed."""

import json
from datetime import UTC, date, datetime
from unittest import mock

import pytest

from catalog.core.ground.plain_values import from_plain, to_plain
from catalog.models import Price
from catalog.services.book import book_of
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.jobs.models import Job, WorkedJob
from jobs.jobs.services.changes import job_changed
from jobs.jobs.services.open_jobs import close_job
from jobs.needs.models import StoredResult
from jobs.needs.services import result_rows, schedule_refresh
from jobs.needs.services import stored_jobs as reading
from jobs.needs.services.schedule_refresh import DATE_JOB, catch_up
from jobs.needs.services.stored_jobs import facts_of_jobs, stored_job
from jobs.walls.models import WorkedWall
from jobs.walls.services import wall_cache
from jobs.whole_jobs.services.job_entries import save_job_head
from jobs.work_up.services import job_work_up
from jobs.work_up.services.job_work_up import work_of
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import run_errand
from tests.stored import stored_job as in_rows
from tests.stored import stored_jobs

TODAY = date(2026, 11, 25)
NOW = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


@pytest.fixture(autouse=True)
def at_the_day(frozen_clock):
    frozen_clock.move_to(NOW)


@pytest.fixture
def works(monkeypatch) -> list[str]:
    """The jobs that are worked up, by key, each time they are."""
    restart()
    seen: list[str] = []

    def counted(read, *args, **more):
        seen.append(read.job.key)
        return work_up(read, *args, **more)

    work_up = job_work_up.work_up_job
    monkeypatch.setattr(job_work_up, "work_up_job", counted)
    return seen


def restart() -> None:
    """What this process remembers is gone."""
    wall_cache._walls.clear()
    job_work_up._last.clear()


def fresh(job: Job):
    return work_of(Job.objects.get(pk=job.pk), book_of(), TODAY).done


def test_walls_takeoff_and_activities_are_read_from_plain_values_as_they_were():
    for job in stored_jobs():
        result = fresh(job)
        for kind, value in [(WallWorkUp, wall) for wall in result.walls] + [(type(result.plan), result.plan)]:
            assert from_plain(kind, json.loads(json.dumps(to_plain(value), allow_nan=False))) == value


def test_a_job_is_read_from_rows_as_a_new_work_up_finds_it():
    for job in stored_jobs():
        result, outcome = stored_job(job, TODAY), fresh(job)
        assert result.work is None, "read from rows"
        assert (result.takeoff, result.plan) == (outcome.takeoff, outcome.plan)
        assert result.facts == result_rows.facts_of(outcome)


def test_a_job_that_has_not_changed_is_worked_up_once_for_any_number_of_readers(works):
    job = in_rows("larkmoor-dental")
    for _ in range(3):
        stored_job(job, TODAY)
    facts_of_jobs([job.pk], TODAY)
    assert works == ["J-0001"]


def test_what_a_reader_has_worked_up_no_worker_works_up_again(works):
    job = in_rows("larkmoor-dental")
    save_job_head(job, {"job": {"crew": 3}}, seen_version=None)
    errand = Errand.objects.get(kind=DATE_JOB)
    stored_job(job, TODAY)
    assert run_errand(errand.pk, "worker") == "not ours"
    assert works == ["J-0001"]


def test_after_a_restart_no_wall_that_has_not_changed_is_worked_up():
    """The control: without the rows every wall is."""
    job = in_rows("brightwell-childcare")
    stored_job(job, TODAY)
    restart()
    with mock.patch.object(wall_cache, "work_up_wall", side_effect=AssertionError("worked up")) as worked:
        assert len(fresh(job).walls) == 3
        WorkedWall.objects.all().delete()
        restart()
        with pytest.raises(AssertionError, match="worked up"):
            fresh(job)
    assert worked.call_count == 1


def test_of_several_walls_the_one_that_changed_alone_is_worked_up_anew():
    job = in_rows("brightwell-childcare")
    stored_job(job, TODAY)
    job.walls.first().heights.update(height_mm=2500)
    job_changed(job.pk)
    restart()
    with mock.patch.object(wall_cache, "work_up_wall", wraps=wall_cache.work_up_wall) as worked:
        stored_job(job, TODAY)
    assert worked.call_count == 1


def test_a_change_of_the_job_is_seen_by_the_next_reader():
    job = in_rows("larkmoor-dental")
    before = stored_job(job, TODAY).plan.finish
    save_job_head(job, {"job": {"start_on": "2027-02-01"}}, seen_version=None)
    after = stored_job(Job.objects.get(pk=job.pk), TODAY)
    assert after.plan == fresh(job).plan
    assert after.plan.finish > before


def test_a_new_price_is_seen_by_the_next_reader_and_a_day_alone_works_nothing_up(works):
    """Twice the price of everything is twice the cost."""
    job = in_rows("larkmoor-dental")
    cost = stored_job(job, TODAY).takeoff.cost
    assert stored_job(job, date(2026, 11, 26)).takeoff.cost == cost
    assert works == ["J-0001"]
    for row in Price.objects.all():
        row.amount *= 2
        row.save()
    assert stored_job(job, TODAY).takeoff.cost == 2 * cost


def test_what_other_rules_found_is_worked_up_anew(works, monkeypatch):
    job = in_rows("larkmoor-dental")
    stored_job(job, TODAY)
    for module in (result_rows, reading, schedule_refresh):
        monkeypatch.setattr(module, "rules_in_force", lambda: "0" * 64)
    restart()
    catch_up(NOW, TODAY)
    assert Errand.objects.get(kind=DATE_JOB).state == "waiting", "nobody has to ask for it"
    stored_job(job, TODAY)
    assert works == ["J-0001", "J-0001"]


def test_a_row_of_another_state_of_the_job_is_never_read_as_fresh():
    job = in_rows("larkmoor-dental")
    stored_job(job, TODAY)
    StoredResult.objects.update(document=json.dumps({"walls": [], "desk": [], "site": [], "trouble": "old"}))
    assert stored_job(job, TODAY).trouble == "old", "the control: the row is what is read"
    WorkedJob.objects.filter(pk=job.pk).update(changes=7)
    assert stored_job(job, TODAY).trouble == ""


def test_walls_that_cannot_be_worked_out_say_why_from_rows(works):
    job = in_rows("larkmoor-dental")
    job.walls.get().openings.update(centre_at_mm=10**6)
    rows = stored_job(job, TODAY)
    assert rows.trouble and rows.takeoff is None and rows.plan is None
    assert stored_job(job, TODAY).trouble == rows.trouble
    assert works == [], "no wall to go on with"


def test_a_closed_job_is_kept_from_its_first_reading(works):
    job = in_rows("larkmoor-dental")
    close_job(job, TODAY)
    assert stored_job(job, TODAY).takeoff == stored_job(job, TODAY).takeoff
    assert works == ["J-0001"]
