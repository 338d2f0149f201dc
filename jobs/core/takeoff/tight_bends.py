"""What of a wall is bent too tight, and every way out of it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

from catalog.core.materials.catalog_data import Catalog
from jobs.core.measure.bending import Bend
from jobs.core.measure.curve import FACES
from jobs.core.measure.findings import Override
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.core.takeoff.ways_out import WayOut, board_ways, part_of, profile_ways, rise_way

CORNER = "A curved corner, ordered and counted apart."
TIGHT = ("fails", "not_permitted")


@dataclass(frozen=True)
class Tight:
    """The boards of a face, the track or a run of trim on one arc, bent tighter than the catalog lets them.

    part: "left", "right", "track" or "trim-n". bends: that fail there. ways: nearest to what is built first.
    """

    part: str
    bends: tuple[Bend, ...]
    ways: tuple[WayOut, ...]

    @property
    def worst(self) -> Bend:
        """The bend with the most to seek; one that is not permitted at all before all others."""
        return max(self.bends, key=_to_seek_mm)


def tight_bends(wall: WallWorkUp, book: Catalog, on_day: date) -> tuple[Tight, ...]:
    """What of a wall is too tight, each with every way out the catalog knows.

    Args:
        wall: worked up. book: the catalog. on_day: whose prices hold.

    Returns:
        One for each face, the track or run of trim and each arc, in the order of the checks. Under a way the bends
        pass, and nothing else of the wall fails or lacks a limit that did not before. Boards that pass on every arc
        of the face come alone; only where none does, those that pass on this one. A curved corner is offered where no
        board follows the arc.

    Raises:
        nothing.

    Source: limits as the catalog states; that two thin layers are hung, never one alone, is common practice.
    """
    places: dict[tuple[str, int], list[Bend]] = {}
    for bend in wall.bends:
        if bend.verdict in TIGHT:
            places.setdefault((part_of(bend), bend.piece_index), []).append(bend)
    boards = {part: board_ways(wall, part, book) for part in {part for part, _ in places} if part in FACES}
    result = []
    for (part, at), bends in places.items():
        here = _boards_at(boards[part], at, wall, part) if part in FACES else ()
        result.append(Tight(part, tuple(bends), (*here, *_others(Tight(part, tuple(bends), here), wall, book, on_day))))
    return tuple(result)


def _boards_at(boards: list[tuple[WayOut, frozenset[int]]], at: int, wall: WallWorkUp, part: str) -> tuple[WayOut, ...]:
    mine = [bend for bend in wall.bends if part_of(bend) == part and bend.radius_mm]
    everywhere = {bend.piece_index for bend in mine}
    here = everywhere - {bend.piece_index for bend in mine if bend.verdict in TIGHT} | {at}
    whole = tuple(way for way, passes in boards if passes >= everywhere)
    return whole or tuple(way for way, passes in boards if passes >= here)


def _others(tight: Tight, wall: WallWorkUp, book: Catalog, on_day: date) -> Iterator[WayOut]:
    if tight.part.startswith("trim-"):
        yield from profile_ways(wall, int(tight.part.removeprefix("trim-")), book, on_day)
    rise = rise_way(wall, tight.worst, book)
    if rise is not None:
        yield rise
    if tight.part in FACES and not tight.ways:
        key = f"{tight.part}/piece-{tight.worst.piece_index + 1}/corner"
        yield WayOut(key, "corner", "Curved corner", None, "", None, wall.spec, CORNER)


def way_named(wall: WallWorkUp, book: Catalog, on_day: date, key: str) -> tuple[Tight, WayOut] | None:
    """A way by its key, with what it is a way out of; None when there is none."""
    pairs = ((tight, way) for tight in tight_bends(wall, book, on_day) for way in tight.ways)
    return next((pair for pair in pairs if pair[1].key == key), None)


def wall_by_way(tight: Tight, way: WayOut, by: str, on: date) -> WallSpec:
    """The wall built that way; a curved corner is a decision about each bend, in the name of who takes it."""
    if not way.reason:
        return way.wall
    mine = {bend.key for bend in tight.bends}
    others = tuple(override for override in way.wall.overrides if override.key not in mine)
    decided = tuple(Override(bend.key, way.reason, by, on.isoformat(), original=bend.radius_mm) for bend in tight.bends)
    return replace(way.wall, overrides=(*others, *decided))


def _to_seek_mm(bend: Bend) -> float:
    return math.inf if bend.least_radius_mm is None else bend.least_radius_mm - bend.radius_mm
