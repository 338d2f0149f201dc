"""What is today of whoever asks: activities, deliveries and next steps."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from jobs.dates.services.item_schedule import open_items
from quoting.platform import clock
from quoting.platform.api.base import ApiView, PlainCalls, WorkUps
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import moment_at_the_firm
from quoting.platform.people import access
from quoting.service.api.day_shown import DayRead, OwnDayShown
from quoting.service.services.desk_day import desk_day
from quoting.service.services.own_day import own_day


class OwnDay(ApiView):
    throttle_classes = (PlainCalls, WorkUps)

    @describe(
        "read_own_day",
        "Your own day, as on the page Today: activities of your jobs, goods expected there, and your next steps. At "
        "a desk: what is next of all jobs, and whom the firm waits for.",
        gives="OwnDay",
        stands=True,
    )
    def get(self, request: Request) -> Response:
        moment = moment_at_the_firm(clock.now())
        read, role = open_items(moment), access.role_of(request.user)
        desk = desk_day(role, read, moment) if role in access.DESK else None
        return Response(write(DayRead(read.desk.today, own_day(request.user, read), desk), OwnDayShown))
