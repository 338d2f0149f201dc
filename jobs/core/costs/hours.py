"""Hours worked on a job and hours its lead says are left, as plain rows; how long a stretch of work counts."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from catalog.core.ground.money import to_cents
from catalog.core.ground.refusal import EntryError

MINUTES_OF_A_DAY = 1440
LONG_DAY_MINUTES = 720
"""Over so many minutes of one person on one day, whoever enters them is asked whether they are right."""

MIN_PERCENT = 25
"""Under so much of a step nobody can say how fast the rest goes."""

HOURS_RE = re.compile(r"(?a:(\d{1,4})?(?:[.,](\d{1,6})|:([0-5]?\d))?)")

ROUNDINGS: Mapping[int, str] = {1: "As typed", 5: "To 5 minutes", 6: "To 6 minutes", 15: "To 15 minutes"}
"""How a firm counts minutes: 29 CFR 785.48(b) knows the nearest 5 minutes, tenth and quarter of an hour."""


@dataclass(frozen=True)
class HourRow:
    """One stretch of work of one person on one job.

    row: names the stored row. step: key of the activity, None where none is said. minutes: as they count, negative
    where a wrong entry of a closed month is reversed. rate: what an hour costs the firm, as it was on the day worked;
    None where the firm had no rate then. tag: as `read_tag` gives it.
    """

    row: str
    day: date
    worker: str
    step: str | None
    minutes: int
    rate: Decimal | None
    tag: str = ""

    @property
    def cost(self) -> Decimal:
        """Minutes at the rate, in whole cents; 0.00 without a rate, which is a gap to be named and never a cost.

        >>> HourRow("1", date(2027, 5, 5), "Ines Quarrell", "layout", 50, Decimal("48.00")).cost
        Decimal('40.00')
        """
        return to_cents(Fraction(self.rate or 0) * self.minutes / 60)

    @property
    def hours(self) -> Decimal:
        """Minutes as hours, exact to a millionth.

        >>> HourRow("1", date(2027, 5, 5), "Ines Quarrell", None, 90, None).hours
        Decimal('1.500000')
        """
        return (Decimal(self.minutes) / 60).quantize(Decimal("0.000001"))


@dataclass(frozen=True)
class StepHoursLeft:
    """What the lead says a step still takes. minutes: for the whole crew, 0 where it is done. by, day: who and when.

    percent: how much of it is finished, 1 to 99; None where nobody said.
    """

    step: str
    minutes: int
    is_done: bool
    by: str
    day: date
    percent: int | None = None

    @property
    def share(self) -> Fraction | None:
        """The finished share, if it is enough to go by.

        >>> StepHoursLeft("boards", 60, False, "L. Lead", date(2027, 5, 5), 40).share
        Fraction(2, 5)
        """
        return Fraction(self.percent, 100) if self.percent is not None and self.percent >= MIN_PERCENT else None


@dataclass(frozen=True)
class StepHours:
    """One step of a job in minutes. planned: None where nothing is planned for it. left: None where nobody said.

    at_this_pace: what was left that day if the rest goes as it went, by work without a tag; None without a finished
    share to go by.
    """

    step: str
    planned: int | None
    spent: int
    left: StepHoursLeft | None
    at_this_pace: int | None = None

    @property
    def left_minutes(self) -> int | None:
        """As the lead says; else what is planned and not spent. None where neither says anything.

        >>> StepHours("boards", 600, 420, None).left_minutes
        180
        """
        if self.left is not None:
            return self.left.minutes
        return None if self.planned is None or self.spent >= self.planned else self.planned - self.spent


def rounded_minutes(minutes: int, step: int) -> int:
    """Minutes as the firm counts them: to the nearest step, both ways, half a step up.

    Args:
        minutes: as typed, 1 to 1440. step: minutes, one of `ROUNDINGS`.

    Returns:
        Whole minutes, 0 to 1440.

    Raises:
        EntryError: minutes that cannot be a stretch of one day, or another step.

    Source: 29 CFR 785.48(b).

    >>> rounded_minutes(247, 15), rounded_minutes(248, 15), rounded_minutes(247, 1)
    (240, 255, 247)
    """
    if not 1 <= minutes <= MINUTES_OF_A_DAY:
        raise EntryError("minutes", f"{minutes} is not from 1 to {MINUTES_OF_A_DAY}, the minutes of a day")
    if step not in ROUNDINGS:
        raise EntryError("rounding", f"{step} is not one of {', '.join(map(str, ROUNDINGS))} minutes")
    return (2 * minutes + step) // (2 * step) * step


def hours_by_step(
    planned: Mapping[str, int], rows: Iterable[HourRow], left: Iterable[StepHoursLeft]
) -> tuple[StepHours, ...]:
    """Planned, spent and left of each step: the planned ones in their order, then what else was worked on.

    planned: minutes by key of step. rows, left: of one job. Returns them; work on no step has the key "".
    Source: own rule; the sum of what is spent is that of the rows.

    >>> row = HourRow("1", date(2027, 5, 5), "Ines Quarrell", "boards", 90, None)
    >>> [(one.step, one.spent) for one in hours_by_step({"layout": 60}, [row], [])]
    [('layout', 0), ('boards', 90)]
    """
    spent: defaultdict[str, int] = defaultdict(int)
    by_then: defaultdict[str, int] = defaultdict(int)
    steps = {step.step: step for step in left}
    for row in rows:
        step = row.step or ""
        spent[step] += row.minutes
        by_then[step] += row.minutes if step in steps and row.day <= steps[step].day and not row.tag else 0
    keys = dict.fromkeys([*planned, *(key for key in spent if key), *steps, *(key for key in spent if not key)])
    return tuple(
        StepHours(key, planned.get(key), spent.get(key, 0), steps.get(key), _at_this_pace(by_then[key], steps.get(key)))
        for key in keys
    )


def _at_this_pace(spent: int, left: StepHoursLeft | None) -> int | None:
    """To the nearest minute."""
    share = left.share if left else None
    return None if share is None or spent <= 0 else int(spent * (1 - share) / share + Fraction(1, 2))


def read_hours(text: str) -> int:
    """Read hours as people type them.

    text: `8`, `7.75`, `7,75` or `7:45`. Returns whole minutes, to the nearest. Raises EntryError naming what would be
    right for what is none, or is not over 0 and at most 24 h. Source: own convention.

    >>> read_hours("7.75"), read_hours("7:45"), read_hours(" 8 h")
    (465, 465, 480)
    """
    typed = text.strip().removesuffix("h").strip()
    match = HOURS_RE.fullmatch(typed)
    if match is None:
        raise EntryError("hours", f'"{text[:20]}" is not a stretch of time; write it as 7.75 or 7:45')
    whole, decimals, clock = match.groups()
    share = Fraction(f"0.{decimals}") if decimals else Fraction(int(clock or 0), 60)
    minutes = int((int(whole or 0) + share) * 60 + Fraction(1, 2))
    if not 1 <= minutes <= MINUTES_OF_A_DAY:
        raise EntryError("hours", f'"{text[:20]}" must be over 0 and at most 24 hours')
    return minutes


def hours_words(minutes: int) -> str:
    """Minutes as people say them: by quarter hours, else with minutes.

    minutes: of either sign. Returns the words. Source: own convention.

    >>> hours_words(465), hours_words(480), hours_words(500), hours_words(-90)
    ('7.75 h', '8 h', '8 h 20 min', '−1.5 h')
    """
    sign, whole, rest = ("−" if minutes < 0 else ""), *divmod(abs(minutes), 60)
    if rest % 15 == 0:
        return f"{sign}{whole + rest / 60:g} h"
    return f"{sign}{f'{whole} h ' if whole else ''}{rest} min"


def about_hours_words(minutes: int) -> str:
    """Minutes that were worked out, not worked: to a tenth of an hour.

    minutes: 0 or more. Returns the words. Source: own convention.

    >>> about_hours_words(4115), about_hours_words(480)
    ('68.6 h', '8 h')
    """
    return f"{round(minutes / 60, 1):g} h"
