"""The cutting plans of a stored job: how they stand, asking for better ones, choosing one and going back."""

from django.http import Http404
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.plain_text import money
from catalog.core.ground.refusal import Refused
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import job_of
from jobs.plans.models import FoundPlan, PlanOf
from jobs.plans.services.asking import ask_for_plan
from jobs.plans.services.plans import choose_plan, drop_plan
from jobs.plans.services.standing import Figures, PlanState, standing_of
from jobs.work_up.services.job_work_up import stored_work_up
from quoting.platform import clock
from quoting.platform.api.base import Document, WorkingView, tagged, version_seen
from quoting.platform.api.describing import describe
from quoting.platform.errands.models import Errand
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
    return tagged(Response({what: _standing(job, what, work_up) for what in PlanOf.values}), job.version)


def _standing(job: Job, what: str, work_up: JobWorkUp) -> Document:
    state: PlanState = standing_of(job, what, work_up)
    return {
        "in_use": state.in_use,
        "chosen_by": state.chosen_by,
        "chosen": _figures(state.chosen),
        "found": _figures(state.figures),
        "found_is_fresh": state.is_fresh,
        "errand": _errand(state.errand),
    }


def _figures(figures: Figures | None) -> Document | None:
    if figures is None:
        return None
    return {
        "cost": money(figures.cost),
        "quick_cost": money(figures.quick_cost),
        "bound_cost": money(figures.bound_cost),
        "gap": figures.gap,
        "in_words": figures.words,
    }


def _errand(errand: Errand | None) -> Document | None:
    if errand is None:
        return None
    return {
        "state": errand.state,
        "progress_text": errand.progress_text,
        "progress_percent": errand.progress_percent,
        "error": errand.error,
    }
