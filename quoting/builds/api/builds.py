from rest_framework.request import Request
from rest_framework.response import Response

from catalog.services.typed_money import entry_reader
from jobs.jobs.services.jobs import job_of
from quoting.builds.services.comparing import compare_builds
from quoting.core.prices.variants import read_variants
from quoting.core.quotes.comparison_document import comparison_document
from quoting.platform.api.base import Document, WorkingView, day_asked, document_of, sees_margins, without
from quoting.platform.api.describing import TODAY, describe


class JobBuilds(WorkingView):
    @describe(
        "compare_builds",
        "Work a job up as it stands and built up to three other ways, side by side. Nothing is stored.",
        takes="BuildVariants",
        gives="BuildComparison",
        query=(TODAY,),
        works=True,
    )
    def post(self, request: Request, key: str) -> Response:
        job, day = job_of(key), day_asked(request)
        reader = entry_reader(document_of(request))
        variants = read_variants(reader)
        reader.finish()
        return Response(builds_for(request, comparison_document(compare_builds(job, variants, day))))


def builds_for(request: Request, compared: Document) -> Document:
    """Of prices, those who do not make them see costs only."""
    if sees_margins(request):
        return compared
    present, builds = compared["present"], compared["builds"]
    return compared | {
        "present": without(present, "price", "total"),
        "builds": [without(build, "price", "total") for build in builds],
    }
