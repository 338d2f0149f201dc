"""Items of jobs with their dates, as the pages list them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from catalog.models.materials import SUPPLY_LABELS
from jobs.core.needs import SAFE_FROM, DatedNeed
from jobs.core.order_by import OrderDates, days_in_hand_in_words, standing
from jobs.drawings.dates_chart import MOST_ROWS, ChartRow, dates_chart_svg
from jobs.models import Job
from quoting.core.result_documents import plain
from quoting.core.work_up import WorkUp
from quoting.services.open_work import OpenWork
from quoting.services.wording import day_words
from quoting.views.catalog.words import lead_source_words, lead_words
from quoting.views.held import held_sentences
from quoting.views.quantities import UNIT_WORDS

NO_WINDOWS: Mapping[int, date] = {}
ROOM_MM, HEAD_AND_FOOT_MM, ROW_MM = 24, 24, 8
DRIVEN_BY = {
    "length": "Ordered by length",
    "profile": "Ordered by profile",
    "radius": "Ordered by radius",
    "template": "Ordered by template",
}


@dataclass(frozen=True)
class ItemLine:
    """One item of one job. supplier and lead are empty for those who see no suppliers."""

    job: Job
    need: DatedNeed
    dates: OrderDates | None
    hand: str
    standing: str
    quantity: str
    supply: str
    supplier: str
    lead: str
    lead_source: str
    safe: str
    today: str
    decide_is_past: bool
    blocked: tuple[str, ...]

    @property
    def is_long_lead(self) -> bool:
        return self.need.is_long_lead

    @property
    def week(self) -> date | None:
        """The Monday of the week in which it must be ordered."""
        day = self.dates.order_by if self.dates else None
        return day - timedelta(days=day.weekday()) if day else None


def item_lines(work: OpenWork, *, with_suppliers: bool, windows: Mapping[int, date] = NO_WINDOWS) -> list[ItemLine]:
    """windows: jobs whose acceptance can still be taken back, and until when."""
    if work.done is None:
        return []
    until = windows.get(work.job.pk)
    window = () if until is None else (f"cancellation window until {day_words(until)}.",)
    return [_line(work.job, work.done, need, with_suppliers, window) for need in work.done.needs]


def by_days_in_hand(lines: Iterable[ItemLine]) -> list[ItemLine]:
    """The least days first, items without dates last."""
    return sorted(
        lines,
        key=lambda line: (line.need.in_hand is None, line.need.in_hand or 0, line.need.name, line.job.key),
    )


def _line(job: Job, done: WorkUp, need: DatedNeed, with_suppliers: bool, window: tuple[str, ...]) -> ItemLine:
    seller = done.read.book.suppliers.get(need.supplier or "")
    term = need.term if with_suppliers else None
    unit = UNIT_WORDS.get(need.unit, need.unit)
    return ItemLine(
        job,
        need,
        need.dates,
        "" if need.in_hand is None else days_in_hand_in_words(need.in_hand),
        "" if need.in_hand is None else standing(need.in_hand),
        "" if need.quantity is None else f"{plain(need.quantity)} {unit}",
        SUPPLY_LABELS[need.supply],
        seller.name if seller and with_suppliers else "",
        lead_words(term) if term else "",
        lead_source_words(term) if term else "",
        f"{DRIVEN_BY[need.driven_by]}; safe to order {SAFE_FROM[need.driven_by]}." if need.is_long_lead else "",
        _if_ordered_today(need),
        need.decide_in_hand is not None and need.decide_in_hand < 0,
        (*held_sentences(need.open_holds), *(window if need.is_long_lead else ())),
    )


def _if_ordered_today(need: DatedNeed) -> str:
    if need.if_ordered_today is None:
        return ""
    usable = f"usable {day_words(need.if_ordered_today.usable)}"
    late = need.late_workdays
    if late is None:
        return usable
    if late == 0:
        return f"{usable}, in time"
    return f"{usable}, {late} working day{'' if late == 1 else 's'} late"


def gaps_of(work: Iterable[OpenWork]) -> list[tuple[Job, str]]:
    """What is missing, said once for each job."""
    found = []
    for one in work:
        if one.done is None:
            found.append((one.job, f"The walls cannot be worked out. {one.trouble}"))
            continue
        sentences = [finding.sentence for finding in one.done.plan.findings if finding.weight == "gap"]
        sentences += [finding.sentence for need in one.done.needs for finding in need.findings]
        found += [(one.job, sentence) for sentence in dict.fromkeys(sentences)]
    return found


def time_line(lines: Sequence[ItemLine], today: date, *, with_jobs: bool) -> tuple[str, int]:
    """The drawing of the first items, and how many found no room on it; empty when nothing has dates."""
    dated = [line for line in lines if line.dates is not None]
    shown = dated[:MOST_ROWS]
    if not shown:
        return "", 0
    rows = [_chart_row(line, line.dates, with_jobs) for line in shown if line.dates]
    height_mm = ROOM_MM + HEAD_AND_FOOT_MM + ROW_MM * len(rows)
    picture = dates_chart_svg(rows, today=today, title="Order dates", max_height_mm=height_mm)
    return picture.svg, len(dated) - len(shown)


def _chart_row(line: ItemLine, dates: OrderDates, with_jobs: bool) -> ChartRow:
    return ChartRow(
        label=f"{line.job.key} {line.need.name}" if with_jobs else line.need.name,
        decide_by=dates.decide_by,
        order_by=dates.order_by,
        ship=dates.ship,
        dock=dates.dock,
        need_by=dates.need_by,
        in_hand=line.hand,
        late=(line.need.in_hand or 0) < 0,
    )
