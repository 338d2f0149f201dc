from rest_framework.request import Request
from rest_framework.response import Response

from jobs.jobs.models import Job
from jobs.jobs.services.jobs import job_of
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of, tagged, version_seen
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.pricing.models import Pricing
from quoting.pricing.services.pricing import fill_from_usual, pricing_document, pricing_of, save_pricing


class JobPricing(ApiView):
    @describe("read_pricing", "How a job is priced.", gives="JobPricing", tagged=True)
    def get(self, request: Request, key: str) -> Response:
        return answered(priced(job_of(key)))

    @describe(
        "change_pricing",
        "Price a job exactly so. A tax given by name alone has the rate in force on the day of the quote.",
        takes="JobPricing",
        gives="JobPricing",
        tagged=True,
        guarded="the pricing",
    )
    def put(self, request: Request, key: str) -> Response:
        job = job_of(key)
        seen = version_seen(request)
        now = clock.now()
        signature, today = signature_of(request.user, now), day_at_the_firm(now)
        save_pricing(job, document_of(request), seen_version=seen, on_day=today, signature=signature)
        return answered(priced(job))

    @describe(
        "fill_pricing",
        "Give a job that is not priced yet the firm's usual pricing; the one it has stays.",
        gives="JobPricing",
        tagged=True,
    )
    def post(self, request: Request, key: str) -> Response:
        fill_from_usual(job_of(key))
        return answered(priced(job_of(key)))


def priced(job: Job) -> Pricing:
    pricing = pricing_of(job)
    if pricing is None:
        raise Pricing.DoesNotExist
    return pricing


def answered(pricing: Pricing) -> Response:
    document = pricing_document(pricing, day_at_the_firm(clock.now()))
    return tagged(Response(document), pricing.version)
