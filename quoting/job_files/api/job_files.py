from django.urls import reverse
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.jobs.services.jobs import job_of
from jobs.whole_jobs.api.jobs import written
from quoting.job_files.services.job_files import export_job_file, import_job_file
from quoting.platform import clock
from quoting.platform.api.base import ApiView, day_asked, document_of, query_of, tagged
from quoting.platform.api.describing import TODAY, Query, describe

ON_KNOWN = ("refuse", "replace")


class JobFileOut(ApiView):
    @describe(
        "export_job_file", "The whole job in one document, read back by the import.", gives="JobFile", query=(TODAY,)
    )
    def get(self, request: Request, key: str) -> Response:
        response = Response(export_job_file(job_of(key), day_asked(request)))
        response["Content-Disposition"] = 'attachment; filename="job-file.json"'
        return response


class JobFileIn(ApiView):
    @describe(
        "import_job_file",
        "Bring a job file in. The office's own firm, suppliers and materials stay as they are; those it lacks are "
        "added. All of it or nothing. Overrides, marks and dismissals keep the author and day the file gives them; "
        "that you brought them in is kept beside. None of them releases an order until somebody here confirms it.",
        takes="JobFile",
        gives="JobEntry",
        status=201,
        tagged=True,
        query=(
            Query("on_known", {"enum": list(ON_KNOWN), "default": "refuse"}, "What to do about a key that is taken."),
        ),
    )
    def post(self, request: Request) -> Response:
        query = query_of(request)
        on_known = query.choice("on_known", ON_KNOWN, "refuse")
        query.finish()
        job = import_job_file(document_of(request), now=clock.now(), by=request.user, on_known=on_known)  # type: ignore[arg-type]
        response = tagged(Response(written(request, job), status=201), job.version)
        response["Location"] = reverse("api_job", args=[job.key])
        return response
