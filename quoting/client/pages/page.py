"""The client's page of one revision: the quote as issued, its options with the total that follows, and the answer."""

from collections.abc import Sequence
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.csrf import csrf_exempt

from catalog.core.ground.refusal import Refused
from quoting.changes.models import ChangeNote
from quoting.client.models import ClientLink
from quoting.client.pages.gate import by_link
from quoting.core.prices.options import Offer, OfferTotal, OptionError, PricedOption, total_with
from quoting.payment_requests.services.shown import shown_requests
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.papers.errors import PaperNotKept
from quoting.platform.papers.models import Paper
from quoting.platform.papers.papers import download_name, paper_bytes
from quoting.platform.people.rate_limits import address_of
from quoting.quotes.models import AnswerKind, QuoteRevision, RevisionState
from quoting.quotes.services.acceptance import answer_revision, window_on
from quoting.quotes.services.answers import answer_of, can_be_taken_back, taking_back_of
from quoting.quotes.services.certificate import window_sentences
from quoting.quotes.services.given_answers import Given
from quoting.quotes.services.offers import offer_of
from quoting.quotes.services.quote_papers import paper_of_revision
from quoting.quotes.services.revisions import is_acceptable
from quoting.quotes.services.snapshots import frozen_paper

MAX_TICKED = 100
OVER = {
    RevisionState.SUPERSEDED: "A later revision has taken its place, and has a link of its own.",
    RevisionState.WITHDRAWN: "The firm has withdrawn it.",
    RevisionState.TAKEN_BACK: "You took your acceptance back. A later revision has a link of its own.",
    RevisionState.LAPSED: "Its last day has passed. Ask the firm for the quote at today's prices.",
}


@by_link
def client_quote(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    return quote_page(request, link.revision, secret, ticked(request.GET))


@by_link
def client_total(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    """The total of the options ticked, as a fragment of the page."""
    revision = link.revision
    context = _choice(offer_of(revision), ticked(request.GET), revision)
    return render(request, "client/_total.html", context | {"swaps": True})


# No cookie and no log-in stand behind this page: whoever can post here holds the secret in its address, which no
# other site can know. A check for forged requests would add nothing, and with no-referrer browsers send it "null".
@csrf_exempt
@by_link
def client_answer(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    posted, now = request.POST, clock.now()
    kind = {"accept": AnswerKind.ACCEPTED, "decline": AnswerKind.DECLINED}.get(posted.get("answer", ""))
    typed = {"name": posted.get("name", ""), "reason": posted.get("reason", "")}
    try:
        if kind is None:
            raise Refused("Press one of the two buttons: accept, or decline.")
        given = Given(kind, typed["name"], ticked(posted), typed["reason"], address_of(request))
        answer_revision(link.revision, given, now=now, today=day_at_the_firm(now))
    except Refused as refusal:
        revision = QuoteRevision.objects.select_related("quote__job__client").get(pk=link.revision_id)
        refused = {"refusal": str(refusal), "typed": typed, "declining": kind == AnswerKind.DECLINED}
        return quote_page(request, revision, secret, ticked(posted), status=422, **refused)
    return redirect("client_quote", secret)


@by_link
def client_paper(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    return handed_out(paper_of_revision(link.revision))


@by_link
def client_certificate(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    return handed_out(Paper.objects.filter(answer__revision=link.revision).first())


def ticked(given: Any) -> list[str]:
    """Keys of the options ticked: boxes one by one, and one of each group of alternates."""
    groups = sorted(name for name in given if name.startswith("group-"))
    keys = [*given.getlist("option"), *(given.get(name) for name in groups)]
    return list(dict.fromkeys(key for key in keys[:MAX_TICKED] if key))


def quote_page(
    request: HttpRequest, revision: QuoteRevision, secret: str, keys: Sequence[str], status: int = 200, **more: Any
) -> HttpResponse:
    now = clock.now()
    today, answer = day_at_the_firm(now), answer_of(revision)
    acceptable = is_acceptable(revision, today)
    if answer is not None:
        keys = [option["key"] for option in answer.options]
    window = window_on(revision, today) if acceptable else None
    context = {
        "secret": secret,
        "revision": revision,
        "paper": frozen_paper(revision),
        "has_file": paper_of_revision(revision) is not None,
        "acceptable": acceptable,
        "over": OVER.get(RevisionState(revision.state), OVER[RevisionState.LAPSED]),
        "window": window,
        "answer": answer,
        "answer_window": window_sentences(answer) if answer else (),
        "back": taking_back_of(revision),
        "can_take_back": can_be_taken_back(answer, revision.state, today),
        "changes": ChangeNote.objects.filter(revision=revision).exclude(state="withdrawn").defer("snapshot"),
        "requests": shown_requests(revision),
        "has_certificate": Paper.objects.filter(answer=answer).exists() if answer else False,
        **_choice(offer_of(revision), keys, revision),
        **more,
    }
    return render(request, "client/quote.html", context, status=status)


def _choice(offer: Offer, keys: Sequence[str], revision: QuoteRevision) -> dict[str, Any]:
    """The options as they are ticked, and what they come to; a choice that cannot be falls back to none, in words."""
    try:
        total, refused = total_with(offer, keys), ""
    except OptionError as error:
        total, refused = total_with(offer, ()), str(error)
    return {
        "total": total,
        "currency": revision.currency,
        "choice_refused": refused,
        "tax_name": offer.tax.name,
        "groups": _groups(offer, total),
    }


def _groups(offer: Offer, total: OfferTotal) -> list[tuple[str, list[tuple[PricedOption, bool]]]]:
    """Alternates under their group, the others under no name; in the order of the offer."""
    groups: dict[str, list[tuple[PricedOption, bool]]] = {}
    for option in offer.options:
        groups.setdefault(option.group, []).append((option, option.key in total.chosen))
    return list(groups.items())


def handed_out(row: Paper | None) -> HttpResponse:
    if row is None:
        raise Http404("This paper is not made yet; open the link again in a minute.")
    try:
        data = paper_bytes(row)
    except PaperNotKept as error:
        raise Http404("This paper cannot be handed out at the moment; ask the firm for it.") from error
    response = HttpResponse(data, content_type="application/pdf")
    response["Content-Disposition"] = f'attachment; filename="{download_name(row)}"'
    return response
