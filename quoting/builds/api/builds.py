from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.document_reader import Reader
from jobs.jobs.services.jobs import job_of
from quoting.core.prices.variants import read_variants
from quoting.core.quotes.comparison_document import comparison_document
from quoting.platform.api.base import WorkingView, day_asked, document_of
from quoting.platform.api.describing import TODAY, describe
from quoting.quotes.api.visible import builds_for
from quoting.quotes.services.comparing import compare_builds


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
        reader = Reader(document_of(request))
        variants = read_variants(reader)
        reader.finish()
        return Response(builds_for(request, comparison_document(compare_builds(job, variants, day))))
