"""What is expected, by when: today and what is overdue, this week, later, and what has no day."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from catalog.core.ground.plain_text import plain
from catalog.core.ground.workdays import WorkCalendar
from catalog.services.book import firm_of
from jobs.core.ordering.order_by import days_in_hand
from jobs.core.ordering.order_lines import StatedRun, count_in_words
from jobs.deliveries.services.due_deliveries import DueLine, DueOrder, due_orders
from jobs.jobs.models import Job
from jobs.orders.models import Order
from jobs.site.services.words import Say, lengths_in


@dataclass(frozen=True)
class ExpectedLine:
    """still: how much is to come. pieces: of what lengths; where: on which walls. came: what came before, in words."""

    what: str
    still: str
    pieces: str
    where: str
    came: str


@dataclass(frozen=True)
class ExpectedOrder:
    """days_late: working days of the firm since it was expected, 0 while it is not overdue."""

    order: Order
    on: date | None
    days_late: int
    jobs: tuple[Job, ...]
    lines: tuple[ExpectedLine, ...]

    @property
    def is_overdue(self) -> bool:
        return self.days_late > 0


@dataclass(frozen=True)
class ExpectedGroup:
    """key: today, week, later or unknown."""

    key: str
    heading: str
    orders: tuple[ExpectedOrder, ...]


HEADINGS = (("today", "Expected today"), ("week", "This week"), ("later", "Later"), ("unknown", "No day known"))


def expected_groups(today: date) -> list[ExpectedGroup]:
    """Today and this week are there even with nothing in them; what is overdue is expected today."""
    firm = firm_of()
    say = lengths_in(firm.display_units)
    groups: dict[str, list[ExpectedOrder]] = {key: [] for key, _ in HEADINGS}
    for order in due_orders():
        groups[_when(order.expected_on, today)].append(_expected(order, today, firm.calendar, say))
    return [
        ExpectedGroup(key, heading, tuple(groups[key]))
        for key, heading in HEADINGS
        if groups[key] or key in ("today", "week")
    ]


def _when(day: date | None, today: date) -> str:
    if day is None:
        return "unknown"
    if day <= today:
        return "today"
    return "week" if day <= today + timedelta(days=6 - today.weekday()) else "later"


def _expected(order: DueOrder, today: date, firm: WorkCalendar, say: Say) -> ExpectedOrder:
    jobs = tuple(dict.fromkeys(line.line.job for line in order.lines))
    late = 0 if order.expected_on is None else max(0, -days_in_hand(today, order.expected_on, firm))
    return ExpectedOrder(order.order, order.expected_on, late, jobs, tuple(_lines(order.lines, say)))


def _lines(lines: Sequence[DueLine], say: Say) -> Iterable[ExpectedLine]:
    for line in lines:
        figures = ((line.state.good, "good"), (line.state.damaged, "damaged"), (line.state.wrong, "wrong"))
        came = ", ".join(f"{plain(count)} {word}" for count, word in figures if count)
        yield ExpectedLine(line.line.what, still_words(line), *described(line, say), came)


def still_words(line: DueLine) -> str:
    total = count_in_words(line.line.quantity, line.line.unit)
    return total if line.awaited == line.line.quantity else f"{plain(line.awaited)} of {total}"


def described(line: DueLine, say: Say) -> tuple[str, str]:
    """Of what lengths the pieces are that are to come, and where they go."""
    if line.to_come:
        lengths = Counter(say(came.piece.length_mm) for came in line.to_come)
        where = dict.fromkeys(f"{came.piece.wall}: {came.piece.run}" for came in line.to_come)
        pieces = (f"{count} x {length}" if count > 1 else length for length, count in lengths.items())
        return ", ".join(pieces), "; ".join(where)
    return "; ".join(dict.fromkeys(_lengths(line.runs, say))), "; ".join(f"{run.wall}: {run.run}" for run in line.runs)


def _lengths(runs: Iterable[StatedRun], say: Say) -> Iterable[str]:
    for run in runs:
        counts: dict[str, int] = {}
        for length_mm in sorted(run.piece_lengths_mm, reverse=True):
            counts[say(length_mm)] = counts.get(say(length_mm), 0) + 1
        yield ", ".join(f"{count} x {length}" if count > 1 else length for length, count in counts.items())
