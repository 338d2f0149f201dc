"""Did we make money, and why not? The owner's month, its close, and why each job made what it made."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import NoReverseMatch, reverse
from django.utils.safestring import mark_safe

from catalog.core.ground.day_words import month_words
from catalog.core.ground.plain_text import plain
from catalog.pages.firm_first import firm_first
from jobs.deliveries.pages.acting import form_page
from jobs.jobs.models import Job
from quoting.core.money.month import month_of, next_month, why_not_closed
from quoting.core.money.month_figures import JobOfMonth
from quoting.core.money.month_job import bridge_of_month, read_job
from quoting.job_money.pages.drawn import drawn
from quoting.month.models import CauseSentence, ClosedMonth
from quoting.month.models.closed_months import MAX_SENTENCE
from quoting.month.pages.asked_month import month_key, month_or_404
from quoting.month.services.closing import close_month, last_closed
from quoting.month.services.known_now import JobKnownNow, known_now
from quoting.month.services.month_documents import month_document
from quoting.month.services.month_papers import ask_for_month, last_paper
from quoting.month.services.sentences import say_why
from quoting.month.services.snapshots import Document, first_month, snapshot_of
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.pages.entry_form import EntryForm, text
from quoting.platform.pages.step import step
from quoting.platform.pages.stored_values import Stored, hold
from quoting.platform.papers.papers import paper_of
from quoting.record.services.suggesting import suggestions

POINTS_IN_RED = 2
"""A margin so many points under the quoted one is red."""


class SentenceForm(EntryForm):
    text = text("Why", longest=MAX_SENTENCE, rows=3)


@dataclass(frozen=True)
class JobRow:
    """A row of the table. known: what came since the close, if anything did."""

    about: Document
    figures: JobOfMonth
    known: JobKnownNow | None
    form: SentenceForm | None

    @property
    def is_red(self) -> bool:
        made, quoted = self.figures.margin, self.figures.quoted_margin
        return made is not None and quoted is not None and quoted - made > POINTS_IN_RED / 100


@firm_first
def month(request: HttpRequest, month: str = "") -> HttpResponse:
    today, closed = day_at_the_firm(clock.now()), last_closed()
    chosen = month_or_404(month) if month else _to_look_at(today, closed)
    if chosen > today:
        raise Http404(f"{month_words(chosen)} has not come yet.")
    row = ClosedMonth.objects.filter(month=chosen).first()
    document = snapshot_of(row) if row else month_document(chosen, today)
    news = {now.closed.key: now for now in known_now(row, today, document)} if row else {}
    rows = [_row(request, chosen, entry, news, is_open=row is None) for entry in document["jobs"]]
    errand = last_paper(chosen)
    picked = _picked(rows, request.GET.get("job", ""))
    context = {
        "month": chosen,
        "key": month_key(chosen),
        "months": [(day, month_key(day)) for day in _months(chosen, today)],
        "today": today,
        "closed": row,
        "document": document,
        "rows": rows,
        "picked": picked,
        **_bridge(picked),
        "errand": errand,
        "errand_paper": paper_of(errand) if errand else None,
        "news": list(news.values()),
        "news_sum": sum((fresh.change for of in news.values() for fresh in of.rows), Decimal("0.00")),
        "missing": [(entry, _address(entry)) for entry in document["missing"]],
        "suggested": 0 if row else sum(suggestion.is_offered for suggestion in suggestions()),
        "why_not": why_not_closed(chosen, closed, first_month(), today),
        **_sums(document, rows),
    }
    return render(request, "month/month.html", context)


def month_close(request: HttpRequest, month: str) -> HttpResponse:
    chosen, now = month_or_404(month), clock.now()

    def act() -> str:
        close_month(chosen, signature_of(request.user, now), now=now)
        return f"{month_words(chosen)} is closed. What comes later counts in {month_words(next_month(chosen))}."

    return step(request, act, reverse("month_of", args=[month_key(chosen)]))


def month_paper(request: HttpRequest, month: str) -> HttpResponse:
    chosen, now = month_or_404(month), clock.now()

    def act() -> str:
        ask_for_month(chosen, day_at_the_firm(now), now)
        return "The paper of the month is being made."

    return step(request, act, reverse("month_of", args=[month_key(chosen)]))


def month_sentence(request: HttpRequest, month: str, job_id: int) -> HttpResponse:
    chosen, now = month_or_404(month), clock.now()
    hold(CauseSentence.objects.filter(month=chosen, job=job_id))
    job = get_object_or_404(Job, pk=job_id)
    words = CauseSentence.objects.filter(month=chosen, job=job).first()
    form = SentenceForm(request.POST or None, stored=Stored({"text": words.text if words else ""}, words))
    to = f"{reverse('month_of', args=[month_key(chosen)])}?job={job.key}"

    def act(entries: dict[str, Any]) -> str:
        say_why(job, chosen, entries, signature_of(request.user, now), now=now)
        return f"Saved why {job.title} made what it made."

    return form_page(request, form, act, to, heading=f"Why, {job.title}", back_label=month_words(chosen))


def _to_look_at(today: date, closed: date | None) -> date:
    """The first month that can be closed, else the running one."""
    first = next_month(closed) if closed else (first_month() or month_of(today))
    return min(first, month_of(today))


def _months(chosen: date, today: date) -> list[date]:
    """The one before, the chosen one, and the one after if it has begun."""
    before = month_of(date.fromordinal(chosen.toordinal() - 1))
    return [day for day in (before, chosen, next_month(chosen)) if day <= today]


def _row(request: HttpRequest, month: date, entry: Document, news: dict[str, JobKnownNow], *, is_open: bool) -> JobRow:
    figures = read_job(entry)
    form = SentenceForm(stored=Stored({"text": entry["said"]}), auto_id=f"why-{entry['id']}-%s") if is_open else None
    return JobRow(entry, figures, news.get(figures.key), form)


def _picked(rows: list[JobRow], key: str) -> JobRow | None:
    """The one asked for, else the finished one that lost most, else the one that does."""
    wanted = next((row for row in rows if row.figures.key == key), None)
    finished = [row for row in rows if row.figures.done_on is not None]
    return wanted or max(finished or rows, key=lambda row: row.figures.cost - row.figures.agreed, default=None)


def _bridge(picked: JobRow | None) -> dict[str, Any]:
    """Where the points of the chosen job went, drawn; nothing where there is no margin."""
    if picked is None or picked.figures.margin is None or picked.figures.quoted_margin is None:
        return {"bridge": None}
    bridge = bridge_of_month(picked.figures)
    picture = drawn(bridge, is_closed=picked.figures.done_on is not None)
    svg = {name: mark_safe(getattr(picture, name).svg) for name in ("wide", "narrow")}
    return {"bridge": bridge, **svg}


def _address(entry: Document) -> str:
    try:
        address = (
            reverse(entry["page"], args=[] if entry["about"] is None else [entry["about"]]) if entry["page"] else ""
        )
        return f"{address}?day={entry['day']}" if entry.get("day") else address
    except NoReverseMatch:
        return ""


def _sums(document: Document, rows: list[JobRow]) -> dict[str, Any]:
    finished = [row for row in rows if row.figures.done_on is not None]
    short = document["overhead"]["short"]
    return {
        "finished": len(finished),
        "finished_price": sum((row.figures.contract for row in finished), Decimal(0)),
        "open_sum": _sum(document["to_collect"], "open"),
        "out_sum": _sum(document["quotes_out"], "value"),
        "short_words": abs(Decimal(short)) if short else None,
        "short_is_over": bool(short) and Decimal(short) < 0,
        "hours": plain((Decimal(document["overhead"]["minutes"]) / 60).quantize(Decimal("0.1"))),
        "in_time": " of ".join(str(sum(entry[name] for entry in document["suppliers"])) for name in ("in_time", "of")),
        "later_sum": _sum(document.get("later", []), "change"),
        "unbilled_sum": _sum(document["unbilled"], "unbilled"),
        "unsigned_sum": _sum(document["unsigned"], "price"),
    }


def _sum(rows: list[Document], name: str) -> Decimal:
    return sum((Decimal(row[name]) for row in rows), Decimal("0.00"))
