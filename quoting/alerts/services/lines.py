"""Items as mails name them, one to a line."""

from dataclasses import dataclass
from datetime import date

from catalog.core.ground.workdays import WorkCalendar
from jobs.core.ordering.order_by import days_in_hand, days_in_hand_in_words
from jobs.dates.models import StoredNeed
from quoting.platform.formatting import day_words


@dataclass(frozen=True)
class MailLine:
    """in_hand: the firm's working days to the day meant, negative when it is past."""

    in_hand: int
    text: str

    @property
    def words(self) -> str:
        return days_in_hand_in_words(self.in_hand)


def order_line(need: StoredNeed, today: date, calendar: WorkCalendar, part: str = "") -> MailLine:
    """part: why some of it is still to be ordered though the rest is."""
    hour = f" before {need.cut_off:%H:%M}" if need.cut_off else ""
    told = f"{_item(need)}: order by {day_words(need.order_by)}{hour}; it must be on site by {day_words(need.need_by)}."
    return MailLine(days_in_hand(today, need.order_by, calendar), f"{told} {part}".rstrip())


def decide_line(need: StoredNeed, today: date, calendar: WorkCalendar) -> MailLine:
    told = f"{_item(need)}: have it signed off by {day_words(need.decide_by)}, so that it can be ordered."
    return MailLine(days_in_hand(today, need.decide_by, calendar), told)


def in_order(lines: list[MailLine]) -> list[MailLine]:
    return sorted(lines, key=lambda line: (line.in_hand, line.text))


def _item(need: StoredNeed) -> str:
    return " ".join(f"{need.name}, {need.job.key} {need.job.title}".split())
