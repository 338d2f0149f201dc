"""The paper of a month: one page, from the same document as its page on the screen."""

from collections.abc import Iterable, Iterator
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from catalog.core.ground.day_words import day_words, month_words
from catalog.services.book import firm_of
from catalog.services.firm_on_paper import firm_party, sheet_size
from jobs.drawings.charts.margin_section import WIDE_MM, margin_section
from quoting.core.money.month_figures import JobOfMonth, percent
from quoting.core.money.month_job import bridge_of_month, read_job
from quoting.job_money.services.bridge_levels import levels_of
from quoting.month.models import ClosedMonth
from quoting.month.papers.month_sheet import MonthLine, MonthPaper
from quoting.month.services.month_documents import month_document
from quoting.month.services.snapshots import snapshot_of
from quoting.platform.errands.models import Errand
from quoting.platform.formatting import amount_words
from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.papers import RENDER_MONTH, last_asked, queue_paper
from quoting.platform.papers.parts import Measure

Document = dict[str, Any]
MAX_JOBS, MAX_STEPS, MAX_LEARNT = 5, 8, 2


def ask_for_month(month: date, today: date, now: datetime) -> Errand:
    """Asked for twice with the same figures it is one paper."""
    name = f"{month:%Y-%m}"
    return queue_paper(RENDER_MONTH, f"month {name}", month_paper(month, today), now, month=name)


def last_paper(month: date) -> Errand | None:
    return last_asked(RENDER_MONTH, month=f"{month:%Y-%m}")


def month_paper(month: date, today: date) -> MonthPaper:
    row, firm = ClosedMonth.objects.filter(month=month).first(), firm_of()
    document = snapshot_of(row) if row else month_document(month, today)
    jobs = [(read_job(entry), entry) for entry in document["jobs"]]
    rest = len(jobs) - MAX_JOBS
    return MonthPaper(
        month=month_words(month),
        state=f"Closed by {row.closed_by_name}" if row else f"Open, as of {day_words(today)}",
        firm=firm_party(firm),
        currency=document["currency"],
        sentences=tuple(filter(None, (document["made"], document["lost"]))),
        lines=tuple(_line(*job) for job in jobs[:MAX_JOBS]),
        more=f"And {rest} job{'' if rest == 1 else 's'} more." if rest > 0 else "",
        drawing=_drawing([job for job, _ in jobs]),
        hours=tuple(_hours(document)),
        learnt=tuple(_learnt(document))[:MAX_LEARNT],
        figures=tuple(_figures(document)),
        sheet_size=sheet_size(firm),
    )


def _line(job: JobOfMonth, about: Document) -> MonthLine:
    state = f"done {day_words(job.done_on)}" if job.done_on else about["state"].lower()
    so_far = "" if job.done_on else " so far"
    why = ", ".join(cause.words for cause in job.largest_causes)
    figures = (amount_words(job.contract), percent(job.quoted_margin), f"{percent(job.margin)}{so_far}")
    return MonthLine(job.title, f"{job.client}, {state}", *figures, why)


def _drawing(jobs: Iterable[JobOfMonth]) -> Drawing | None:
    """Of the job that lost most, those that are done first."""
    drawn = [job for job in jobs if job.margin is not None and job.quoted_margin is not None]
    worst = max(drawn, key=lambda job: (job.done_on is not None, job.cost - job.agreed), default=None)
    if worst is None or not worst.causes:
        return None
    bridge = bridge_of_month(worst)
    picture = margin_section(*levels_of(bridge, is_closed=worst.done_on is not None), WIDE_MM)
    way = "went" if bridge.lost >= 0 else "came from"
    return Drawing(picture.svg, f"Where {abs(bridge.lost)} points {way}: {worst.title}")


def _hours(document: Document) -> Iterator[Measure]:
    for entry in document["hours"][:MAX_STEPS]:
        yield Measure(entry["step"], f"{Decimal(entry['minutes']) / 60:.1f} h")


def _learnt(document: Document) -> Iterator[str]:
    yield from (f"{entry['title']}: {entry['said']}" for entry in document["jobs"] if entry["said"])
    yield from (f"{entry['name']} is now {entry['value']}: {entry['source']}" for entry in document["standards"])


def _figures(document: Document) -> Iterator[Measure]:
    for label, name, part in (
        ("To collect", "to_collect", "open"),
        ("Quotes out", "quotes_out", "value"),
        ("Not signed", "unsigned", "price"),
        ("Earned, not billed", "unbilled", "unbilled"),
    ):
        if document[name]:
            yield Measure(label, amount_words(sum(Decimal(entry[part]) for entry in document[name])))
    overhead, cash = document["overhead"], document["cash"]
    if overhead["short"] is not None:
        carried, spent = amount_words(Decimal(overhead["recovered"])), amount_words(Decimal(overhead["actual"]))
        yield Measure("Overhead carried", f"{carried} of {spent}")
    yield Measure(
        "Cash in 30 days", f"{amount_words(Decimal(cash['coming']))} in, {amount_words(Decimal(cash['going']))} out"
    )
    yield Measure("Missing when it was made", str(len(document["missing"])))
