"""What follows from the activities of jobs: the chance of a promised day, and crews wanted twice."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from jobs.core.results.activity_shown import ChanceOfJob, CrewClashesShown, CrewsAhead, FinishingChanceShown
from jobs.jobs.api.work import WORK, work_asked
from jobs.jobs.services.jobs import job_of
from jobs.schedule.services.late_goods import chance_with_goods
from jobs.schedule.services.planned_days import crew_days_ahead
from jobs.work_up.services.job_work_up import JobResult, stored_work_up
from quoting.platform import clock
from quoting.platform.api.base import ApiView, WorkingView, day_asked, query_of
from quoting.platform.api.describing import TODAY, describe
from quoting.platform.firm_day import day_at_the_firm


class JobChance(WorkingView):
    @describe(
        "read_finishing_chance",
        "The chance that a job is done by its promised day, and what would raise it most.",
        gives="FinishingChance",
        query=(TODAY,),
        works=True,
    )
    def get(self, request: Request, key: str) -> Response:
        job, today = job_of(key), day_asked(request)
        work_up = stored_work_up(job, today)
        chance, late = chance_with_goods(JobResult(job, work_up), today)
        return Response(write(ChanceOfJob(work_up, chance, late), FinishingChanceShown))


class CrewClashes(ApiView):
    @describe(
        "read_crew_clashes",
        "Days on which open jobs together need more people than the firm has, or one person in two places.",
        gives="CrewClashes",
        query=(TODAY, WORK),
        stands=True,
    )
    def get(self, request: Request) -> Response:
        query = query_of(request)
        today, work = query.optional_day("today") or day_at_the_firm(clock.now()), work_asked(query)
        query.finish()
        ahead = crew_days_ahead(today, work=work)
        return Response(write(CrewsAhead(today, ahead), CrewClashesShown))
