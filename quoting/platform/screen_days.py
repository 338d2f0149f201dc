"""Days on a screen: the year stands only where it is not this one. What is kept, papers, mails and files, names it."""

from datetime import date, datetime

from django.utils import timezone

from catalog.core.ground import day_words as full_words
from quoting.platform import clock


def day_words(value: date) -> str:
    """Thu 10 Dec; of a moment, its day by the firm's clock."""
    day = _here(value).date() if isinstance(value, datetime) else value
    return full_words.day_words(day, year=_this_year())


def span_words(first: date | None, last: date | None) -> str:
    """From the first day to the last; a year they share is said once."""
    days = [day_words(day) for day in (first, last) if day is not None]
    if first and last and first.year == last.year:
        days[0] = " ".join(days[0].split()[:3])
    return " to ".join(days)


def moment_words(value: datetime) -> str:
    """Thu 10 Dec, 14:05 by the firm's clock."""
    return f"{day_words(value)}, {_here(value):%H:%M}"


def with_day_words(sentence: str) -> str:
    """A sentence with its days written as `day_words` writes them, however they stand in it."""
    return full_words.with_day_words(sentence, year=_this_year())


def _this_year() -> int:
    return _here(clock.now()).year


def _here(moment: datetime) -> datetime:
    """By the firm's clock, which each request and each errand activates."""
    return moment.astimezone(timezone.get_current_timezone())
