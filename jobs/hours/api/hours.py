"""Hours of jobs and elsewhere: entered, corrected, listed; and how long steps still take."""

from django.db import transaction
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.api.catalog import answered
from jobs.hours.api.rows import of_entry, of_steps
from jobs.hours.models import TimeEntry
from jobs.hours.services.correcting import correct_entry
from jobs.hours.services.entering import Entered, enter_hours
from jobs.hours.services.job_hours import entries_of, job_hours, spent
from jobs.hours.services.saying_left import say_left
from jobs.hours.services.workers import workers_for
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import job_of
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of, held, page_of, query_of
from quoting.platform.api.describing import Query, describe
from quoting.platform.api.parts import DAY
from quoting.platform.firm_day import day_at_the_firm, signature_of

AGAIN = "The same `request_key` enters it once."


class JobHours(ApiView):
    @describe("list_job_hours", "Hours of a job, the newest first.", gives="TimeEntryPage", paged=True)
    def get(self, request: Request, key: str) -> Response:
        return page_of(query_of(request), entries_of(job_of(key)), lambda row: of_entry(request, row))

    @describe(
        "enter_job_hours",
        f"Hours on a job. {AGAIN}",
        takes="NewJobHours",
        gives="EnteredHours",
        status=201,
        stands=True,
        again=True,
    )
    def post(self, request: Request, key: str) -> Response:
        return entered(request, job_of(key))


class AllHours(ApiView):
    @describe(
        "list_hours",
        "Hours of all jobs and elsewhere, the newest first.",
        gives="TimeEntryPage",
        query=[Query("since", DAY, "The first day wanted."), Query("until", DAY, "The last day wanted.")],
        paged=True,
    )
    def get(self, request: Request) -> Response:
        query = query_of(request)
        since, until = query.optional_day("since"), query.optional_day("until")
        rows = TimeEntry.objects.select_related("worker", "job").order_by("-day", "-pk")
        rows = rows.filter(day__gte=since) if since else rows
        rows = rows.filter(day__lte=until) if until else rows
        return page_of(query, rows, lambda row: of_entry(request, row))

    @describe(
        "enter_hours",
        f"Hours on jobs and elsewhere. {AGAIN}",
        takes="NewHours",
        gives="EnteredHours",
        status=201,
        stands=True,
        again=True,
    )
    def post(self, request: Request) -> Response:
        return entered(request, None)


class OneEntry(ApiView):
    @describe("read_time_entry", "One entry of hours.", gives="TimeEntry", tagged=True)
    def get(self, request: Request, entry_id: int) -> Response:
        return answered(of_entry(request, entry(entry_id)))

    @describe(
        "correct_time_entry",
        "Void an entry, or reverse it once its month is closed, and enter what is right in its place.",
        takes="HoursCorrection",
        gives="CorrectedHours",
        guarded="the entry",
    )
    @transaction.atomic
    def put(self, request: Request, entry_id: int) -> Response:
        now, document, row = clock.now(), document_of(request), entry(entry_id)
        held(request, TimeEntry.objects.filter(pk=entry_id), lambda: of_entry(request, entry(entry_id)))
        result = correct_entry(row, document, signature_of(request.user, now), now=now, among=workers_for(request.user))
        shown = {"entry": entry(entry_id), "reversal": result.reversal, "anew": result.anew}
        return Response({name: of_entry(request, each) if each else None for name, each in shown.items()})


class HoursLeftOfJob(ApiView):
    @describe("read_job_hours_left", "Hours of a job by step: planned, spent and left.", gives="JobHours", stands=True)
    def get(self, request: Request, key: str) -> Response:
        return Response(_standing(job_of(key)))

    @describe(
        "say_hours_left",
        f"How long steps of a job still take; the newest of a step counts. {AGAIN}",
        takes="NewHoursLeft",
        gives="JobHours",
        status=201,
        stands=True,
        again=True,
    )
    def post(self, request: Request, key: str) -> Response:
        job, now = job_of(key), clock.now()
        _, is_new = say_left(job, document_of(request), signature_of(request.user, now), now=now)
        return Response(_standing(job), status=201 if is_new else 200)


def entry(entry_id: int) -> TimeEntry:
    result: TimeEntry = TimeEntry.objects.select_related("worker", "job").get(pk=entry_id)
    return result


def entered(request: Request, job: Job | None) -> Response:
    now = clock.now()
    result: Entered = enter_hours(
        document_of(request), signature_of(request.user, now), now=now, among=workers_for(request.user), job=job
    )
    rows = TimeEntry.objects.select_related("worker", "job").in_bulk([row.pk for row in result.rows])
    shown = [of_entry(request, rows[row.pk]) for row in result.rows]
    return Response({"entries": shown, "late": [row.pk for row in result.late]}, status=201 if result.is_new else 200)


def _standing(job: Job) -> dict[str, object]:
    steps = job_hours(job, day_at_the_firm(clock.now()))
    return {"steps": of_steps(steps), "spent": spent(steps)}
