"""The finish list on the client's own page: what they found, and photos of what is on it."""

from datetime import date, datetime

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.csrf import csrf_exempt

from catalog.core.ground.refusal import Refused
from jobs.finish.models import FinishPhoto
from jobs.finish.services.finish_list import add_of_client
from jobs.walls.pages.pages import photo_response
from quoting.client.models import ClientLink
from quoting.client.pages.gate import by_link
from quoting.client.pages.page import acted
from quoting.platform.people.signatures import Signature
from quoting.quotes.models import RevisionState


# As with the answer, whoever can post here holds the secret in the address (see quoting/client/pages/page.py).
@csrf_exempt
@by_link
def client_finish(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    def act(now: datetime, today: date) -> None:
        job = link.revision.quote.job
        if link.revision.state != RevisionState.ACCEPTED:
            raise Refused("This quotation is not the one that was agreed. Ask a question instead.")
        add_of_client(job, _typed(request), Signature(job.client.name, today))

    return acted(request, link, secret, act, "finish")


def _typed(request: HttpRequest) -> dict[str, str]:
    return {name: typed for name in ("what", "wall") if (typed := request.POST.get(name, "").strip())}


@by_link
def client_finish_photo(request: HttpRequest, link: ClientLink, secret: str, photo_id: int) -> HttpResponse:
    accepted = link.revision.state == RevisionState.ACCEPTED
    photo = FinishPhoto.objects.filter(pk=photo_id, item__job=link.revision.quote.job_id).first() if accepted else None
    if photo is None:
        raise Http404("There is no such photo.")
    return photo_response(photo)
