"""What is today of whoever asks: activities, deliveries and next steps."""

from rest_framework.request import Request
from rest_framework.response import Response

from jobs.dates.services.item_schedule import open_items
from quoting.platform import clock
from quoting.platform.api.base import ApiView, PlainCalls, WorkUps
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import moment_at_the_firm
from quoting.platform.people import access
from quoting.service.services.desk_day import desk_day, desk_day_document
from quoting.service.services.own_day import own_day, own_day_document

NO_DESK = {"next": [], "more": 0, "waiting_for": []}


class OwnDay(ApiView):
    throttle_classes = (PlainCalls, WorkUps)

    @describe(
        "read_own_day",
        "Your own day: activities of the jobs you are on, goods expected there, the steps you take next; at a desk "
        "what is next of all jobs and whom the firm waits for, as the page Today has it.",
        gives="OwnDay",
        stands=True,
    )
    def get(self, request: Request) -> Response:
        moment = moment_at_the_firm(clock.now())
        read, role = open_items(moment), access.role_of(request.user)
        desk = desk_day_document(desk_day(role, read, moment)) if role in access.DESK else NO_DESK
        return Response(own_day_document(own_day(request.user, read), read.desk.today) | desk)
