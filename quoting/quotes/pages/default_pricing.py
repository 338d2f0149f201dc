"""The firm's usual pricing, from which a new job's starts."""

import re
from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render

from catalog.core.ground.document_reader import DocumentError
from jobs.jobs.models import Job
from jobs.jobs.services.versions import ChangedMeanwhile
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.pages.error_summary import NotSaved, summary_of
from quoting.platform.people import access
from quoting.platform.people.models import Role
from quoting.pricing.models import Pricing
from quoting.pricing.services import taxes
from quoting.pricing.services.pricing import pricing_document, pricing_of, save_pricing
from quoting.quotes.pages.cost_step import UsualCostPart
from quoting.quotes.pages.extras_step import ItemsPart
from quoting.quotes.pages.terms_step import UsualTermsPart

# What a firm that has entered nothing yet starts from, in sight on the page; margin, hour and tax are its own to say.
FOR_A_START: dict[str, Any] = {
    "valid_days": 30,
    "labour_from_hours": {},
    "instalments": [
        {"event": event, "share": "1/3"} for event in ("On acceptance", "When the boards are up", "At the end")
    ],
}
NUMBER = re.compile(r"[0-9]{1,3}(\.[0-9]{1,12})?")


class UsualPricing:
    """The three parts on one page."""

    def __init__(self, data: QueryDict | None, document: dict[str, Any], more: str = "") -> None:
        self.parts = [of(data, document, more=more) for of in (UsualCostPart, ItemsPart, UsualTermsPart)]

    def is_valid(self) -> bool:
        # Every part is asked, so that every fault is shown.
        answers = [part.is_valid() for part in self.parts]
        return all(answers)

    def document(self) -> dict[str, Any]:
        # The firm's usual pricing holds no sums of its own: materials are what the walls need.
        result: dict[str, Any] = {"materials": "takeoff"}
        for part in self.parts:
            result |= part.document()
        return result

    def complain(self, error: DocumentError) -> None:
        for complaint in error.complaints:
            head = complaint.path.partition(".")[0].partition("[")[0]
            owner = next((part for part in self.parts if part.asks(head)), self.parts[0])
            owner.complain(DocumentError([complaint]))

    def not_saved(self) -> NotSaved | None:
        return summary_of(entry for part in self.parts for entry in (part.conflict, *part.parts()))


def usual_pricing(request: HttpRequest) -> HttpResponse:
    today, stored = day_at_the_firm(clock.now()), pricing_of(None)
    if request.method != "POST":
        return _usual_page(request, UsualPricing(None, pricing_document(stored, today) if stored else FOR_A_START))
    form = UsualPricing(request.POST, {}, request.POST.get("more", ""))
    if "more" in request.POST or not form.is_valid():
        return _usual_page(request, form, status=422 if form.not_saved() else 200)
    seen = request.POST.get("version", "")
    version = int(seen) if seen.isascii() and seen.isdigit() and len(seen) < 10 else None
    try:
        document = form.document()
        refuse_lower_least(request, document, stored)
        signature = signature_of(request.user, clock.now())
        save_pricing(None, document, seen_version=version, on_day=today, signature=signature)
    except DocumentError as error:
        form.complain(error)
        return _usual_page(request, form, status=422)
    except ChangedMeanwhile as changed:
        form.parts[0].conflict = str(changed)
        return _usual_page(request, form, status=409)
    messages.success(request, "Saved. A job priced from now on starts from this; jobs priced already stay as they are.")
    job = _job_priced_next(request)
    return redirect("quote", job) if job else redirect("usual_pricing")


def _job_priced_next(request: HttpRequest) -> int | None:
    """The job from whose quote the page was opened: one goes back there."""
    wanted = (request.POST or request.GET).get("job", "")
    known = wanted.isascii() and wanted.isdigit() and len(wanted) < 10 and Job.objects.filter(pk=wanted).exists()
    return int(wanted) if known else None


def refuse_lower_least(request: HttpRequest, document: dict[str, Any], stored: Pricing | None) -> None:
    if stored is None or access.role_of(request.user) == Role.OWNER:
        return
    typed = str(document["policy"].get("minimum_margin") or "0")
    # What is not a number is refused where the document is read.
    if stored.minimum_margin and NUMBER.fullmatch(typed) and Decimal(typed) < stored.minimum_margin:
        reason = "is lower than the firm's; an owner alone may lower it"
        raise DocumentError.at("policy.minimum_margin", reason)


def _usual_page(request: HttpRequest, form: UsualPricing, status: int = 200) -> HttpResponse:
    row = Pricing.objects.filter(job=None).first()
    today = day_at_the_firm(clock.now())
    context = {
        "parts": form.parts,
        "not_saved": form.not_saved(),
        "version": row.version if row else "",
        "begins": row is None,
        "job_id": _job_priced_next(request),
        "rates": taxes.labour_rates_in_force(today),
    }
    return render(request, "quotes/usual.html", context, status=status)
