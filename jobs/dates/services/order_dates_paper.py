"""Fills the order-dates paper from a work-up."""

from collections.abc import Collection
from datetime import datetime

from catalog.services.firm_on_paper import firm_party, sheet_size
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.ordering.needs import SAFE_FROM, DatedNeed
from jobs.core.ordering.order_by import days_in_hand_in_words, standing
from jobs.dates.papers.order_dates import OrderDatesPaper
from jobs.dates.services.passed_days import passed_words
from jobs.drawings.charts.dates_chart import ChartRow, dates_chart_svg
from jobs.jobs.models import Job
from jobs.orders.services.to_decide import decided_items, is_to_decide
from jobs.schedule.services.activities_drawn import activities_drawn
from quoting.platform.errands.models import Errand
from quoting.platform.formatting import day_words, with_day_words
from quoting.platform.papers.drawings import LYING_HEIGHT_MM, LYING_WIDTH_MM, Drawing
from quoting.platform.papers.papers import RENDER_ORDER_DATES, queue_filled
from quoting.platform.papers.parts import OrderDateRow

NOTES = (
    "Need-by is the day the item must be on site. Order-by is the last day from which it is in time: production, "
    "transit and the cushion days, with every day off between. Ships and at the dock are the days of that order.",
    "Days in hand are the firm's working days from the date of this paper to the order-by day.",
    "Items made to a radius or a template are safe to order only once that is confirmed on the framed wall.",
)
STANDING_WORDS = {"ahead": "in hand", "due_today": "due today", "late": "late"}


def order_dates_paper(work_up: JobWorkUp, *, prepared_by: str, decided: Collection[str] = ()) -> OrderDatesPaper:
    """decided: materials signed off, or ordered once."""
    dated = [need for need in work_up.needs if need.dates is not None]
    return OrderDatesPaper(
        job_title=work_up.read.job.title,
        as_of=day_words(work_up.today),
        prepared_by=prepared_by,
        firm=firm_party(work_up.read.book.firm),
        rows=tuple(_row(work_up, need, _is_to_decide(need, decided)) for need in dated),
        time_line=_time_line(work_up, dated, decided),
        gaps=tuple(with_day_words(f.sentence) for need in work_up.needs for f in need.findings if f.weight == "gap"),
        notes=NOTES,
        sheet_size=sheet_size(work_up.read.book.firm),
        activities=_activities(work_up),
    )


def _activities(work_up: JobWorkUp) -> Drawing | None:
    picture = activities_drawn(work_up, LYING_WIDTH_MM, LYING_HEIGHT_MM)
    return Drawing(picture.svg, "What is done when, and what may slip", lying=True) if picture else None


def _is_to_decide(need: DatedNeed, decided: Collection[str]) -> bool:
    return is_to_decide(need, is_decided=need.material in decided)


def _row(work_up: JobWorkUp, need: DatedNeed, to_decide: bool) -> OrderDateRow:
    assert need.dates is not None and need.in_hand is not None
    supplier = work_up.read.book.suppliers[need.supplier] if need.supplier else None
    note = passed_words(need)
    if not note and need.is_long_lead:
        note = f"Safe to order {SAFE_FROM[need.driven_by]}."
    note = " ".join([note, *(with_day_words(f.sentence) for f in need.findings if f.weight != "gap")]).strip()
    return OrderDateRow(
        item=need.name,
        supplier=supplier.name if supplier else "no supplier",
        days_in_hand=need.in_hand,
        days_in_hand_text=days_in_hand_in_words(need.in_hand),
        standing=STANDING_WORDS[standing(need.in_hand)],
        decide_by=day_words(need.dates.decide_by) if to_decide else "",
        order_by=day_words(need.dates.order_by),
        ship=day_words(need.dates.ship),
        dock=day_words(need.dates.dock),
        need_by=day_words(need.dates.need_by),
        needs_decision=need.in_hand <= 0 or (to_decide and (need.decide_in_hand or 0) <= 0),
        note=note,
    )


def _time_line(work_up: JobWorkUp, needs: list[DatedNeed], decided: Collection[str]) -> Drawing | None:
    rows = [_chart_row(need, _is_to_decide(need, decided)) for need in needs]
    if not rows:
        return None
    closed = tuple((closure.first_day, closure.last_day) for closure in work_up.read.book.firm.closures)
    picture = dates_chart_svg(rows, today=work_up.today, title="Order dates", closed=closed, width_mm=LYING_WIDTH_MM)
    return Drawing(picture.svg, "When each item is decided, ordered, shipped and needed", lying=True)


def _chart_row(need: DatedNeed, to_decide: bool) -> ChartRow:
    assert need.dates is not None and need.in_hand is not None
    dates = need.dates
    return ChartRow(
        label=need.name,
        decide_by=dates.decide_by if to_decide else dates.order_by,
        order_by=dates.order_by,
        ship=dates.ship,
        dock=dates.dock,
        need_by=dates.need_by,
        in_hand=days_in_hand_in_words(need.in_hand),
        late=need.in_hand < 0,
    )


def request_order_dates(job: Job, work_up: JobWorkUp, *, prepared_by: str, now: datetime) -> Errand:
    """Ask for the order dates as they were worked up. The same dates asked for twice are one paper.

    The filled paper travels with the errand, so that it says what was shown whenever it is rendered.
    """
    decided = {material for _, material in decided_items([job.pk])}
    paper = order_dates_paper(work_up, prepared_by=prepared_by, decided=decided)
    return queue_filled(RENDER_ORDER_DATES, job, paper, now)
