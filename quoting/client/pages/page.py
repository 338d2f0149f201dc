"""The client's page of one revision: the quote as issued, its options with the total that follows, and the answer."""

from collections.abc import Callable, Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.csrf import csrf_exempt

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from jobs.finish.services.finish_list import items_of
from jobs.needs.services.wall_pictures import first_pictures
from quoting.changes.models import ChangeNote, ChangeState
from quoting.client.models import ClientLink
from quoting.client.pages.gate import by_link
from quoting.client.services.agreements import due_on_signing
from quoting.client.services.site_days import quoted_days, sign_by, site_days
from quoting.core.money.requests import is_on_signing
from quoting.core.prices.options import Offer, OfferTotal, OptionError, PricedOption, total_with
from quoting.payment_requests.services.shown import shown_requests
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.entry_form import sentence
from quoting.platform.papers.errors import PaperNotKept
from quoting.platform.papers.models import Paper
from quoting.platform.papers.paper_documents import read_paper
from quoting.platform.papers.papers import download_name, paper_bytes
from quoting.platform.people.rate_limits import address_of
from quoting.platform.screen_days import span_words
from quoting.quotes.models import AnswerKind, ClientAnswer, QuoteRevision, RevisionState
from quoting.quotes.papers.sheets import QuotePaper
from quoting.quotes.services.acceptance import answer_revision
from quoting.quotes.services.answers import answer_of, can_be_taken_back, taking_back_of
from quoting.quotes.services.cancellation import read_rule, window_of
from quoting.quotes.services.certificate import window_sentences
from quoting.quotes.services.given_answers import Given
from quoting.quotes.services.offers import offer_of, read_offer
from quoting.quotes.services.quote_papers import paper_of_revision
from quoting.quotes.services.revisions import is_acceptable
from quoting.quotes.services.snapshots import frozen_paper, snapshot_of

Document = dict[str, Any]
Act = Callable[[datetime, date], None]
MAX_TICKED = 100
LABELS = {"text": "Your question", "what": "What is wrong", "wall": "Where"}
OVER = {
    RevisionState.SUPERSEDED: "A later revision has taken its place, and has a link of its own.",
    RevisionState.WITHDRAWN: "The firm has withdrawn it.",
    RevisionState.TAKEN_BACK: "You cancelled this. A later revision has its own link.",
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
    posted = request.POST
    kind = {"accept": AnswerKind.ACCEPTED, "decline": AnswerKind.DECLINED}.get(posted.get("answer", ""))

    def act(now: datetime, today: date) -> None:
        if kind is None:
            raise Refused("Press one of the two buttons: accept, or decline.")
        name, reason = posted.get("name", ""), posted.get("reason", "")
        given = Given(kind, name, ticked(posted), reason, address_of(request))
        answer_revision(link.revision, given, now=now, today=today)

    return acted(request, link, secret, act, "decline" if kind == AnswerKind.DECLINED else "accept")


def acted(request: HttpRequest, link: ClientLink, secret: str, act: Act, part: str) -> HttpResponse:
    """What was posted from one part of the page. What is refused is said there, with everything typed."""
    now = clock.now()
    try:
        act(now, day_at_the_firm(now))
    except (Refused, DocumentError) as refusal:
        said = " ".join(sentence(LABELS.get(entry.path, ""), entry) for entry in getattr(refusal, "complaints", ()))
        revision = QuoteRevision.objects.select_related("quote__job__client").get(pk=link.revision_id)
        refused = {part: said or str(refusal)}
        return quote_page(request, revision, secret, ticked(request.POST), 422, typed=request.POST, refused=refused)
    return redirect("client_quote", secret)


@by_link
def client_work(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    """What is built, wall by wall, and the terms."""
    return render(request, "client/work.html", {"secret": secret, "paper": frozen_paper(link.revision)})


@by_link
def client_paper(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    return handed_out(paper_of_revision(link.revision))


@by_link
def client_certificate(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    return handed_out(Paper.objects.filter(answer__revision=link.revision).first())


@by_link
def client_request(request: HttpRequest, link: ClientLink, secret: str, number: int) -> HttpResponse:
    rows = Paper.objects.select_related("job", "payment_request").filter(payment_request__revision=link.revision)
    return handed_out(rows.filter(payment_request__number=number).first())


def ticked(given: Any) -> list[str]:
    """Keys of the options ticked: boxes one by one, and one of each group of alternates."""
    groups = sorted(name for name in given if name.startswith("group-"))
    keys = [*given.getlist("option"), *(given.get(name) for name in groups)]
    return list(dict.fromkeys(key for key in keys[:MAX_TICKED] if key))


def quote_page(
    request: HttpRequest, revision: QuoteRevision, secret: str, keys: Sequence[str], status: int = 200, **more: Any
) -> HttpResponse:
    today, answer, snapshot = day_at_the_firm(clock.now()), answer_of(revision), snapshot_of(revision)
    acceptable = is_acceptable(revision, today)
    if answer is not None:
        keys = [option["key"] for option in answer.options]
    context = {
        "secret": secret,
        "revision": revision,
        "today": today,
        "paper": read_paper(QuotePaper, snapshot["paper"]),
        "picture": _picture(revision, snapshot),
        "has_file": paper_of_revision(revision) is not None,
        "acceptable": acceptable,
        "over": OVER.get(RevisionState(revision.state), OVER[RevisionState.LAPSED]),
        "window": window_of(read_rule(snapshot.get("cancellation")), today) if acceptable else None,
        "answer": answer,
        "back": taking_back_of(revision),
        "asked": revision.questions.filter(answered_at=None),
        "on_site_words": span_words(*quoted_days(snapshot)),
        "sign_by": sign_by(revision) if acceptable else None,
        **_choice(read_offer(snapshot["offer"]), keys, revision),
        **(_signed(revision, answer, snapshot, today) if answer else {}),
        **more,
    }
    template = "client/signed.html" if revision.state == RevisionState.ACCEPTED else "client/quote.html"
    return render(request, template, context, status=status)


def _signed(revision: QuoteRevision, answer: ClientAnswer, snapshot: Document, today: date) -> dict[str, Any]:
    """What is read once it is signed: where the work stands, and what waits for the client."""
    requests, changes = shown_requests(revision), changes_of(revision)
    if revision.state != RevisionState.ACCEPTED:
        return {"requests": requests, "changes": changes}
    items = list(items_of(revision.quote.job))
    site = site_days(revision, snapshot)
    return {
        "answer_window": window_sentences(answer),
        "can_take_back": can_be_taken_back(answer, revision.state, today),
        "has_certificate": Paper.objects.filter(answer=answer).exists(),
        "changes": changes,
        "unsigned": [note for note in changes if note.state == ChangeState.ISSUED],
        "contract": answer.total + sum(note.total for note in changes if note.state == ChangeState.SIGNED),
        "requests": requests,
        "to_pay": [request for request in requests if request.open > 0],
        "on_signing": due_on_signing([revision.pk]).get(revision.pk),
        "site": site,
        "on_site_words": span_words(*site.now),
        "quoted_words": span_words(*site.quoted),
        "on_site": site.station in ("on_site", "done", "paid"),
        "walls": list(revision.quote.job.walls.values_list("key", "name")),
        "to_mend": [item for item in items if not item.mended_on],
        "mended": [item for item in items if item.mended_on],
    }


def changes_of(revision: QuoteRevision) -> list[ChangeNote]:
    rows = ChangeNote.objects.filter(revision=revision).exclude(state=ChangeState.WITHDRAWN)
    return list(rows.defer("snapshot").order_by("number"))


def _picture(revision: QuoteRevision, snapshot: Document) -> dict[str, str]:
    """The first wall standing, for a desk and for a phone: as issued, or as last worked up of what was issued before
    pictures were frozen."""
    frozen: list[dict[str, str]] = snapshot.get("pictures", [])
    job = revision.quote.job_id
    return frozen[0] if frozen else first_pictures([job]).get(job, {})


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
        "due_on_signing": _on_signing(total),
        "groups": _groups(offer, total),
    }


def _on_signing(total: OfferTotal) -> Decimal:
    """The deposit, and the first instalment where it is due on signing."""
    deposit = total.deposit.amount if total.deposit else Decimal(0)
    return deposit + sum(due.to_pay for due in total.instalments[:1] if is_on_signing(due.event))


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
        raise Http404("This paper cannot be opened now; ask the firm for it.") from error
    response = HttpResponse(data, content_type="application/pdf")
    response["Content-Disposition"] = f'attachment; filename="{download_name(row)}"'
    return response
