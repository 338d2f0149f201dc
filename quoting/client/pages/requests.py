"""The paper of a request on the client's own page: of the quote the link is of, and no other."""

from django.http import HttpRequest, HttpResponse

from quoting.client.models import ClientLink
from quoting.client.pages.gate import by_link
from quoting.client.pages.page import handed_out
from quoting.platform.papers.models import Paper


@by_link
def client_request(request: HttpRequest, link: ClientLink, secret: str, number: int) -> HttpResponse:
    rows = Paper.objects.select_related("job", "payment_request").filter(payment_request__revision=link.revision)
    return handed_out(rows.filter(payment_request__number=number).first())
