"""Where the margin of a job went: a section cut through its levels, each fall struck as a dimension."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from catalog.drawings.lettering import PHONE_MM, PX_A_MM, SIZES_MM, fitted, text_width
from catalog.drawings.svg import DrawingInputError, Picture, Point, document, element, escaped, line_to, move, polyline

WIDE_MM, PAPER_MM = 854 / PX_A_MM, 174.0
ON_A_PHONE = 3
HATCH_MM, TICK_MM = 2.2, 0.9
TOP_MM, FOOT_MM = 4.0, 5.0


@dataclass(frozen=True)
class Level:
    """A margin in percent, with its word: quoted, made, expected."""

    percent: Decimal
    word: str


@dataclass(frozen=True)
class Fall:
    """What the margin fell by, in points; under 0 where it rose. amount: in words of money, empty for none."""

    name: str
    points: Decimal
    amount: str = ""


@dataclass(frozen=True)
class _Sheet:
    left: float
    right: float
    high: float

    @property
    def base(self) -> float:
        return TOP_MM + self.high + FOOT_MM


def margin_section(start: Level, falls: Sequence[Fall], end: Level, width_mm: float = WIDE_MM) -> Picture:
    """The section, as wide as it is told; on a phone with the three largest falls, the rest as one, and no words below.

    Raises DrawingInputError where the falls do not lead from the first level to the last.
    """
    if start.percent - sum((fall.points for fall in falls), Decimal(0)) != end.percent:
        raise DrawingInputError(f"falls: they do not lead from {start.percent} to {end.percent}; give all of them")
    is_narrow = width_mm <= PHONE_MM
    drawn = _largest(falls) if is_narrow else list(falls)
    sheet = _Sheet(13.0, width_mm - 15.0, 24.0) if is_narrow else _Sheet(27.0, width_mm - 24.0, 36.0)
    levels = _levels(start.percent, drawn)
    places = _places(sheet, levels)
    shapes = [*_ground(sheet, places), *_marks(sheet, places, start, end, "" if is_narrow else " %")]
    for index, fall in enumerate(drawn):
        shapes += _fall(places[index], places[index + 1], fall)
        shapes += [] if is_narrow else _words_below(sheet, places[index + 1], fall)
    height = sheet.base + (3.0 if is_narrow else 9.5)
    title = described(start, falls, end)
    svg = document(shapes, title=title, desc=title, left=0, top=0, width=width_mm, height=height)
    return Picture(svg, "", width_mm, height)


def described(start: Level, falls: Sequence[Fall], end: Level) -> str:
    """The section in one sentence.

    >>> described(Level(Decimal("38.00"), "quoted"), [Fall("Hours", Decimal("8.28"))], Level(Decimal("29.72"), "made"))
    '38.00 % quoted, 29.72 % made: hours 8.28 lost.'
    """
    parts = [f"{fall.name.lower()} {abs(fall.points)} {'lost' if fall.points > 0 else 'gained'}" for fall in falls]
    words = f"{start.percent} % {start.word}, {end.percent} % {end.word}"
    return f"{words}: {', '.join(parts)}." if parts else f"{words}."


def _largest(falls: Sequence[Fall]) -> list[Fall]:
    if len(falls) <= ON_A_PHONE + 1:
        return list(falls)
    largest = sorted(falls, key=lambda fall: -abs(fall.points))[:ON_A_PHONE]
    rest = sum((fall.points for fall in falls if fall not in largest), Decimal(0))
    return [*(fall for fall in falls if fall in largest), Fall("The rest", rest)]


def _levels(first: Decimal, falls: Sequence[Fall]) -> list[Decimal]:
    levels = [first]
    for fall in falls:
        levels.append(levels[-1] - fall.points)
    return levels


@dataclass(frozen=True)
class _Tread:
    left: float
    right: float
    y: float


def _places(sheet: _Sheet, levels: Sequence[Decimal]) -> list[_Tread]:
    high, low = max(levels), min(levels)
    scale = sheet.high / float(high - low) if high > low else 0.0
    step = (sheet.right - sheet.left) / (len(levels) + 0.6)
    lefts = [sheet.left + step * index for index in range(len(levels))]
    # The last holds a figure before the mark of its level.
    return [
        _Tread(left, right, TOP_MM + float(high - level) * scale)
        for left, right, level in zip(lefts, [*lefts[1:], sheet.right], levels, strict=True)
    ]


def _ground(sheet: _Sheet, treads: Sequence[_Tread]) -> Iterator[str]:
    """The cut surface, what it cuts through, and the foot that is broken off."""
    strokes = [stroke for tread in treads for stroke in _hatched(tread, sheet.base)]
    yield _path(" ".join(strokes), "hatch")
    surface: list[Point] = []
    for tread in treads:
        surface += [(tread.left, tread.y), (tread.right, tread.y)]
    yield _path(polyline(surface), "ink-heavy")
    x, y = sheet.left + (treads[0].right - treads[0].left) * 0.6, sheet.base
    broken = [(sheet.left - 2, y), (x - 1.5, y), (x - 0.5, y - 1.8), (x + 0.7, y + 1.8), (x + 1.7, y), (sheet.right, y)]
    yield _path(polyline(broken), "thin")
    # Where the first fall is small its figure stands in the way.
    first = next((tread for tread in treads[1:] if abs(tread.y - treads[0].y) > 4.5), treads[-1])
    if first.left < sheet.right and len(treads) > 1:
        yield _path(f"{move((first.left, treads[0].y))} {line_to((sheet.right, treads[0].y))}", "hidden")


def _hatched(tread: _Tread, base: float) -> Iterator[str]:
    """Strokes along x + y = n x step, so that they run on from tread to tread."""
    first = math.ceil((tread.left + tread.y) / HATCH_MM)
    for n in range(first, math.floor((tread.right + base) / HATCH_MM) + 1):
        total = n * HATCH_MM
        low, top = min(base, total - tread.left), max(tread.y, total - tread.right)
        if low > top:
            yield f"{move((total - low, low))} {line_to((total - top, top))}"


def _marks(sheet: _Sheet, treads: Sequence[_Tread], start: Level, end: Level, unit: str) -> Iterator[str]:
    """A mark that stands on each of the two levels, its figure, and its word below."""
    first, last = treads[0], treads[-1]
    for x, y, anchor, level in ((sheet.left, first.y, "at-end", start), (sheet.right, last.y, "", end)):
        sign = -1 if anchor else 1
        at = x + sign * 2.4
        yield _path(polyline([(at - 1.3, y - 2.2), (at + 1.3, y - 2.2), (at, y)], closed=True), "thin")
        yield _path(f"{move((x, y))} {line_to((at + sign * 1.6, y))}", "thin")
        beside = at + sign * 2.2
        yield _text(beside, y - 0.2, f"{level.percent}{unit}", f"label-strong {anchor}".strip())
        yield _text(beside, y + 3.0, level.word, f"small-text {anchor}".strip())


def _fall(before: _Tread, after: _Tread, fall: Fall) -> Iterator[str]:
    """The dimension stands over the lower of the two treads, its figure beside it."""
    fell = fall.points > 0
    x = after.left + 1.8 if fell else after.left - 1.8
    upper, lower = sorted((before.y, after.y))
    if upper == lower:
        return
    yield _path(f"{move((x, upper))} {line_to((x, lower))}", "dim")
    for y in (upper, lower):
        tick = f"{move((x - TICK_MM, y + TICK_MM))} {line_to((x + TICK_MM, y - TICK_MM))}"
        yield _path(tick, "red" if fell else "dim-tick")
    figure = str(abs(fall.points)) if fell else f"+{abs(fall.points)}"
    if fell:
        middle = (upper + lower) / 2 + SIZES_MM["red-text"] / 3
        yield _text(x + 1.5, min(middle, lower - 1.0), figure, "red-text")
    else:
        yield _text(after.left + 0.6, upper - 1.0, figure, "dim-text")


def _words_below(sheet: _Sheet, tread: _Tread, fall: Fall) -> Iterator[str]:
    room = tread.right - tread.left - 0.8
    yield _text(tread.left, sheet.base + 4.2, fitted(fall.name, "small-text", room), "small-text")
    if fall.amount and text_width(fall.amount, "dim-text") <= room:
        yield _text(tread.left, sheet.base + 8.0, fall.amount, "dim-text")


def _path(d: str, css: str) -> str:
    return element("path", {"class": css, "d": d})


def _text(x: float, y: float, text: str, css: str) -> str:
    return element("text", {"x": x, "y": y, "class": css}, escaped(text))
