"""Working jobs up after every change of them, and counting dates anew when the catalog or the day changes."""

from typing import ClassVar

from catalog.services import changes as catalog_changes
from catalog.services.book import NoFirmYet
from jobs.jobs.services import changes as job_changes
from jobs.needs.services.date_recalculation import Redated, recompute_dates
from jobs.needs.services.schedule_refresh import (
    DATE_JOB,
    RECOMPUTE_DATES,
    ask_to_date,
    ask_to_recompute,
    find_needs,
    keep_needs,
)
from jobs.needs.services.stored_needs import InputVersions
from jobs.work_up.services.job_work_up import JobResult
from quoting.platform import clock
from quoting.platform.errands.services.errand_kinds import Claim, errand_kind
from quoting.platform.firm_day import day_at_the_firm


@errand_kind(DATE_JOB)
class DateJob:
    """The needs of one job with their dates, as the job and the catalog stand."""

    time_limit_s: ClassVar[int] = 240

    def work(self, claim: Claim) -> tuple[InputVersions, JobResult | None] | None:
        return find_needs(claim.payload["job"], day_at_the_firm(clock.now()))

    def store(self, claim: Claim, result: tuple[InputVersions, JobResult | None] | None) -> None:
        if result is not None:
            keep_needs(claim.payload["job"], *result, clock.now())


@errand_kind(RECOMPUTE_DATES)
class RecomputeDates:
    """The dates of every open job, from its rows. What is written in between is right whoever wrote it."""

    time_limit_s: ClassVar[int] = 600

    def work(self, claim: Claim) -> Redated | None:
        try:
            return recompute_dates(day_at_the_firm(clock.now()), claim.say)
        except NoFirmYet:
            return None

    def store(self, claim: Claim, result: Redated | None) -> None:
        if result is not None:
            ask_to_date(result.to_work_up, clock.now())


def job_was_changed(job_id: int) -> None:
    ask_to_date([job_id], clock.now())


def catalog_was_changed() -> None:
    ask_to_recompute(clock.now())


job_changes.after_change.append(job_was_changed)
catalog_changes.after_change.append(catalog_was_changed)
