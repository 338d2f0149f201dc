"""What is to be ordered, in a few words: of a name what it is, and of several who they are ordered from."""

from __future__ import annotations

from collections.abc import Sequence

MAX_NAMED = 2


def short_name(name: str) -> str:
    """What a material is, without its sizes: a name up to its first comma or bracket.

    Raises nothing. Source: own wording.

    >>> short_name("Base, bendable polymer, 5-1/4 in"), short_name("GWB screw (fine)")
    ('base', 'GWB screw')
    """
    result = name.partition(",")[0].partition(" (")[0].strip()
    return result if result[1:2].isupper() else result[:1].lower() + result[1:]


def listed(names: Sequence[str], most: int = MAX_NAMED) -> str:
    """The first names, each once, and how many more there are.

    Raises nothing. Source: own wording.

    >>> listed(["track", "board", "track"]), listed(["track", "board", "studs", "screws"])
    ('track and board', 'track, board and 2 more')
    """
    once = list(dict.fromkeys(names))
    shown, more = (once, 0) if len(once) <= most + 1 else (once[:most], len(once) - most)
    if more:
        return f"{', '.join(shown)} and {more} more"
    return " and ".join([", ".join(shown[:-1]), shown[-1]] if len(shown) > 1 else shown)


def decide_words(name: str) -> str:
    """Raises nothing. Source: own wording.

    >>> decide_words("Base, bendable polymer, 5-1/4 in")
    'Have the base signed off'
    """
    return f"Have the {short_name(name)} signed off"


def order_words(names: Sequence[str], supplier: str, *, rest: bool = False) -> str:
    """Verb and things. rest: some of them is on order already.

    Raises nothing. Source: own wording.

    >>> order_words(["Curvable track, 3-5/8 in", "Gypsum board, 1/4 in"], "Tollard Supply")
    'Order curvable track and gypsum board from Tollard Supply'
    """
    what = listed([short_name(name) for name in names])
    return f"Order {'the rest of ' if rest else ''}{what}{f' from {supplier}' if supplier else ''}"
