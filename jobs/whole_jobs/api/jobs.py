from collections.abc import Sequence

from django.urls import reverse
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError, Reader
from jobs.deleted.services.deleted import Deletion
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import export_job, job_of, list_jobs
from jobs.jobs.services.lives import lives_as_documents
from jobs.whole_jobs.api.shapes import JobInShort
from jobs.whole_jobs.services.job_entries import create_job, save_job_head
from jobs.work_up.api.visible import job_for
from quoting.platform import clock
from quoting.platform.api.base import (
    UNITS,
    ApiView,
    Document,
    document_of,
    page_at_once,
    query_of,
    sees_costs,
    tagged,
    unit_asked,
    version_seen,
)
from quoting.platform.api.describing import Query, describe
from quoting.platform.firm_day import signature_of

STATES = ("open", "closed", "all")
SEARCH = Query("search", {"type": "string", "maxLength": 200}, "Words of the key, the title or the client's name.")
STATE = Query("state", {"enum": list(STATES), "default": "all"}, "Jobs under way, closed ones, or all.")


class Jobs(ApiView):
    @describe("list_jobs", "Jobs, the newest first.", gives="JobPage", paged=True, query=(SEARCH, STATE))
    def get(self, request: Request) -> Response:
        query = query_of(request)
        state, search = query.choice("state", STATES, "all"), query.text("search", "", longest=200)
        rows = [job for job in list_jobs(search) if state == "all" or (job.closed_on is None) == (state == "open")]
        return page_at_once(query, rows, lambda jobs: in_short(request, jobs))

    @describe(
        "add_job",
        "A new job: the parts `client`, `job` and `walls` of a job file. Without a key it is given the next one. "
        "Its overrides are signed with your name and today.",
        takes="NewJob",
        gives="JobEntry",
        status=201,
        tagged=True,
    )
    def post(self, request: Request) -> Response:
        document = document_of(request, ("units", "client", "job", "walls"))
        unit = Reader(document).choice("units", UNITS, "in")
        parts = {name: document[name] for name in ("client", "job", "walls") if name in document}
        now = clock.now()
        job = create_job(parts, now=now, by=request.user, bare_unit=unit, signature=signature_of(request.user, now))
        response = tagged(Response(written(request, job), status=201), job.version)
        response["Location"] = reverse("api_job", args=[job.key])
        return response


class OneJob(ApiView):
    @describe("read_job", "One job with its walls, as in a job file.", gives="JobEntry", tagged=True)
    def get(self, request: Request, key: str) -> Response:
        job = job_of(key)
        return tagged(Response(job_for(request, written(request, job))), job.version)

    @describe(
        "change_job",
        "Change entries of `client` and `job`; what is not named stays, walls too. Overrides that are new or changed "
        "are signed with your name and today.",
        takes="JobChanges",
        gives="JobEntry",
        tagged=True,
        guarded="the job",
        units=True,
    )
    def patch(self, request: Request, key: str) -> Response:
        document = document_of(request, ("client", "job", "note"))
        note = Reader(document).text("note", "") if document.get("note") is not None else None
        for name in ("client", "job"):
            if name in document and not isinstance(document[name], dict):
                raise DocumentError.at(name, "must be an object")
        job = save_job_head(
            job_of(key),
            document,
            seen_version=version_seen(request),
            note=note,
            bare_unit=unit_asked(request),
            signature=signature_of(request.user, clock.now()),
            deletion=Deletion(request.user.full_name, clock.now()),
        )
        return tagged(Response(written(request, job)), job.version)


def in_short(request: Request, jobs: Sequence[Job]) -> list[Document]:
    lives = lives_as_documents(jobs, at_desk=sees_costs(request))
    return [write(job, JobInShort, within=lives) for job in jobs]


def written(request: Request, job: Job) -> Document:
    return {
        **export_job(job),
        "client_id": job.client_id,
        "note": job.note,
        "closed_on": job.closed_on.isoformat() if job.closed_on else None,
        "version": job.version,
        "life": lives_as_documents([job], at_desk=sees_costs(request))[job.pk],
    }
