"""The cutting plans of a stored job: how they stand, asking for better ones, choosing one and going back."""

from django.http import Http404
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from catalog.core.ground.refusal import Refused
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import job_of
from jobs.plans.api.shapes.plans import CuttingPlans
from jobs.plans.models import FoundPlan, PlanOf
from jobs.plans.services.asking import ask_for_plan
from jobs.plans.services.plans import choose_plan, drop_plan
from jobs.plans.services.standing import standing_of
from jobs.work_up.services.job_work_up import stored_work_up
from quoting.platform import clock
from quoting.platform.api.base import WorkingView, tagged, version_seen
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm, signature_of


class JobPlans(WorkingView):
    @describe(
        "read_plans",
        "What boards and sticks of a job are cut by, what was found better, and what is being looked for. "
        "Its ETag is the job's.",
        gives="CuttingPlans",
        works=True,
        tagged=True,
    )
    def get(self, request: Request, key: str) -> Response:
        return answer(job_of(key))


class OnePlan(WorkingView):
    @describe(
        "ask_for_plan",
        "Look for a better plan of boards or sticks in the background; the same question asked again is the same work.",
        gives="CuttingPlans",
        works=True,
        tagged=True,
    )
    def post(self, request: Request, key: str, what: str) -> Response:
        job, now = job_and_known(key, what), clock.now()
        ask_for_plan(job, what, stored_work_up(job, day_at_the_firm(now)), now)
        return answer(job)

    @describe(
        "use_plan",
        "Cut the job by the best plan found, signed with your name and today.",
        gives="CuttingPlans",
        works=True,
        tagged=True,
        guarded="the job",
    )
    def put(self, request: Request, key: str, what: str) -> Response:
        job, seen = job_and_known(key, what), version_seen(request)
        plan = FoundPlan.objects.filter(job=job, what=what).order_by("-found_at").first()
        if plan is None:
            raise Refused("No plan was found yet: ask for one first.")
        signature = signature_of(request.user, clock.now())
        choose_plan(plan, by=signature.by, on=signature.on, seen_version=seen)
        return answer(job_of(key))

    @describe(
        "drop_plan",
        "Go back to the quick plan.",
        gives="CuttingPlans",
        works=True,
        tagged=True,
        guarded="the job",
    )
    def delete(self, request: Request, key: str, what: str) -> Response:
        drop_plan(job_and_known(key, what), what, seen_version=version_seen(request))
        return answer(job_of(key))


def job_and_known(key: str, what: str) -> Job:
    if what not in PlanOf.values:
        raise Http404
    return job_of(key)


def answer(job: Job) -> Response:
    work_up = stored_work_up(job, day_at_the_firm(clock.now()))
    plans = {what: standing_of(job, what, work_up) for what in PlanOf.values}
    return tagged(Response(write(plans, CuttingPlans)), job.version)
