"""Taking the acceptance back on the client's page, while its window runs."""

from datetime import date, datetime

from django.http import HttpRequest, HttpResponse
from django.views.decorators.csrf import csrf_exempt

from quoting.client.models import ClientLink
from quoting.client.pages.gate import by_link
from quoting.client.pages.page import acted
from quoting.client.services.acceptance_withdrawal import Notice, take_back
from quoting.platform.people.rate_limits import address_of


# As with the answer itself, whoever can post here holds the secret in the address (see quoting/client/pages/page.py).
@csrf_exempt
@by_link
def client_take_back(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    def act(now: datetime, today: date) -> None:
        name, reason = request.POST.get("name", ""), request.POST.get("reason", "")
        notice = Notice(name, today, reason=reason, from_address=address_of(request))
        take_back(link.revision, notice, now=now, today=today)

    return acted(request, link, secret, act, "back")
