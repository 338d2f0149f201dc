"""What the owner wants to be warned of in the money of a job."""

from django.db import transaction
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.api.catalog import answered
from catalog.core.ground.declared import Document, write
from quoting.job_money.api.shapes.job_money import MoneyLimitsShown
from quoting.job_money.models import MoneyLimits
from quoting.job_money.services.limits import money_limits, set_limits
from quoting.platform.api.base import ApiView, document_of, held
from quoting.platform.api.describing import describe


class Limits(ApiView):
    @describe("read_money_limits", "From when on the money of a job is warned of.", gives="MoneyLimits", tagged=True)
    def get(self, request: Request) -> Response:
        return answered(of_limits())

    @describe(
        "set_money_limits",
        "Set from when on the money of a job is warned of.",
        takes="NewMoneyLimits",
        gives="MoneyLimits",
        tagged=True,
        guarded="the limits",
    )
    @transaction.atomic
    def put(self, request: Request) -> Response:
        held(request, MoneyLimits.objects.all(), of_limits)
        set_limits(document_of(request))
        return answered(of_limits())


def of_limits() -> Document:
    return write(money_limits(), MoneyLimitsShown)
