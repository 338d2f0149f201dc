"""Hours of jobs and elsewhere: entered, corrected, listed; and how long steps still take."""

from dataclasses import replace

from django.db import transaction
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.api.catalog import answered
from catalog.core.ground.declared import Document, write
from jobs.hours.api.shapes import CorrectedHours, EnteredHours, JobHoursShown, TimeEntryShown
from jobs.hours.models import TimeEntry
from jobs.hours.services.correcting import correct_entry
from jobs.hours.services.entering import enter_hours
from jobs.hours.services.job_hours import entries_of, job_hours
from jobs.hours.services.saying_left import say_left
from jobs.hours.services.workers import workers_for
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import job_of
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of, held, page_of, query_of
from quoting.platform.api.declared import shown
from quoting.platform.api.describing import Query, describe
from quoting.platform.api.parts import DAY
from quoting.platform.firm_day import day_at_the_firm, signature_of

AGAIN = "The same `request_key` enters it once."


class JobHours(ApiView):
    @describe("list_job_hours", "Hours of a job, the newest first.", gives="TimeEntryPage", paged=True)
    def get(self, request: Request, key: str) -> Response:
        return page_of(query_of(request), entries_of(job_of(key)), lambda row: shown(request, row, TimeEntryShown))

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
        query=[Query("since", DAY, "The first day."), Query("until", DAY, "The last day.")],
        paged=True,
    )
    def get(self, request: Request) -> Response:
        query = query_of(request)
        since, until = query.optional_day("since"), query.optional_day("until")
        rows = TimeEntry.objects.select_related("worker", "job").order_by("-day", "-pk")
        rows = rows.filter(day__gte=since) if since else rows
        rows = rows.filter(day__lte=until) if until else rows
        return page_of(query, rows, lambda row: shown(request, row, TimeEntryShown))

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
        return answered(shown(request, entry(entry_id), TimeEntryShown))

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
        held(request, TimeEntry.objects.filter(pk=entry_id), lambda: shown(request, entry(entry_id), TimeEntryShown))
        result = correct_entry(row, document, signature_of(request.user, now), now=now, among=workers_for(request.user))
        return Response(shown(request, replace(result, entry=entry(entry_id)), CorrectedHours))


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
    result = enter_hours(
        document_of(request), signature_of(request.user, now), now=now, among=workers_for(request.user), job=job
    )
    rows = TimeEntry.objects.select_related("worker", "job").in_bulk([row.pk for row in result.rows])
    answer = replace(result, rows=tuple(rows[row.pk] for row in result.rows))
    return Response(shown(request, answer, EnteredHours), status=201 if result.is_new else 200)


def _standing(job: Job) -> Document:
    return write(job_hours(job, day_at_the_firm(clock.now())), JobHoursShown)
