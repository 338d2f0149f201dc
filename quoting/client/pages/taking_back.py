"""Taking the acceptance back on the client's page, while its window runs."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.csrf import csrf_exempt

from catalog.core.ground.refusal import Refused
from quoting.client.models import ClientLink
from quoting.client.pages.gate import by_link
from quoting.client.pages.page import quote_page
from quoting.client.services.acceptance_withdrawal import Notice, take_back
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people.rate_limits import address_of
from quoting.quotes.models import QuoteRevision


# As with the answer itself, whoever can post here holds the secret in the address (see quoting/client/pages/page.py).
@csrf_exempt
@by_link
def client_take_back(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    now, typed = clock.now(), {name: request.POST.get(name, "") for name in ("name", "reason")}
    today = day_at_the_firm(now)
    notice = Notice(typed["name"], today, reason=typed["reason"], from_address=address_of(request))
    try:
        take_back(link.revision, notice, now=now, today=today)
    except Refused as refusal:
        revision = QuoteRevision.objects.select_related("quote__job__client").get(pk=link.revision_id)
        return quote_page(request, revision, secret, (), status=422, back_refusal=str(refusal), typed=typed)
    return redirect("client_quote", secret)
