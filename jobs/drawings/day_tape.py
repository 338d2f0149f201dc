"""The tape: the firm's working days laid off from today, with what is due on them."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from catalog.core.ground.day_words import day_words
from catalog.drawings.lettering import width_at
from catalog.drawings.svg import DrawingInputError, words
from jobs.drawings.charts.on_screen import SIZES_PX, WIDTHS_PX, Closure, Room, Screen, Width, room_of, weekday_day

# Two weeks and a little on a phone: what is near is what a phone is looked at for.
DAYS = {"desk": 24, "phone": 12}
ZERO_X = 46.0
TOP_Y, LOW_Y = 46.0, 61.0
ROWS_Y = (40.0, 20.0)
DAY_Y, CLOSURE_Y = 80.0, 98.0
MIN_HATCH_PX = 9.0


@dataclass(frozen=True)
class TapeMark:
    """Something due on a working day of the tape.

    words: after the days in hand ("claim 2 pieces"); short: for a phone. weight: of two with room for one, the
    greater keeps its words.
    """

    day: date
    words: str
    weight: float = 1.0
    short: str = ""


@dataclass(frozen=True)
class Tape:
    """working_days: the firm's, today first. late: how many things should have been done before today."""

    working_days: tuple[date, ...]
    marks: tuple[TapeMark, ...] = ()
    closures: tuple[Closure, ...] = ()
    late: int = 0

    def __post_init__(self) -> None:
        days = self.working_days
        if len(days) < DAYS["desk"] or list(days) != sorted(set(days)):
            raise DrawingInputError(
                f"working_days: a tape needs {DAYS['desk']} working days in order, today first; {len(days)} were given"
            )

    def in_hand(self, mark: TapeMark) -> int:
        """Working days from today to the mark's day, or to the last one before it."""
        return sum(1 for day in self.working_days if day <= mark.day) - 1


def day_tape_svg(tape: Tape, width: Width = "desk") -> str:
    """The tape; marks after its end are left to the page. Raises DrawingInputError for too few days."""
    laid = _Laid(Screen(WIDTHS_PX[width], 104.0 if _shut(tape, width) else 88.0), tape, width)
    for closure in _shut(tape, width):
        _closure(laid, closure)
    _band(laid)
    _days(laid)
    _marks(laid)
    if tape.late:
        _late(laid)
    return laid.screen.finished(described(tape, width), "across")


def described(tape: Tape, width: Width = "desk") -> str:
    """The tape in sentences: what is late, each mark with its day, who is shut."""
    sentences = [f"Working days from {day_words(tape.working_days[0])}"]
    sentences += [f"{tape.late} late"] if tape.late else []
    sentences += [f"{tape.in_hand(m)} days: {m.words}, {day_words(m.day)}" for m in _near(tape, width)]
    sentences += [c.words for c in _shut(tape, width) if c.words]
    return ". ".join(sentences) + "."


@dataclass
class _Laid:
    """A tape being drawn: where its days stand and what room is taken."""

    screen: Screen
    tape: Tape
    width: Width
    taken: list[Room] = field(default_factory=list)

    @property
    def days(self) -> tuple[date, ...]:
        return self.tape.working_days[: DAYS[self.width]]

    @property
    def step(self) -> float:
        return (self.screen.width - ZERO_X) / (DAYS[self.width] + 0.5)

    def x(self, index: float) -> float:
        return ZERO_X + self.step * index

    def before(self, day: date) -> float:
        """Half a step before the first working day on or after this one."""
        index = sum(1 for worked in self.days if worked < day)
        return ZERO_X if index == 0 else min(self.screen.width, self.x(index - 0.5))

    def is_free(self, room: Room) -> bool:
        inside = room.left >= 0 and room.right <= self.screen.width
        return inside and not any(room.meets(other) for other in self.taken)


def _near(tape: Tape, width: Width) -> list[TapeMark]:
    days = tape.working_days[: DAYS[width]]
    return sorted((mark for mark in tape.marks if days[0] <= mark.day <= days[-1]), key=lambda mark: mark.day)


def _shut(tape: Tape, width: Width) -> list[Closure]:
    days = tape.working_days[: DAYS[width]]
    return [closure for closure in tape.closures if closure.first <= days[-1] and days[0] <= closure.last]


def _closure(laid: _Laid, closure: Closure) -> None:
    left, right = laid.before(closure.first), laid.before(closure.after)
    if right - left < MIN_HATCH_PX:
        # The firm itself is shut then: no day of the tape lies between.
        left, right = left - MIN_HATCH_PX / 2, left + MIN_HATCH_PX / 2
    laid.screen.hatch(Room(left, TOP_Y, right, LOW_Y), 9.0)
    label = words(closure.words)
    wide = width_at(label, SIZES_PX["small"])
    start = min(max(0.0, (left + right - wide) / 2), laid.screen.width - wide)
    room = room_of(start, CLOSURE_Y, label, "small")
    if label and laid.is_free(room):
        laid.taken.append(room)
        laid.screen.say(start, CLOSURE_Y, label, "small soft")


def _band(laid: _Laid) -> None:
    end = laid.screen.width
    laid.screen.line((ZERO_X - 13 if laid.tape.late else ZERO_X, TOP_Y), (end, TOP_Y), "ink")
    laid.screen.line((ZERO_X, LOW_Y), (end, LOW_Y), "ahead")
    laid.screen.line((ZERO_X, TOP_Y - 7), (ZERO_X, LOW_Y + 8), "done")


def _days(laid: _Laid) -> None:
    """A stroke a day, a longer one where a week begins, with its day under it as far as there is room."""
    laid.screen.say(ZERO_X - 3, DAY_Y + 3, "Today", "strong")
    laid.taken.append(_aside(room_of(ZERO_X - 3, DAY_Y + 3, "Today", "strong")))
    for index, day in enumerate(laid.days[1:], start=1):
        x = laid.x(index)
        begins = day.isocalendar()[:2] != laid.days[index - 1].isocalendar()[:2]
        laid.screen.line((x, TOP_Y), (x, LOW_Y + 6 if begins else TOP_Y + 9), "ink" if begins else "ahead")
        room = room_of(x - 3, DAY_Y, weekday_day(day), "days")
        if begins and laid.is_free(room):
            laid.taken.append(_aside(room))
            laid.screen.say(x - 3, DAY_Y, weekday_day(day), "days soft")


def _aside(room: Room) -> Room:
    return Room(room.left - 8, room.top, room.right + 8, room.low)


def _marks(laid: _Laid) -> None:
    """Every mark has its pointer; words go to whoever weighs most, then to whoever is nearest."""
    marks = _near(laid.tape, laid.width)
    for mark in marks:
        x = laid.x(laid.tape.in_hand(mark))
        laid.screen.pointer((x, TOP_Y), "mark")
        laid.taken.append(Room(x - 6, TOP_Y - 10, x + 5.5, TOP_Y))
    if laid.tape.late:
        laid.taken.append(room_of(0.0, TOP_Y - 14, f"{laid.tape.late} late", "late"))
    for mark in sorted(marks, key=lambda mark: (-mark.weight, mark.day)):
        _words(laid, mark)


def _words(laid: _Laid, mark: TapeMark) -> None:
    hand = laid.tape.in_hand(mark)
    label = words(mark.short if laid.width == "phone" and mark.short else mark.words, 60)
    x, whole = laid.x(hand), f"{hand} {label}"
    wide = width_at(whole, SIZES_PX["strong"])
    for row, y in enumerate(ROWS_Y):
        for left in (x + 8, x - 8 - wide):
            room = room_of(left, y, whole, "strong")
            stem = Room(x - 1, y - 9, x + 1, ROWS_Y[0] - 10)
            if laid.is_free(_clear(room)) and (not row or laid.is_free(stem)):
                laid.taken += [room, stem] if row else [room]
                if row:
                    laid.screen.line((x, y - 9), (x, TOP_Y - 8), "ahead")
                _say(laid.screen, left, y, str(hand), label)
                return


def _clear(room: Room) -> Room:
    """With a little room at its right, so that words end before the next begin."""
    return Room(room.left, room.top, room.right + 4, room.low)


def _say(screen: Screen, x: float, y: float, hand: str, text: str) -> None:
    screen.say(x, y, hand, "strong")
    screen.say(x + width_at(f"{hand} ", SIZES_PX["strong"]), y, text, "name")


def _late(laid: _Laid) -> None:
    laid.screen.polygon(((ZERO_X - 22, TOP_Y), (ZERO_X - 13, TOP_Y - 5), (ZERO_X - 13, TOP_Y + 5)), "late-mark")
    laid.screen.say(0.0, TOP_Y - 14, f"{laid.tape.late} late", "late")
