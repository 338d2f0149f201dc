"""Items as mails name them, one to a line, in the words of Today."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from jobs.core.ordering.order_by import days_in_hand, days_in_hand_in_words
from jobs.dates.services.action_items import Matter
from jobs.dates.services.item_schedule import DateContext, DatedItem
from jobs.dates.services.late_on_order import LateComing
from jobs.deliveries.services.due_deliveries import due_orders
from jobs.needs.models import StoredNeed
from quoting.life.services.matter_words import matter_text, matter_why
from quoting.platform.formatting import day_words, with_day_words


@dataclass(frozen=True)
class MailLine:
    """in_hand: the firm's working days to the day meant, negative when it is past."""

    in_hand: int
    text: str
    signed: bool

    @property
    def words(self) -> str:
        return days_in_hand_in_words(self.in_hand)


def order_line(need: StoredNeed, desk: DateContext, part: str = "", *, signed: bool) -> MailLine:
    """part: why some of it is still to be ordered though the rest is."""
    in_hand, result = days_in_hand(desk.today, need.order_by, desk.calendar), need.to_core()
    if in_hand <= 0:
        result = desk.counted(result)
        in_hand = in_hand if result.in_hand is None else result.in_hand
    result = replace(result, in_hand=in_hand)
    return _line(Matter("order", DatedItem(need.job, result), need.order_by, in_hand, part), desk, signed=signed)


def decide_line(need: StoredNeed, desk: DateContext, *, signed: bool) -> MailLine:
    in_hand = days_in_hand(desk.today, need.decide_by, desk.calendar)
    return _line(Matter("decide", DatedItem(need.job, need.to_core()), need.decide_by, in_hand), desk, signed=signed)


def late_line(coming: LateComing, desk: DateContext, *, signed: bool) -> MailLine:
    """What is on order and comes after the day it is needed."""
    return _line(
        Matter("late", coming.item, coming.coming.expected_on, -coming.late_workdays, late=coming), desk, signed=signed
    )


def _line(matter: Matter, desk: DateContext, *, signed: bool) -> MailLine:
    text = matter_text(matter, {code: seller.name for code, seller in desk.suppliers.items()})
    cut_off = matter.item.need.dates.cut_off if matter.item.need.dates and matter.kind == "order" else None
    when = "expected" if matter.late else "by"
    by = f", {when} {day_words(matter.day)}" if matter.day else ""
    hour = f" before {cut_off:%H:%M}" if cut_off else ""
    message = f"{text}: {matter.item.job.title}{by}{hour}. {with_day_words(matter_why(matter, signed=signed))}"
    return MailLine(matter.in_hand, " ".join(message.split()), signed)


def expected_lines(until: date) -> Iterable[str]:
    """What is to come by then, order by order, the first expected first."""
    lines = []
    for order in due_orders():
        days: dict[date, list[str]] = {}
        for line in order.lines:
            if line.expected_on is not None and line.expected_on <= until:
                days.setdefault(line.expected_on, []).append(f"{line.line.material.name}, {line.line.job.title}")
        lines += [(day, str(order.order), order.order.supplier.name, what) for day, what in days.items()]
    for day, number, supplier, what in sorted(lines):
        yield " ".join(f"{day_words(day)}: {number} from {supplier}: {'; '.join(what)}.".split())


def in_order(lines: list[MailLine]) -> list[MailLine]:
    """Signed work first."""
    return sorted(lines, key=lambda line: (not line.signed, line.in_hand, line.text))
