"""All of a month as one document: the page, its paper, the API and the close show and keep the same."""

from collections import Counter, defaultdict
from collections.abc import Iterable
from contextlib import nullcontext
from datetime import date
from decimal import Decimal
from typing import Any

from catalog.core.ground.plain_text import plain
from catalog.models import Standard
from catalog.services.book import firm_of
from jobs.deliveries.models import ReceiptLine
from quoting.core.life.stations import LABELS
from quoting.core.money.month import last_day
from quoting.core.money.month_figures import OverheadOfMonth, loss_sentence, made_sentence
from quoting.core.money.month_job import write_job
from quoting.life.services.quotes_out import QuoteOut, quotes_out
from quoting.month.models import CauseSentence
from quoting.month.services.collecting import CashAhead, ToCollect, cash_ahead, to_collect
from quoting.month.services.hand_over import OF_THE_OFFICE, OF_THE_OWNER
from quoting.month.services.known_now import later_of
from quoting.month.services.missing import Missing, missing_of
from quoting.month.services.month_jobs import MonthJob, jobs_of
from quoting.month.services.overhead import overhead_of
from quoting.month.services.posted_rows import entries_of
from quoting.month.services.sheets import filled
from quoting.platform.read_once import is_of_a_page, one_page

Document = dict[str, Any]


def month_document(month: date, today: date) -> Document:
    """As it is known today, by what happened until the month's end."""
    # What several parts of it read alike, such as the firm, is read once.
    with nullcontext() if is_of_a_page() else one_page():
        return _document(month, today)


def _document(month: date, today: date) -> Document:
    until = min(last_day(month), today)
    jobs, open_requests = jobs_of(month, today), to_collect(until)
    finished = [job.figures for job in jobs if job.figures.done_on is not None]
    text = dict(CauseSentence.objects.filter(month=month).values_list("job", "text"))
    return {
        "currency": firm_of().currency,
        "until": until.isoformat(),
        "made": made_sentence(month, finished),
        "lost": loss_sentence(finished),
        "jobs": [_job(job, text.get(job.job.pk, ""), until) for job in jobs],
        "to_collect": [_collect(request) for request in open_requests],
        "quotes_out": [_quote(quote_out) for quote_out in quotes_out(today) if quote_out.sent_on <= until],
        "missing": [_missing(job) for job in missing_of(month, today, {job.job.pk: job.costs for job in jobs})],
        "unsigned": [row for job in jobs for row in _unsigned(job)],
        "unbilled": [_of_job(job, unbilled=job.unbilled) for job in jobs if job.unbilled > 0],
        "late_orders": [row for job in jobs for row in _late(job, until)],
        "suppliers": _suppliers(month, until),
        "standards": _standards(month, until),
        "overhead": _overhead(overhead_of(month)),
        "cash": _cash(cash_ahead(open_requests, until)),
        "hours": _hours(month),
        "counted": counted(month),
        "later": later_of(month, today),
    }


def counted(month: date) -> Document:
    """What counts in the month, by the files the bookkeeper gets: count of rows, and sums."""
    result = {}
    for sheet in (OF_THE_OFFICE | OF_THE_OWNER).values():
        both = filled(sheet, month, None)
        result[sheet.name] = {"rows": len(both.rows), **{name: str(entry) for name, entry in both.sums.items()}}
    return result


def _job(job: MonthJob, text: str, until: date) -> Document:
    step = job.read.life.next
    about = {"id": job.job.pk, "state": _state(job, until), "next": step.text if step else "", "said": text}
    day = step.by.isoformat() if step and step.by else None
    return {**write_job(job.figures), **about, "next_by": day}


def _state(job: MonthJob, until: date) -> str:
    """As it is today; of a job that ended since the month, whether work had begun by its end."""
    facts = job.read.facts
    over = [day for day in (facts.last_end, facts.closed_on) if day is not None]
    if not over or min(over) <= until:
        return job.read.life.words
    return LABELS["on_site" if facts.begun_on is not None and facts.begun_on <= until else "signed"]


def _of_job(job: MonthJob, **more: Any) -> Document:
    named = {"job": job.job.key, "id": job.job.pk, "title": job.job.title, "client": job.job.client.name}
    return {**named, **{name: str(value) if isinstance(value, Decimal) else value for name, value in more.items()}}


def _collect(collect: ToCollect) -> Document:
    request, job = collect.standing.request, collect.job
    about = {"job": job.key, "id": job.pk, "client": job.client.name, "request": request.number, "what": request.what}
    return {**about, "open": str(collect.standing.open), "due": request.due.isoformat()}


def _quote(quote_out: QuoteOut) -> Document:
    named = {
        "job": quote_out.job.key,
        "id": quote_out.job.pk,
        "title": quote_out.job.title,
        "client": quote_out.job.client.name,
    }
    days = {"sent_on": quote_out.sent_on.isoformat(), "valid_until": quote_out.revision.valid_until.isoformat()}
    return {**named, **days, "value": str(quote_out.value), "opened": quote_out.opened_words}


def _missing(missing: Missing) -> Document:
    amount = None if missing.amount is None else str(missing.amount)
    day = missing.day and missing.day.isoformat()
    return {"what": missing.sentence, "amount": amount, "page": missing.page, "about": missing.about, "day": day}


def _unsigned(job: MonthJob) -> Iterable[Document]:
    for note in job.costs.facts.notes:
        if not note.is_signed:
            yield _of_job(job, note=note.number, what=note.title, price=note.price)


def _late(job: MonthJob, until: date) -> Iterable[Document]:
    for coming in job.read.facts.coming:
        if coming.expected_on is not None and coming.expected_on < until:
            yield _of_job(job, order=coming.order, what=coming.what, expected_on=coming.expected_on.isoformat())


def _suppliers(month: date, until: date) -> list[Document]:
    """Of the month's deliveries: how many lines came by the day promised, of those a day was promised for."""
    rows = ReceiptLine.objects.filter(delivery__received_on__range=(month, until), promised_on__isnull=False)
    suppliers: defaultdict[str, list[bool]] = defaultdict(list)
    for name, came, promised in rows.values_list(
        "delivery__order__supplier__name", "delivery__received_on", "promised_on"
    ):
        suppliers[name].append(came <= promised)
    return [{"supplier": name, "in_time": sum(came), "of": len(came)} for name, came in sorted(suppliers.items())]


def _standards(month: date, until: date) -> list[Document]:
    rows = Standard.objects.filter(stated_on__range=(month, until)).order_by("name")
    return [{"name": row.label, "value": plain(row.value), "source": row.source} for row in rows]


def _hours(month: date) -> list[Document]:
    """Of the month's work on jobs, by step, the most first."""
    sums: Counter[str] = Counter()
    for row in entries_of(month):
        if row.job_id is not None:
            sums[row.step] += row.minutes
    hours = [{"step": _step_words(step), "minutes": minutes} for step, minutes in sums.items()]
    return sorted(hours, key=lambda entry: (-entry["minutes"], entry["step"]))


def _step_words(step: str) -> str:
    return step.replace("-", " ").replace("_", " ").capitalize() or "On no step"


def _overhead(month: OverheadOfMonth) -> Document:
    return {
        "minutes": month.minutes,
        "per_hour": _text(month.per_hour),
        "share": _text(month.share),
        "recovered": _text(month.recovered),
        "actual": _text(month.actual),
        "short": _text(month.short),
    }


def _cash(ahead: CashAhead) -> Document:
    return {"until": ahead.until.isoformat(), "coming": str(ahead.coming), "going": str(ahead.going)}


def _text(value: Decimal | None) -> str | None:
    return None if value is None else str(value)
