"""What keeps a piece made to order from being released: dimensions nobody stands for yet.

A custom piece is made to the dimensions that feed it. While one of them is only assumed, or nobody has said how it
is known, its line is not released to order.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from typing import Any

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import Angle, Length, entries_of
from catalog.core.materials.specs import Material
from jobs.core.measure.bending import overridden, override_of
from jobs.core.measure.brought_in import is_open, words_of
from jobs.core.measure.dimension_status import DimensionStatus, HowKnown, MarkedDimension
from jobs.core.measure.findings import Finding, Override
from jobs.core.measure.survey import ArcPiece, ChordRise, HeightProfile, Piece, PointsOf
from jobs.core.measure.wall_spec import AT_THE_CEILING, FaceBuild, TrimRun, WallSpec

_WORDS = {
    "arc": "length along the arc",
    "arch_rise": "rise of the arch",
    "centre_at": "middle from the start",
    "points": "its three points",
    "turned": "angle turned in all",
}
UNREAD: tuple[HowKnown, ...] = ("assumed", "fitted")
"""How a dimension is known that nobody has read."""
_SOURCE = "Own rule: what cannot be returned is made to dimensions somebody stands for"


@dataclass(frozen=True)
class Dimension:
    """One figure of a wall that somebody read or assumed.

    place: in the wall's document, such as "pieces[0].rise". words: for people. figures: as given, mm or rad.
    """

    place: str
    words: str
    figures: tuple[float, ...]

    @property
    def leaf(self) -> str:
        """Its name without its place, such as "rise"."""
        return self.place.rpartition(".")[2].partition("[")[0]


@dataclass(frozen=True)
class Hold:
    """What keeps one run of trim from being released to order, on account of one dimension.

    line: key of the run, "wall/trim-n". run: its name. material: code of the profile. dimension: by its place. words:
    the dimension for people. finding: "gap" unmarked, "decide" assumed, "caution" once a named person released it.
    """

    line: str
    run: str
    material: str
    dimension: str
    words: str
    finding: Finding

    @property
    def is_open(self) -> bool:
        return self.finding.weight != "caution"


def every_dimension(wall: WallSpec) -> tuple[Dimension, ...]:
    """Every dimension of a wall with its figures: of the pieces, then heights, then openings.

    Args:
        wall: as measured.

    Returns:
        The dimensions in that order.

    Raises:
        nothing.

    >>> from jobs.core.measure.wall_spec import FaceBuild
    >>> from jobs.core.measure.survey import HeightProfile, StraightPiece
    >>> bare = FaceBuild(())
    >>> wall = WallSpec("w", "Wall", "centre", (StraightPiece(1000.0),), HeightProfile(((0.0, 2400.0),)), "T", "S",
    ...     bare, bare)
    >>> [(one.place, one.words, one.figures) for one in every_dimension(wall)]
    [('pieces[0].length', 'piece 1, length', (1000.0,)), ('height', 'height', (2400.0,))]
    """
    return (*_of_pieces(wall), *_of_heights(wall), *_of_openings(wall))


def dimensions_of(wall: WallSpec) -> tuple[str, ...]:
    """Every dimension of a wall by its place in the wall's document; see `every_dimension`.

    Args:
        wall: as measured.

    Returns:
        Figures of the pieces, then heights, then openings.

    Raises:
        nothing.

    >>> from jobs.core.measure.wall_spec import FaceBuild
    >>> from jobs.core.measure.survey import HeightProfile, StraightPiece
    >>> bare = FaceBuild(())
    >>> wall = WallSpec("w", "Wall", "centre", (StraightPiece(1000.0),), HeightProfile(((0.0, 2400.0),)), "T", "S",
    ...     bare, bare)
    >>> dimensions_of(wall)
    ('pieces[0].length', 'height')
    """
    return tuple(dimension.place for dimension in every_dimension(wall))


def dimensions_feeding(wall: WallSpec, run: TrimRun) -> tuple[str, ...]:
    """The dimensions a run of trim is made to.

    Args:
        wall: the wall it runs on. run: the trim.

    Returns:
        Every figure of the pieces, and the openings; with the heights as well for trim that follows the ceiling.

    Raises:
        nothing.

    Source: own rule: an opening may cut any run, so all of them count.

    >>> from jobs.core.measure.wall_spec import FaceBuild
    >>> from jobs.core.measure.survey import HeightProfile
    >>> bare = FaceBuild(())
    >>> wall = WallSpec("w", "Wall", "centre", (ArcPiece(ChordRise(1000.0, 50.0), "left"),),
    ...     HeightProfile(((0.0, 2400.0),)), "T", "S", bare, bare)
    >>> dimensions_feeding(wall, TrimRun("Base", "left", "base", "BASE"))
    ('pieces[0].chord', 'pieces[0].rise')
    """
    heights = _of_heights(wall) if run.position in AT_THE_CEILING else ()
    return tuple(dimension.place for dimension in (*_of_pieces(wall), *heights, *_of_openings(wall)))


def holds_on_release(
    line: str,
    feeding: Sequence[str],
    marks: Iterable[MarkedDimension],
    *,
    custom: bool,
    words: Mapping[str, str] | None = None,
) -> tuple[Finding, ...]:
    """What keeps a line from being released to order on account of how its dimensions are known.

    Args:
        line: key of the line, such as "screen/trim-1". feeding: the dimensions it is made to. marks: of the wall; the
            last of a dimension counts. custom: whether it is made to order and cannot be returned. words: a dimension
            for people, by its place; without them its place is said.

    Returns:
        A finding for each dimension assumed or worked out from offsets, which nobody stands for ("decide": confirm it,
        or a named person releases it), marked in a job file alone ("decide": somebody here confirms it) or not marked
        ("gap"); none for a stocked line.

    Raises:
        nothing.

    Source: own rule.

    >>> from datetime import date
    >>> assumed = MarkedDimension("pieces[0].rise", DimensionStatus("assumed", "Ines", date(2026, 11, 2)))
    >>> [hold.weight for hold in holds_on_release("w/trim-1", ["pieces[0].rise"], [assumed], custom=True)]
    ['decide']
    """
    if not custom:
        return ()
    known: Mapping[str, DimensionStatus] = {entry.dimension: entry.mark for entry in marks}
    holds = []
    for dimension in feeding:
        mark = known.get(dimension)
        key = f"{line}/release/{dimension}"
        text = (words or {}).get(dimension, dimension)
        if mark is None:
            message = f"{text[:1].upper()}{text[1:]} is not measured or confirmed. Mark it before this is ordered."
            holds.append(Finding(key, "gap", message, _SOURCE))
        elif mark.how in UNREAD:
            message = (
                f"{text[:1].upper()}{text[1:]} is only {mark.words} ({mark.by}, {day_words(mark.on)}). This is made to "
                "it: confirm it before the order, or release it with a reason."
            )
            holds.append(Finding(key, "decide", message, _SOURCE))
        elif is_open(mark.brought_in):
            who = f"{mark.by} on {day_words(mark.on)}{words_of(mark.brought_in)}"
            message = (
                f"{text[:1].upper()}{text[1:]}, {mark.how} by {who}: somebody here confirms it before this is ordered."
            )
            holds.append(Finding(key, "decide", message, _SOURCE))
    return tuple(holds)


def holds_on(wall: WallSpec, materials: Mapping[str, Material]) -> tuple[Hold, ...]:
    """What keeps the trim of a wall from being released to order.

    Args:
        wall: with its trim, its marks and what was decided by name. materials: the catalog by code; a profile it does
            not hold is taken as made to order.

    Returns:
        A hold for each run made to order and each dimension it is made to that is assumed, worked out from offsets or
        not marked, in the order of the runs. What a named person released by an override of its key stays, as a
        caution.

    Raises:
        nothing.

    Source: own rule.

    >>> holds_on(_example(), {})[0].finding.sentence
    'Piece 1, chord is not measured or confirmed. Mark it before this is ordered.'
    """
    words = {dimension.place: dimension.words for dimension in every_dimension(wall)}
    held = []
    for number, run in enumerate(wall.trims, start=1):
        material = materials.get(run.material)
        line, custom = f"{wall.key}/trim-{number}", material is None or material.supply != "stocked"
        feeding = dimensions_feeding(wall, run)
        for finding in holds_on_release(line, feeding, wall.taken.marks, custom=custom, words=words):
            place = finding.key.removeprefix(f"{line}/release/")
            decision = override_of(wall.overrides, finding.key)
            if decision is not None:
                finding = released(finding, decision)
            held.append(Hold(line, run.name, run.material, place, words[place], finding))
    return tuple(held)


def released(finding: Finding, decision: Override) -> Finding:
    """What holds a run back, with the decision to release it in spite of that.

    Args:
        finding: what holds it. decision: a named person's.

    Returns:
        A caution; still what it was while the decision came with a job file and nobody here has confirmed it.

    Raises:
        nothing.

    Source: own rule.

    >>> decision = Override("w/trim-1/release/height", "It is a bought length.", "Ines", "2026-11-02")
    >>> released(Finding(decision.key, "decide", "The height is only assumed."), decision).weight
    'caution'
    """
    text = finding.sentence + overridden(decision)
    if is_open(decision.brought_in):
        return replace(finding, sentence=f"{text} Somebody here confirms this first.")
    return replace(finding, weight="caution", sentence=text)


def _example() -> WallSpec:
    bare, arc = FaceBuild(()), (ArcPiece(ChordRise(1000.0, 50.0), "left"),)
    base = TrimRun("Base", "left", "base", "BASE", "pre_curved")
    return WallSpec("w", "Wall", "centre", arc, HeightProfile(((0.0, 2400.0),)), "T", "S", bare, bare, trims=(base,))


def _of_pieces(wall: WallSpec) -> tuple[Dimension, ...]:
    return tuple(
        Dimension(f"pieces[{index}].{name}", f"piece {index + 1}, {_WORDS.get(name, name)}", figures)
        for index, piece in enumerate(wall.pieces)
        for name, figures in _figures_of(piece)
    )


def _figures_of(piece: Piece) -> Iterable[tuple[str, tuple[float, ...]]]:
    if isinstance(piece, ArcPiece):
        yield from _entered(piece.given)
    yield from _entered(piece)


def _entered(value: Any) -> Iterable[tuple[str, tuple[float, ...]]]:
    """The figures of a declared value, by their names in documents; nothing of those a document leaves out."""
    declared: Any = type(value)
    for entry in entries_of(declared):
        figure = getattr(value, entry.field)
        if isinstance(entry.kind, PointsOf):
            yield entry.name, tuple(chain(*figure))
        elif isinstance(entry.kind, Length | Angle) and not (figure is None or (entry.options.left_out and not figure)):
            yield entry.name, (figure,)


def _of_heights(wall: WallSpec) -> tuple[Dimension, ...]:
    stations = wall.heights.stations
    if len(stations) == 1 and stations[0][0] == 0:
        return (Dimension("height", "height", (stations[0][1],)),)
    return tuple(
        Dimension(f"height[{index}].{name}", f"height {index + 1}, {words}", (figure,))
        for index, (along_mm, height_mm) in enumerate(stations)
        for name, words, figure in (("along", "place along the wall", along_mm), ("height", "height", height_mm))
    )


def _of_openings(wall: WallSpec) -> tuple[Dimension, ...]:
    return tuple(
        Dimension(f"openings[{index}].{name}", f"{opening.name}, {_WORDS.get(name, name)}", figures)
        for index, opening in enumerate(wall.openings)
        for name, figures in _entered(opening)
    )
