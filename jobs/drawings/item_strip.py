"""The days of one item on the axis of its list: order by (tick), at our dock (circle), on site (tick)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from catalog.core.ground.day_words import day_words
from catalog.drawings.lettering import width_at
from catalog.drawings.svg import DrawingInputError
from jobs.drawings.charts.on_screen import SIZES_PX, Closure, Room, Screen, weekday_day

WIDTH, HEIGHT = 250.0, 30.0
LINE_Y, BASE_Y = 14.0, 24.0
EDGE = 6.0


@dataclass(frozen=True)
class StripAxis:
    """The days a list of strips runs over; closures: of whoever shuts between them."""

    start: date
    end: date

    def __post_init__(self) -> None:
        if self.end <= self.start:
            raise DrawingInputError(
                f"end: {day_words(self.end)} is not after the start, {day_words(self.start)}; give a later day"
            )

    def x(self, day: date) -> float:
        """Where a day stands; one outside the axis stands at its edge."""
        share = (day - self.start).days / (self.end - self.start).days
        return EDGE + min(1.0, max(0.0, share)) * (WIDTH - 2 * EDGE)

    @property
    def mondays(self) -> tuple[date, ...]:
        first = self.start + timedelta(days=-self.start.weekday() % 7)
        return tuple(first + timedelta(weeks=n) for n in range((self.end - first).days // 7 + 1))


@dataclass(frozen=True)
class ItemDays:
    """The days of one item, which follow one another. late: its order-by has passed."""

    order_by: date
    dock: date
    on_site: date
    late: bool = False


def item_strip_svg(item: ItemDays, axis: StripAxis, closures: Sequence[Closure] = ()) -> str:
    screen = Screen(WIDTH, HEIGHT)
    _ground(screen, axis)
    for closure in closures:
        left, right = axis.x(closure.first), axis.x(closure.after)
        if right > left:
            screen.hatch(Room(left, LINE_Y - 7, right, BASE_Y - 2))
    order, dock, site = (axis.x(day) for day in (item.order_by, item.dock, item.on_site))
    css = "late-line" if item.late else "ink"
    screen.line((order, LINE_Y), (max(dock, site), LINE_Y), css)
    screen.tick((order, LINE_Y), 5.0, "late-tick" if item.late else "tick")
    screen.tick((site, LINE_Y), 5.0, "tick")
    screen.circle((dock, LINE_Y), 4.0, "hollow")
    return screen.finished(described(item, closures))


def described(item: ItemDays, closures: Sequence[Closure] = ()) -> str:
    """The strip in one sentence."""
    days = ("Order by", item.order_by), ("at our dock", item.dock), ("on site by", item.on_site)
    words = ", ".join(f"{name} {day_words(day)}" for name, day in days)
    between = [c.words for c in closures if c.words and item.order_by <= c.last and c.first <= item.on_site]
    return ". ".join([f"Late: {words[0].lower()}{words[1:]}" if item.late else words, *between]) + "."


def strip_axis_svg(axis: StripAxis, today: date) -> str:
    """What stands above a column of strips: today, and the Mondays there is room for."""
    screen = Screen(WIDTH, 18.0)
    taken, month = 0.0, 0
    for day in _named(axis, today):
        css, text = "small strong", "Today"
        if day != today:
            css, text = "small soft", weekday_day(day).partition(" ")[2] if day.month != month else str(day.day)
        wide, x = width_at(text, SIZES_PX["small"]), axis.x(day)
        wanted = max(0.0, x - (EDGE if day == today else wide / 2))
        left = min(max(wanted, taken), WIDTH - wide)
        # A little aside is still its day's; on other words it is not.
        if left >= taken and abs(left - wanted) < 10:
            screen.say(left, 13.0, text, css)
            taken, month = left + wide + 6, month if day == today else day.month
    return screen.finished(f"{day_words(axis.start)} to {day_words(axis.end)}")


def _named(axis: StripAxis, today: date) -> Iterable[date]:
    """Today and every second Monday after it."""
    later = [day for day in axis.mondays if day > today]
    return [*([today] if axis.start <= today <= axis.end else []), *later[1::2]]


def _ground(screen: Screen, axis: StripAxis) -> None:
    """The axis, with a short mark a Monday."""
    screen.line((EDGE, BASE_Y), (WIDTH - EDGE, BASE_Y), "axis")
    mondays = axis.mondays
    every = max(1, len(mondays) // 10)
    for day in mondays[::every]:
        screen.line((axis.x(day), BASE_Y), (axis.x(day), BASE_Y - 4), "axis")
