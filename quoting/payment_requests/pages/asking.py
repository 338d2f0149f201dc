"""An event marked, a request issued and credited: each on a form of its own."""

from collections.abc import Iterator
from datetime import timedelta
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse

from catalog.pages.firm_first import firm_first
from jobs.deliveries.pages.acting import form_page, request_key
from jobs.finish.services.finish_list import open_items
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from quoting.core.money.request_parts import Parts
from quoting.core.money.requests import NOTES, RELEASE, Request
from quoting.payment_requests.models import EventMark, PaymentRequest
from quoting.payment_requests.pages.forms import CreditForm, EventForm, IssueForm, MarkUndoForm
from quoting.payment_requests.services.events import mark_event, take_mark_back
from quoting.payment_requests.services.issuing import credit_request, issue_request
from quoting.payment_requests.services.standing import PartAsked, requests_of
from quoting.payment_requests.services.terms import terms_of_requests
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.formatting import amount_words, money_words
from quoting.platform.pages.entry_form import EntryForm

LABEL = "Since signed"


def _part(job: Job, name: str) -> PartAsked:
    request = requests_of(job)
    part = next((entry for entry in (request.parts() if request else ()) if entry.part == name), None)
    if part is None:
        raise Http404("The job has no such part to ask for.")
    return part


@firm_first
def event_mark(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    part, signature = _part(job, request.GET.get("part", "")), signature_of(request.user, now)
    if not part.can_be_marked and request.method != "POST":
        raise Http404("This part waits for no event.")

    def act(entries: dict[str, Any]) -> str:
        row, _ = mark_event(job, {**entries, "part": part.part}, signature, now=now)
        return f"Marked: {row.event}. It can be asked for now."

    initial = {"request_key": request_key(request), "happened_on": signature.on.isoformat()}
    form = EventForm(request.POST or None, initial)
    return _page(request, form, act, job, heading=f"{part.what} has happened", button="Mark event")


@firm_first
def request_issue(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    part = _part(job, request.GET.get("part", ""))

    def act(entries: dict[str, Any]) -> str:
        row, _ = issue_request(job, {**entries, "part": part.part}, request.user, now=now)
        return f"Issued: request {row.number}, {amount_words(row.total)}. Its paper is being made; then send it."

    form = IssueForm(request.POST or None, _initial(request, part))
    says = _says(part.next, part.event_on is not None, requests_currency(job)) if part.next else (part.why,)
    says = (*says, *_still_open(job, part))
    heading = f"Ask for {part.what[:1].lower()}{part.what[1:]}"
    return _page(request, form, act, job, heading=heading, button="Issue request", says=says)


def _still_open(job: Job, part: PartAsked) -> Iterator[str]:
    """What is open on the finish list, before the last that can be asked for goes out."""
    parts = requests_of(job)
    first = {entry.part for entry in (parts.parts() if parts else ()) if entry.live is None} - {RELEASE, NOTES}
    items = [] if first - {part.part} else [item.what for item in open_items(job)]
    if items:
        yield f"Still open on the finish list: {'; '.join(items)}."


def _initial(request: HttpRequest, part: PartAsked) -> dict[str, Any]:
    terms, on = terms_of_requests(), signature_of(request.user, clock.now()).on
    due = on + timedelta(days=terms.days_to_pay) if terms else on
    shown = str(part.next.to_pay.total) if part.next else ""
    return {"request_key": request_key(request), "due": due.isoformat(), "shown": shown}


def requests_currency(job: Job) -> str:
    request = requests_of(job)
    return request.revision.currency if request else ""


def _says(request: Request, is_marked: bool, currency: str) -> tuple[str, ...]:
    """The figures in the order the paper has them."""
    rows = [("Asked for", request.asked), (_notes(request), request.noted), ("Deposit credited", -request.credited)]
    rows += [("Held back", -request.held)]
    lines = [f"{label}: {_sum(parts)}." for label, parts in rows if parts != Parts()]
    wait = () if is_marked else ("Its event has not been marked yet.",)
    return (*lines, f"To pay: {money_words(request.to_pay.total, currency)} with tax.", *wait)


def _notes(request: Request) -> str:
    return f"Change note{'s' if len(request.notes) > 1 else ''} {', '.join(str(note) for note in request.notes)}"


def _sum(parts: Parts) -> str:
    return f"{amount_words(parts.price)} and tax {amount_words(parts.tax)}"


@firm_first
def request_credit(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    row, now = request_or_404(job_id, number), clock.now()

    def act(entries: dict[str, Any]) -> str:
        credit, _ = credit_request(row, entries, request.user, now=now)
        return f"Request {row.number} is cancelled by credit {credit.number}. Send the credit to the client."

    form = CreditForm(request.POST or None, {"request_key": request_key(request)})
    says = ("What it asked for can be asked for again. This credit is final.",)
    return _page(request, form, act, row.job, heading=f"Credit request {row.number}", button="Credit it", says=says)


def event_mark_undo(request: HttpRequest, mark_id: int) -> HttpResponse:
    row, now = get_object_or_404(EventMark.objects.select_related("job"), pk=mark_id), clock.now()

    def act(entries: dict[str, Any]) -> str:
        take_mark_back(row, entries, signature_of(request.user, now), now=now)
        return f"Undone: {row.event} has not happened."

    form = MarkUndoForm(request.POST or None)
    return _page(request, form, act, row.job, heading=f"{row.event} has not happened", button="Undo")


def _page(request: HttpRequest, form: EntryForm, act: Any, job: Job, **about: Any) -> HttpResponse:
    return form_page(request, form, act, reverse("since_signed", args=[job.pk]), back_label=LABEL, **about)


def request_or_404(job_id: int, number: int) -> PaymentRequest:
    rows = PaymentRequest.objects.select_related("job__client", "revision__quote", "credits")
    return get_object_or_404(rows, job_id=job_id, number=number)
