"""Keys of checks, lines and dimensions of a wall, in words."""

from __future__ import annotations

import re

from jobs.core.measure.dimension_holds import every_dimension
from jobs.core.measure.wall_spec import WallSpec

_NUMBERED = re.compile(r"(?P<what>layer|piece|opening|trim|joint|reading|kink)-(?P<number>[0-9]+)")
_WORDS = {
    "left": "left face",
    "right": "right face",
    "framing": "",
    "spacing": "stud spacing",
    "links": "links of the track",
    "top": "top edge",
}


def dimension_words(place: str, wall: WallSpec) -> str:
    """A dimension by its place in the wall's document, in words.

    Args:
        place: such as "pieces[0].rise". wall: as measured.

    Returns:
        Such as "piece 1, rise"; for a place the wall no longer has, the words in it.

    Raises:
        nothing.

    >>> from jobs.core.measure.dimension_holds import _example
    >>> dimension_words("pieces[0].rise", _example()), dimension_words("openings[1].width", _example())
    ('piece 1, rise', 'opening 2, width')
    """
    known = next((dimension.words for dimension in every_dimension(wall) if dimension.place == place), None)
    return known or place_words(place)


def place_words(place: str) -> str:
    """A place in a wall's document in words, without the wall.

    >>> place_words("openings[0].centre_at"), place_words("height")
    ('opening 1, centre at', 'height')
    """
    numbered = re.sub(r"s?\[([0-9]+)\]", lambda match: f" {int(match[1]) + 1}", place)
    return numbered.replace(".", ", ").replace("_", " ")


def key_words(key: str, wall: WallSpec | None = None) -> str:
    """The key of a check or of a line of a wall, in words.

    Args:
        key: such as "screen/left/layer-1/piece-2/bend". wall: the wall it is of; None where only its key is known.

    Returns:
        Such as "left face, layer 1, piece 2, bend".

    Raises:
        nothing.

    >>> from jobs.core.measure.dimension_holds import _example
    >>> key_words("w/left/layer-1/piece-1/bend", _example()), key_words("w/trim-1/release/height", _example())
    ('left face, layer 1, piece 1, bend', 'Base, release, height')
    """
    start, _, rest = key.partition("/")
    parts = (rest if rest and (wall is None or start == wall.key) else key).split("/")
    if "release" in parts[:-1]:
        parts[-1] = dimension_words(parts[-1], wall) if wall else place_words(parts[-1])
    return ", ".join(words for words in (_part(part, wall) for part in parts) if words)


def _part(part: str, wall: WallSpec | None) -> str:
    numbered = _NUMBERED.fullmatch(part)
    if numbered is None:
        return _WORDS.get(part, part.replace("-", " ").replace("_", " ") if part.islower() else part)
    what, number = numbered["what"], int(numbered["number"])
    names = [trim.name for trim in wall.trims] if wall and what == "trim" else []
    names = [opening.name for opening in wall.openings] if wall and what == "opening" else names
    return names[number - 1] if 0 < number <= len(names) else f"{what} {number}"
