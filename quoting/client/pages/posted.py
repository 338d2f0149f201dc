"""What a client's page says besides the answer: that it was opened, a question, what is to be mended, a taking back.

As with the answer, whoever can post here holds the secret in the address (see quoting/client/pages/page.py).
"""

from datetime import date, datetime
from functools import partial

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.csrf import csrf_exempt

from catalog.core.ground.refusal import Refused
from jobs.finish.models import FinishPhoto
from jobs.finish.services.finish_list import add_of_client
from jobs.walls.pages.pages import photo_response
from quoting.client.models import ClientLink
from quoting.client.pages.gate import OPENINGS, by_link
from quoting.client.pages.page import acted
from quoting.client.services.acceptance_withdrawal import Notice, take_back
from quoting.client.services.openings import count_opening
from quoting.client.services.questions import ask
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people.rate_limits import address_of
from quoting.platform.people.signatures import Signature
from quoting.quotes.models import RevisionState


@csrf_exempt
@partial(by_link, limit=OPENINGS)
def client_opened(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    """By a call of its own, so that mail filters that fetch links count for nothing, and never of whoever of the firm
    looks at it while logged in."""
    if not request.user.is_authenticated:
        now = clock.now()
        count_opening(link, now=now, today=day_at_the_firm(now))
    return HttpResponse(status=204)


@csrf_exempt
@by_link
def client_ask(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    def act(now: datetime, today: date) -> None:
        ask(link.revision, _typed(request, "text"), today, address_of(request), now)

    return acted(request, link, secret, act, "question")


@csrf_exempt
@by_link
def client_finish(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    def act(now: datetime, today: date) -> None:
        job = link.revision.quote.job
        if link.revision.state != RevisionState.ACCEPTED:
            raise Refused("This quotation is not the one that was agreed. Ask a question instead.")
        add_of_client(job, _typed(request, "what", "wall"), Signature(job.client.name, today))

    return acted(request, link, secret, act, "finish")


def _typed(request: HttpRequest, *names: str) -> dict[str, str]:
    return {name: typed for name in names if (typed := request.POST.get(name, "").strip())}


@by_link
def client_finish_photo(request: HttpRequest, link: ClientLink, secret: str, photo_id: int) -> HttpResponse:
    accepted = link.revision.state == RevisionState.ACCEPTED
    photo = FinishPhoto.objects.filter(pk=photo_id, item__job=link.revision.quote.job_id).first() if accepted else None
    if photo is None:
        raise Http404("There is no such photo.")
    return photo_response(photo)


@csrf_exempt
@by_link
def client_take_back(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    def act(now: datetime, today: date) -> None:
        name, reason = request.POST.get("name", ""), request.POST.get("reason", "")
        notice = Notice(name, today, reason=reason, from_address=address_of(request))
        take_back(link.revision, notice, now=now, today=today)

    return acted(request, link, secret, act, "back")
