from rest_framework.request import Request
from rest_framework.response import Response

from catalog.services.typed_money import entry_reader
from jobs.jobs.services.jobs import job_of
from quoting.builds.services.comparing import compare_builds
from quoting.builds.services.way_price import price_of_way
from quoting.core.prices.variants import read_variants
from quoting.core.quotes.comparison_document import ComparisonShown
from quoting.platform import clock
from quoting.platform.api.base import WorkingView, day_asked, document_of, query_of
from quoting.platform.api.declared import shown
from quoting.platform.api.describing import TODAY, Query, describe
from quoting.platform.firm_day import signature_of


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
        return Response(shown(request, compare_builds(job, variants, day), ComparisonShown))


class WallWayPrice(WorkingView):
    @describe(
        "price_way_out",
        "What a way out of a bend costs: the job with that wall so built, less as it stands. Nothing is stored.",
        gives="WayPrice",
        query=(Query("way", {"type": "string"}, "Key of the way."),),
        works=True,
    )
    def get(self, request: Request, key: str, wall_key: str) -> Response:
        query = query_of(request)
        way = query.text("way")
        query.finish()
        signature = signature_of(request.user, clock.now())
        return Response(shown(request, price_of_way(job_of(key), wall_key, way, signature)))
