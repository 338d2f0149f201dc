"""What board would follow an arc where the one chosen does not: damp, across the sheet, two thin layers, another board.

Every limit is the catalog's own, with how sure it is; where none is entered, nothing is offered.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Annotated, get_args

from catalog.core.ground.declared import As, View
from catalog.core.ground.units import TOLERANCE_MM, System, format_measure
from catalog.core.materials.specs import Fact, Material, Sureness
from jobs.core.measure.wall_spec import Direction, Moisture

THIN_LAYER_MM = 6.35
THIN_LAYER_SOURCE = "Common practice: two 1/4 in layers on a curve, never one alone"
SURE_WORDS: dict[Sureness, str] = {
    "published": "published",
    "practice": "common practice",
    "memory": "unverified",
    "maker": "the maker's figure",
    "firm": "the firm's figure",
}
MAX_TOLD = 3


@dataclass(frozen=True)
class BoardWay(View):
    """A way to hang board that passes at an arc.

    board, name: of the material. layers: 2 of a thin board that is not the one chosen, else 1. least_radius_mm: the
    limit it keeps; sure: of the limit.
    """

    board: str
    name: Annotated[str, As(aside=True)]
    direction: Direction
    moisture: Moisture
    layers: int
    least_radius_mm: float
    sure: Sureness


def limit_of_board(board: Material, direction: Direction, moisture: Moisture) -> Fact | None:
    """The least radius a board is stated to take; None when none is, or it may not be bent so.

    >>> limit_of_board(Material("B", "Board", "board", "stocked", "sqft", "sheet", None), "lengthwise", "dry") is None
    True
    """
    permitted = board.fact("widthwise_dry_permitted")
    if direction == "widthwise" and moisture == "dry" and permitted is not None and permitted.number == 0:
        return None
    return board.fact(f"{direction}_{moisture}_least_radius_mm")


def ways_that_pass(
    chosen: Material, boards: Iterable[Material], radius_of: Callable[[float], float]
) -> tuple[BoardWay, ...]:
    """Every way to hang board that passes at one arc, the nearest to what was chosen first.

    Args:
        chosen: the board that does not pass as it was to be bent. boards: of the catalog, other kinds among them.
        radius_of: the tighter radius (mm) of what is hung there in a thickness (mm).

    Returns:
        The chosen board bent another way, then other boards, thick ones first; of each dry before damp and lengthwise
        before widthwise.

    Source: the limits are the catalog's; two thin layers, never one alone, are common practice.

    >>> ways_that_pass(Material("B", "Board", "board", "stocked", "sqft", "sheet", None), (), lambda _: 900.0)
    ()
    """
    known = [
        (fact.number, material)
        for material in boards
        if material.kind == "board" and (fact := material.fact("thickness_mm"))
    ]
    known.sort(key=lambda pair: (pair[1].code != chosen.code, -pair[0], pair[1].code))
    ways = []
    for thick_mm, board in known:
        layers = 2 if board.code != chosen.code and thick_mm <= THIN_LAYER_MM + TOLERANCE_MM else 1
        radius_mm = radius_of(thick_mm * layers)
        for moisture in get_args(Moisture):
            for direction in get_args(Direction):
                limit = limit_of_board(board, direction, moisture)
                if limit is not None and radius_mm >= limit.number - TOLERANCE_MM:
                    way = BoardWay(board.code, board.name, direction, moisture, layers, limit.number, limit.sure)
                    ways.append(way)
    return tuple(ways)


def ways_in_words(
    ways: Iterable[BoardWay], chosen: Material, direction: Direction, moisture: Moisture, system: System
) -> str:
    """The nearest ways in a sentence, one a board; "" where there is none.

    ways: of `ways_that_pass`. chosen, direction, moisture: as it was to be hung.

    >>> damp = BoardWay("B", "Board", "lengthwise", "damp", 1, 762.0, "memory")
    >>> board = Material("B", "Board", "board", "stocked", "sqft", "sheet", None)
    >>> ways_in_words((damp,), board, "lengthwise", "dry", "imperial")
    ' This would pass: Board damp, from R 30.00 in (unverified).'
    """
    nearest: dict[str, BoardWay] = {}
    for way in ways:
        if (way.board, way.direction, way.moisture) != (chosen.code, direction, moisture):
            nearest.setdefault(way.board, way)
    sentences = [_in_words(way, direction, moisture, system) for way in [*nearest.values()][:MAX_TOLD]]
    return f" This would pass: {'; or '.join(sentences)}." if sentences else ""


def _in_words(way: BoardWay, direction: Direction, moisture: Moisture, system: System) -> str:
    what = f"two layers of {way.name}" if way.layers == 2 else way.name
    how: list[str] = [way.direction] if way.direction != direction else []
    how += [way.moisture] if way.moisture != moisture else []
    bent = f" {', '.join(how)}" if how else ""
    least = format_measure(way.least_radius_mm, system)
    return f"{what}{bent}, from R {least} ({SURE_WORDS[way.sure]})"
