"""Dates as rows: the same figures as the work-up they came from, and never older than the job without saying so."""

from datetime import UTC, date, datetime
from importlib import import_module

import pytest
from django.apps import apps
from django.db import transaction

from catalog.models import Closure, LeadTerm, Material, Price
from catalog.services.book import book_of
from catalog.services.entries import add_lead_term
from catalog.services.suppliers import add_closure
from jobs.core.ordering.needs import counted_on
from jobs.deleted.services.deleted import Deletion
from jobs.jobs.models import Job, WorkedJob
from jobs.jobs.services.jobs import delete_job
from jobs.jobs.services.open_jobs import close_job, reopen_job
from jobs.needs.models import StoredNeed
from jobs.needs.services import stored_needs
from jobs.needs.services.date_recalculation import recompute_dates
from jobs.needs.services.schedule_refresh import (
    DATE_JOB,
    RECOMPUTE_DATES,
    catch_up,
    find_needs,
    keep_needs,
    stale_heads,
)
from jobs.walls.services.deleted_walls import delete_wall
from jobs.whole_jobs.services.job_entries import save_job_head
from jobs.work_up.services.job_work_up import work_of
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import run_errand
from tests.stored import stored_job, stored_jobs

TODAY = date(2026, 11, 25)
NOW = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


@pytest.fixture(autouse=True)
def at_the_day(frozen_clock):
    frozen_clock.move_to(NOW)
    return frozen_clock


def do_errands() -> None:
    while (errand := Errand.objects.filter(state="waiting").first()) is not None:
        assert run_errand(errand.pk, "test") == "done"


def worked(job: Job) -> WorkedJob:
    return WorkedJob.objects.get(pk=job.pk)


def dated(job: Job, today: date = TODAY) -> None:
    keep_needs(job.pk, *find_needs(job.pk, today), NOW)


def live(job: Job, today: date = TODAY) -> dict:
    job = Job.objects.get(pk=job.pk)
    return {need.material: need for need in work_of(job, book_of(), today).done.needs}


def from_rows(job: Job, today: date = TODAY) -> dict:
    book = book_of()
    needs = (row.to_core() for row in StoredNeed.objects.filter(job=job))
    return {
        need.material: counted_on(need, book.suppliers.get(need.supplier or ""), book.firm.calendar, today)
        for need in needs
    }


def base_of(job: Job) -> StoredNeed:
    return StoredNeed.objects.get(job=job, material="BASE-514-FLEX")


def test_rows_read_as_the_work_up_they_came_from_on_the_four_worked_examples():
    for job in stored_jobs():
        dated(job)
        assert from_rows(job) == live(job)


def test_dates_counted_again_from_rows_are_those_of_a_new_work_up():
    """The mill shut for a week in January, a longer lead time and another cushion: all four examples, both ways."""
    jobs = stored_jobs()
    for job in jobs:
        dated(job)
    add_closure({"first": "2026-12-07", "last": "2026-12-11", "reason": "stocktaking"}, "HENNOCK")
    said = {"production": "4 weeks", "transit_workdays": 2, "source": "telephone", "stated_on": "2026-11-24"}
    add_lead_term("BASE-514-FLEX", said)
    Material.objects.filter(code="TRACK-358").update(cushion_workdays=6)
    before = {job.pk: from_rows(job) for job in jobs}
    assert recompute_dates(TODAY).changed > 0
    for job in jobs:
        assert from_rows(job) == live(job)
    assert any(from_rows(job) != before[job.pk] for job in jobs)


def test_the_base_of_the_dental_screen_is_ordered_by_the_tenth_and_without_the_shutdown_by_the_22nd():
    """Worked examples, part B, and row 59 of the features: 10 Dec with the shutdown of the mill, 22 Dec without."""
    job = stored_job("larkmoor-dental")
    dated(job)
    assert base_of(job).order_by == date(2026, 12, 10)
    Closure.objects.filter(supplier="HENNOCK", reason="winter shutdown").delete()
    # The mill keeps the ordinary holidays whether or not it shuts down between them.
    for day in (date(2026, 12, 25), date(2027, 1, 1)):
        Closure.objects.create(supplier_id="HENNOCK", first_day=day, last_day=day)
    recompute_dates(TODAY)
    assert base_of(job).order_by == date(2026, 12, 22)


def test_a_database_that_holds_late_order_by_days_is_counted_anew_after_the_upgrade():
    """Worked examples, part B: of track and board counting back alone gives 11 Dec, which is a day late."""
    job = stored_job("larkmoor-dental")
    dated(job)
    track = StoredNeed.objects.filter(job=job, material="TRACK-358")
    track.update(order_by=date(2026, 12, 11), decide_by=date(2026, 12, 11))
    catch_up(NOW, TODAY)
    assert not Errand.objects.exists(), "the control: nobody looks at them without the step"
    import_module("jobs.migrations.0003_order_days_counted_anew").count_order_days_anew(apps, None)
    catch_up(NOW, TODAY)
    do_errands()
    assert (track.get().order_by, track.get().decide_by) == (date(2026, 12, 10), date(2026, 12, 10))
    assert not stale_heads(TODAY).exists()


def test_only_rows_that_differ_are_written_again():
    job = stored_job("larkmoor-dental")
    dated(job)
    assert recompute_dates(TODAY).changed == 0
    LeadTerm.objects.filter(material__code="BASE-514-FLEX").update(production_days=20)
    assert recompute_dates(TODAY).changed == 1


def test_a_change_of_a_job_asks_for_one_errand_and_its_rows_follow():
    job = stored_job("larkmoor-dental")
    dated(job)
    before = from_rows(job)
    for start in ("2027-01-11", "2027-02-01"):
        save_job_head(job, {"job": {"start_on": start}}, seen_version=None)
    assert Errand.objects.filter(kind=DATE_JOB).count() == 1
    assert worked(job).worked_changes < worked(job).changes
    do_errands()
    assert worked(job).worked_changes == worked(job).changes
    assert from_rows(job) == live(job) != before


def test_a_job_that_changes_while_it_is_worked_up_is_worked_up_once_more():
    job = stored_job("larkmoor-dental")
    result = find_needs(job.pk, TODAY)
    save_job_head(job, {"job": {"start_on": "2027-02-01"}}, seen_version=None)
    Errand.objects.all().delete()
    keep_needs(job.pk, *result, NOW)
    assert worked(job).worked_changes != worked(job).changes
    do_errands()
    assert from_rows(job) == live(job)


def test_a_change_that_is_taken_back_leaves_neither_count_nor_errand():
    job = stored_job("larkmoor-dental")
    dated(job)
    with pytest.raises(RuntimeError), transaction.atomic():
        save_job_head(job, {"job": {"start_on": "2027-02-01"}}, seen_version=None)
        raise RuntimeError
    assert worked(job).worked_changes == worked(job).changes and not Errand.objects.exists()


def test_rows_go_with_the_wall_that_wanted_them_and_with_the_job():
    job = stored_job("larkmoor-dental")
    dated(job)
    delete_wall(job.walls.get(), deletion=Deletion("Bram Sawtry", NOW))
    do_errands()
    assert not StoredNeed.objects.exists()
    delete_job(job)
    do_errands()
    assert not WorkedJob.objects.exists()


def test_a_closed_job_has_no_rows_and_an_opened_one_has_them_again():
    job = stored_job("larkmoor-dental")
    dated(job)
    count = StoredNeed.objects.count()
    close_job(job, TODAY)
    do_errands()
    assert count and not StoredNeed.objects.exists()
    reopen_job(job)
    do_errands()
    assert StoredNeed.objects.count() == count


def test_a_change_of_the_catalog_asks_for_the_dates_of_all_jobs_once():
    job = stored_job("larkmoor-dental")
    dated(job)
    add_closure({"first": "2026-12-07", "last": "2026-12-11"}, "HENNOCK")
    add_closure({"first": "2027-03-01", "last": "2027-03-01"}, "HENNOCK")
    assert [errand.kind for errand in Errand.objects.all()] == [RECOMPUTE_DATES]
    do_errands()
    assert from_rows(job) == live(job) and not stale_heads(TODAY).exists()


def test_what_moves_quantities_or_activities_asks_for_a_work_up():
    """A firm's day off moves the activities and so the days things are needed: no back-pass alone can know."""
    job = stored_job("larkmoor-dental")
    dated(job)
    Closure.objects.create(first_day=date(2027, 1, 18), last_day=date(2027, 1, 20))
    Price.objects.first().save()
    assert recompute_dates(TODAY).to_work_up == (job.pk,)
    do_errands()
    assert from_rows(job) == live(job)


def test_a_new_day_counts_all_dates_again_and_asks_for_it_once(at_the_day):
    job = stored_job("larkmoor-dental")
    dated(job)
    catch_up(NOW, TODAY)
    assert not Errand.objects.exists()
    tomorrow = date(2026, 11, 26)
    for _ in range(2):
        catch_up(NOW, tomorrow)
    assert [errand.kind for errand in Errand.objects.all()] == [RECOMPUTE_DATES]
    at_the_day.move_to(datetime(2026, 11, 26, 15, 0, tzinfo=UTC))
    do_errands()
    assert worked(job).dated_on == tomorrow


def test_jobs_never_worked_up_and_lost_errands_are_found_by_the_clock_but_a_failed_one_waits():
    job = stored_job("larkmoor-dental")
    catch_up(NOW, TODAY)
    assert Errand.objects.get().payload == {"job": job.pk}
    Errand.objects.update(state="failed", error="no room", finished_at=NOW)
    catch_up(NOW, TODAY)
    assert Errand.objects.get().state == "failed"
    save_job_head(job, {"job": {"start_on": "2027-02-01"}}, seen_version=None)
    assert Errand.objects.get().state == "waiting"


def test_walls_that_cannot_be_worked_out_leave_their_trouble_and_no_rows():
    job = stored_job("larkmoor-dental")
    dated(job)
    job.walls.get().openings.update(centre_at_mm=10**6)
    dated(job)
    assert worked(job).trouble and not StoredNeed.objects.exists()


def test_whoever_listens_is_told_in_the_transaction_that_stores():
    job, pairs = stored_job("larkmoor-dental"), []
    stored_needs.after_refresh.append(lambda entry, work_up: pairs.append((entry.pk, len(work_up.needs))))
    stored_needs.after_redating.append(pairs.append)
    try:
        dated(job)
        LeadTerm.objects.filter(material__code="BASE-514-FLEX").update(production_days=20)
        recompute_dates(TODAY)
    finally:
        stored_needs.after_refresh.pop()
        stored_needs.after_redating.pop()
    assert pairs == [(job.pk, StoredNeed.objects.count()), [job.pk]]
