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
    in_hand, found = days_in_hand(desk.today, need.order_by, desk.calendar), need.to_core()
    if in_hand <= 0:
        found = desk.counted(found)
        in_hand = in_hand if found.in_hand is None else found.in_hand
    found = replace(found, in_hand=in_hand)
    return _line(Matter("order", DatedItem(need.job, found), need.order_by, in_hand, part), desk, signed=signed)


def decide_line(need: StoredNeed, desk: DateContext, *, signed: bool) -> MailLine:
    in_hand = days_in_hand(desk.today, need.decide_by, desk.calendar)
    return _line(Matter("decide", DatedItem(need.job, need.to_core()), need.decide_by, in_hand), desk, signed=signed)


def late_line(one: LateComing, desk: DateContext, *, signed: bool) -> MailLine:
    """What is on order and comes after the day it is needed."""
    return _line(Matter("late", one.item, one.coming.expected_on, -one.late_workdays, late=one), desk, signed=signed)


def _line(one: Matter, desk: DateContext, *, signed: bool) -> MailLine:
    text = matter_text(one, {code: seller.name for code, seller in desk.suppliers.items()})
    cut_off = one.item.need.dates.cut_off if one.item.need.dates and one.kind == "order" else None
    when = "expected" if one.late else "by"
    by = f", {when} {day_words(one.day)}" if one.day else ""
    hour = f" before {cut_off:%H:%M}" if cut_off else ""
    told = f"{text}: {one.item.job.title}{by}{hour}. {with_day_words(matter_why(one, signed=signed))}"
    return MailLine(one.in_hand, " ".join(told.split()), signed)


def expected_lines(until: date) -> Iterable[str]:
    """What is to come by then, order by order, the first expected first."""
    found = []
    for order in due_orders():
        days: dict[date, list[str]] = {}
        for one in order.lines:
            if one.expected_on is not None and one.expected_on <= until:
                days.setdefault(one.expected_on, []).append(f"{one.line.material.name}, {one.line.job.title}")
        found += [(day, str(order.order), order.order.supplier.name, what) for day, what in days.items()]
    for day, number, supplier, what in sorted(found):
        yield " ".join(f"{day_words(day)}: {number} from {supplier}: {'; '.join(what)}.".split())


def in_order(lines: list[MailLine]) -> list[MailLine]:
    """Signed work first."""
    return sorted(lines, key=lambda line: (not line.signed, line.in_hand, line.text))
