"""What the owner wants to be warned of in the money of a job."""

from django.db import transaction
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.api.catalog import answered
from catalog.core.ground.plain_text import plain
from quoting.job_money.models import MoneyLimits
from quoting.job_money.services.limits import money_limits, set_limits
from quoting.platform.api.base import ApiView, Document, document_of, held
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
    row = money_limits()
    return {
        "days_without_bill": row.days_without_bill,
        "under_billed": plain(row.share),
        "points_a_month": plain(row.points),
    }
