"""The life of a job as a chain of dimensions: a struck tick a station, bold as far as the job has come."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from catalog.drawings.lettering import width_at
from catalog.drawings.svg import DrawingInputError, words
from jobs.drawings.charts.on_screen import SIZES_PX, WIDTHS_PX, Screen, Width, room_of

State = Literal["passed", "lacks", "current", "ahead", "stopped"]
LINE_Y, NAME_Y, DAY_Y, HEIGHT = 38.0, 22.0, 63.0, 68.0
ON_A_PHONE = 4
GAP_PX = 8.0
SHORT_WIDTH, SHORT_HEIGHT = 160.0, 24.0


@dataclass(frozen=True)
class Station:
    """A place in the life of a job.

    day: as people say it ("Tue 24 Nov", ahead "by Thu 3 Dec"), or nothing. state: "lacks" is passed with something
    missing, "stopped" where the chain ends for good. note: what the job waits for there ("4 days with the client"),
    what is missing, or why the chain stops.
    """

    name: str
    day: str
    state: State
    note: str = ""


def job_chain_svg(stations: Sequence[Station], width: Width = "desk") -> str:
    """The chain with its words; on a phone from where the job stands on, four stations.

    Raises DrawingInputError unless exactly one station is current or stopped.
    """
    shown, at = _shown(stations, width)
    screen = Screen(WIDTHS_PX[width], HEIGHT)
    places = _places(screen.width, len(shown), at, shown[at].state == "stopped")
    _line(screen, shown, places, at)
    for index, (station, x) in enumerate(zip(shown, places, strict=True)):
        _station(screen, station, x, _end(screen, places, index) - x - GAP_PX, short=width == "phone")
    if shown[at].state == "stopped":
        _stop(screen, shown[at], places[at])
    elif shown[at].note:
        _note(screen, shown[at], places[at], _end(screen, places, at))
    return screen.finished(described(stations), "across")


def job_chain_short_svg(stations: Sequence[Station]) -> str:
    """The chain for a row of a list: ticks alone."""
    at = _standing(stations)
    stopped = stations[at].state == "stopped"
    screen = Screen(SHORT_WIDTH, SHORT_HEIGHT)
    step = (SHORT_WIDTH - 20) / max(1, len(stations) - 1)
    y = SHORT_HEIGHT / 2
    places = [8 + step * index for index in range(at + 1 if stopped else len(stations))]
    screen.line((places[at], y), (places[-1], y), "ahead")
    screen.line((places[0], y), (places[at] + (10 if stopped else 0), y), "done")
    for station, x in zip(stations, places, strict=False):
        screen.tick((x, y), 6.0 if station.state in ("current", "stopped") else 4.0, _css(station))
    if stopped:
        screen.line((places[at] + 10, y - 8), (places[at] + 10, y + 8), "done")
    return screen.finished(described(stations))


def described(stations: Sequence[Station]) -> str:
    """The chain in one sentence.

    >>> described([Station("Priced", "Fri 20 Nov", "passed"), Station("Sent", "Tue 24 Nov", "current", "4 days out"),
    ...            Station("Signed", "by Thu 3 Dec", "ahead")])
    'Sent Tue 24 Nov, 4 days out. Before: Priced Fri 20 Nov. Next: Signed by Thu 3 Dec.'
    """
    at = _standing(stations)
    sentences = [_words_of(stations[at]) + (" (stopped)." if stations[at].state == "stopped" else ".")]
    if at:
        sentences.append(f"Before: {', '.join(map(_words_of, stations[:at]))}.")
    if stations[at + 1 :] and stations[at].state != "stopped":
        sentences.append(f"Next: {', '.join(map(_words_of, stations[at + 1 :]))}.")
    return " ".join(sentences)


def _words_of(station: Station) -> str:
    named = f"{station.name} {station.day}".strip()
    return f"{named}, {station.note}" if station.note else named


def _standing(stations: Sequence[Station]) -> int:
    numbers = [index for index, station in enumerate(stations) if station.state in ("current", "stopped")]
    if len(numbers) != 1:
        raise DrawingInputError(f"stations: a job is at one of its stations; {len(numbers)} were given")
    return numbers[0]


def _shown(stations: Sequence[Station], width: Width) -> tuple[tuple[Station, ...], int]:
    """What is drawn, and which of it the job stands at: nothing after a stop, four on a phone."""
    at = _standing(stations)
    drawn = tuple(stations[: at + 1] if stations[at].state == "stopped" else stations)
    if width == "desk":
        return drawn, at
    first = max(0, min(at, len(drawn) - (ON_A_PHONE if drawn[at].state != "stopped" else 2)))
    return drawn[first : first + ON_A_PHONE], at - first


def _end(screen: Screen, places: Sequence[float], index: int) -> float:
    return places[index + 1] if index + 1 < len(places) else screen.width


def _places(width: float, count: int, at: int, stopped: bool) -> list[float]:
    """Where the ticks stand; the room after the current one holds what the job waits for."""
    extra = 1.0 if width > 600 or stopped else 0.25
    step = min((width - 8) / (count + extra), 130.0)
    return [8 + step * (index + (extra if index > at else 0)) for index in range(count)]


def _line(screen: Screen, shown: Sequence[Station], places: Sequence[float], at: int) -> None:
    if at + 1 < len(shown):
        screen.line((places[at], LINE_Y), (screen.width, LINE_Y), "ahead")
    screen.line((2 if at else places[0], LINE_Y), (places[at], LINE_Y), "done")


def _css(station: Station) -> str:
    return {"ahead": "ahead", "lacks": "lacking"}.get(station.state, "done")


def _station(screen: Screen, station: Station, x: float, room: float, *, short: bool) -> None:
    ahead = station.state == "ahead"
    if ahead:
        screen.line((x, LINE_Y - 8), (x, LINE_Y + 9), "ahead")
    screen.tick((x, LINE_Y), 5.5, _css(station))
    css = "now" if station.state in ("current", "stopped") else "name soft" if ahead else "name"
    screen.say(x - 6, NAME_Y, _within(station.name, css, room), css)
    # On a phone "by" is left out; a day without room is in the title.
    day = words(station.day).removeprefix("by " if short else "")
    if width_at(day, SIZES_PX["days"]) <= room + 6:
        screen.say(x - 6, DAY_Y, day, "days soft")


def _within(text: str, css: str, room: float) -> str:
    text, size = words(text), SIZES_PX[css.split()[0]]
    while width_at(text, size) > room and len(text) > 1:
        text = text.rstrip("…")[:-1] + "…"
    return text


def _note(screen: Screen, station: Station, x: float, end: float) -> None:
    """What the job waits for, on a mark between two stations, clear of the name, which is set large."""
    clear = room_of(x - 6, NAME_Y, station.name, "now").right + 14
    left = max(clear, x + 75) if end - x > 200 else min(clear, end - 16)
    screen.pointer((left, LINE_Y), "mark", 6.0, 12.0)
    if width_at(words(station.note), SIZES_PX["name"]) <= end - GAP_PX - left - 12:
        screen.say(left + 12, LINE_Y - 6, words(station.note), "name")


def _stop(screen: Screen, station: Station, x: float) -> None:
    """The stroke where the chain stops, and why."""
    screen.line((x, LINE_Y), (x + 30, LINE_Y), "done")
    screen.line((x + 30, LINE_Y - 12), (x + 30, LINE_Y + 12), "done")
    if station.note:
        screen.say(x + 42, LINE_Y + 5, _within(station.note, "strong", screen.width - x - 44), "strong")
