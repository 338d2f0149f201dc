"""What is today of whoever asks: activities, deliveries and next steps."""

from rest_framework.request import Request
from rest_framework.response import Response

from jobs.dates.services.item_schedule import open_items
from quoting.platform import clock
from quoting.platform.api.base import ApiView, PlainCalls, WorkUps
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import moment_at_the_firm
from quoting.service.services.own_day import own_day, own_day_document


class OwnDay(ApiView):
    throttle_classes = (PlainCalls, WorkUps)

    @describe(
        "read_own_day",
        "Your own day: activities of the jobs you are on, goods expected there, and the steps you take next.",
        gives="OwnDay",
        stands=True,
    )
    def get(self, request: Request) -> Response:
        read = open_items(moment_at_the_firm(clock.now()))
        return Response(own_day_document(own_day(request.user, read), read.desk.today))
