"""The client's page says that it was opened: by a call of its own, so that mail filters that fetch links count for
nothing, and never of whoever of the firm looks at it while logged in."""

from functools import partial

from django.http import HttpRequest, HttpResponse
from django.views.decorators.csrf import csrf_exempt

from quoting.client.models import ClientLink
from quoting.client.pages.gate import OPENINGS, by_link
from quoting.client.services.openings import count_opening
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm


# As with the answer, whoever can post here holds the secret in the address (see quoting/client/pages/page.py).
@csrf_exempt
@partial(by_link, limit=OPENINGS)
def client_opened(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    if not request.user.is_authenticated:
        now = clock.now()
        count_opening(link, now=now, today=day_at_the_firm(now))
    return HttpResponse(status=204)
