"""Quotations that wait for an answer, what became of the others, and when somebody asks again."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from catalog.services.book import NoFirmYet, firm_of
from jobs.core.ordering.order_by import days_in_hand
from jobs.deliveries.pages.acting import form_page
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from quoting.life.services.follow_ups import follow_up_of, set_follow_up
from quoting.life.services.listing import MAX_SEARCH, searched
from quoting.life.services.quotes_out import QuoteOut, decided_quotes, quotes_out
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.pages.entry_form import EntryForm, day, text
from quoting.platform.pages.stored_values import Stored, hold
from quoting.platform.people import access

A_PAGE = 12


@dataclass(frozen=True)
class ShownQuote:
    out: QuoteOut
    in_hand: int

    @property
    def is_late(self) -> bool:
        return self.in_hand < 0

    @property
    def days(self) -> int:
        return abs(self.in_hand)


class FollowUpForm(EntryForm):
    day = day("Ask again on", "Blank: nobody asks.")
    person = text("Who", "Blank: you.", longest=200)


def quotes_out_list(request: HttpRequest) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    wanted = {name: request.GET.get(name, "").replace("\x00", "")[:MAX_SEARCH].strip() for name in ("q", "client")}
    rows = searched(Job.objects.all(), wanted["q"])
    if wanted["client"].isdecimal():
        rows = rows.filter(client=int(wanted["client"][:15]))
    quotes, decided = quotes_out(today, rows), decided_quotes(today)
    page = Paginator(quotes, A_PAGE).get_page(request.GET.get("page"))
    context = {
        "page": page,
        "rows": [ShownQuote(entry, days_in_hand(today, entry.act_by, entry.read.calendar)) for entry in page],
        "value": sum((quote_out.value for quote_out in quotes), Decimal(0)),
        "expired": sum(1 for quote_out in quotes if quote_out.is_expired),
        "decided": decided,
        "rate": _whole_percent(decided.rate),
        "rate_by_value": _whole_percent(decided.rate_by_value),
        "currency": _currency(),
        "narrowed": any(wanted.values()),
    }
    return render(request, "life/quotes_out.html", context)


def _whole_percent(share: Fraction | None) -> str:
    return "" if share is None else f"{round(share * 100)} %"


def _currency() -> str:
    try:
        return firm_of().currency
    except NoFirmYet:
        return ""


def follow_up(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    hold(Job.objects.filter(pk=job.pk))
    row = follow_up_of(job)
    words = {"day": row.day.isoformat() if row else "", "person": row.person if row else ""}
    form = FollowUpForm(request.POST or None, stored=Stored(words, row, request.path))

    def act(entries: dict[str, Any]) -> str:
        stored = set_follow_up(job, entries, signature_of(request.user, now), now=now)
        return f"Saved: {stored.person} asks {job.client}." if stored else f"Saved: nobody asks {job.client}."

    name = "quotes_out" if access.is_allowed(access.role_of(request.user), "quotes_out", "GET") else "job_list"
    heading = f"Ask {job.client} for an answer"
    return form_page(request, form, act, reverse(name), heading=heading, button="Save", back_label=job.title)
