"""Items as mails name them, one to a line."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from jobs.core.ordering.order_by import days_in_hand, days_in_hand_in_words
from jobs.dates.services.item_schedule import DateContext
from jobs.dates.services.late_on_order import LateComing
from jobs.dates.services.passed_days import passed_words
from jobs.deliveries.services.due_deliveries import due_orders
from jobs.needs.models import StoredNeed
from quoting.platform.formatting import day_words


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
    hour = f" before {need.cut_off:%H:%M}" if need.cut_off else ""
    by = f"order by {day_words(need.order_by)}{hour}; it must be on site by {day_words(need.need_by)}."
    told = f"{_item(need, signed)}: {by}"
    in_hand, passed = days_in_hand(desk.today, need.order_by, desk.calendar), ""
    if in_hand <= 0:
        counted = desk.counted(need.to_core())
        in_hand, passed = in_hand if counted.in_hand is None else counted.in_hand, passed_words(counted)
    return MailLine(in_hand, " ".join(said for said in (told, passed, part) if said), signed)


def decide_line(need: StoredNeed, desk: DateContext, *, signed: bool) -> MailLine:
    told = f"{_item(need, signed)}: have it signed off by {day_words(need.decide_by)}, so that it can be ordered."
    return MailLine(days_in_hand(desk.today, need.decide_by, desk.calendar), told, signed)


def late_line(one: LateComing) -> str:
    """What is on order and comes after the day it is needed."""
    coming, day = one.coming, day_words(one.coming.expected_on) if one.coming.expected_on else ""
    days = f"{one.late_workdays} working day{'' if one.late_workdays == 1 else 's'} too late"
    at = f"overdue since {day}" if coming.is_overdue else f"at the dock {day}"
    what = " ".join(f"{one.item.need.name}, {one.item.job.key} {one.item.job.title}".split())
    needed = day_words(one.item.need.need_by) if one.item.need.need_by else ""
    return f"{coming.line.order}: {what}: {at}, {days} for {needed}."


def expected_lines(until: date) -> Iterable[str]:
    """What is to come by then, order by order, the first expected first."""
    found = []
    for order in due_orders():
        days: dict[date, list[str]] = {}
        for one in order.lines:
            if one.expected_on is not None and one.expected_on <= until:
                days.setdefault(one.expected_on, []).append(f"{one.line.material.name}, {one.line.job.key}")
        found += [(day, str(order.order), order.order.supplier.name, what) for day, what in days.items()]
    for day, number, supplier, what in sorted(found):
        yield " ".join(f"{day_words(day)}: {number} from {supplier}: {'; '.join(what)}.".split())


def in_order(lines: list[MailLine]) -> list[MailLine]:
    """Signed work first."""
    return sorted(lines, key=lambda line: (not line.signed, line.in_hand, line.text))


def _item(need: StoredNeed, signed: bool) -> str:
    told = f"{need.name}, {need.job.key} {need.job.title}"
    return " ".join(f"{told}{'' if signed else ' (not signed)'}".split())
