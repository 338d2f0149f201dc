"""What a wall measured again moves: its radii, whether pieces ordered at the old ones still fit, and who must know.

Pieces are made to the radius at their back. How far each may be flexed is the profile's own figure: by so much tighter,
by so much easier. Nobody's figure is a gap, and never taken as a fit.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Literal

from catalog.core.ground.declared import As, View
from catalog.core.ground.units import TOLERANCE_MM, System, format_measure
from catalog.core.materials.specs import Material
from jobs.core.measure.curve import CurvePiece, resolve_line
from jobs.core.measure.survey import Line
from jobs.core.ordering.chosen_pieces import MovedRadius, moved_radii
from jobs.core.ordering.order_lines import PLACES, OrderStatement, StatedRun, statement_of
from jobs.core.ordering.release import STEP_WORDS, Step
from jobs.core.takeoff.wall_work_up import WallWorkUp

Where = Literal["draft", "on_order", "on_site"]
PieceFit = Literal["fits", "too_far", "not_known", "gone"]
WHERE_WORDS: Mapping[Where, str] = {"draft": "on the draft", "on_order": "on order", "on_site": "on site from order"}


@dataclass(frozen=True)
class OrderedPieces:
    """Pieces on one line of an order. order: its number. where: they are now. statement: as they were ordered."""

    order: str
    where: Where
    statement: OrderStatement


@dataclass(frozen=True)
class RadiusMove(View):
    """The radius of one piece of a wall before and after, mm on `line`; None where it is no arc. piece: from 1."""

    piece: int
    line: Line
    was_mm: Annotated[float | None, As(name="quoted")]
    now_mm: Annotated[float | None, As(name="confirmed")]


@dataclass(frozen=True)
class OrderedFit:
    """Ordered pieces whose radius the wall has no more.

    order, where: as of `OrderedPieces`. moved: the radius they are made to and that of the wall. flex_mm: how far they
    may be flexed the way that is asked, >= 0, None where nobody has said.
    """

    order: str
    where: Where
    moved: MovedRadius
    flex_mm: float | None

    @property
    def by_mm(self) -> float | None:
        """How much easier the wall is than the pieces, mm, negative when it is tighter; None without such a piece."""
        return None if self.moved.now_mm is None else self.moved.now_mm - self.moved.was_mm

    @property
    def fit(self) -> PieceFit:
        if self.by_mm is None:
            return "gone"
        if self.flex_mm is None:
            return "not_known"
        return "fits" if abs(self.by_mm) <= self.flex_mm + TOLERANCE_MM else "too_far"

    def words(self, system: System) -> str:
        """What the pieces are made to, what the wall asks now, and whether they flex so far."""
        radius = self.moved
        message = f"{radius.run}, piece {radius.piece}, {radius.side}, {WHERE_WORDS[self.where]} {self.order}"
        made = format_measure(radius.was_mm, system)
        if radius.now_mm is None or self.by_mm is None:
            return f"{message}: made to {made}, and the wall has no such piece now."
        off, way = format_measure(abs(self.by_mm), system), "tighter" if self.by_mm < 0 else "easier"
        message = f"{message}: made to {made}, the wall now has {format_measure(radius.now_mm, system)}, {off} {way}."
        if self.flex_mm is None:
            return f"{message} How far it flexes {way} is not stated."
        flex = f"It flexes {format_measure(self.flex_mm, system)} {way}"
        if self.fit == "fits":
            return f"{message} {flex}: it fits."
        return f"{message} {flex}: {format_measure(abs(self.by_mm) - self.flex_mm, system)} too little."


@dataclass(frozen=True)
class ToInform(View):
    """Somebody who must know, by the part played in the firm, and what is to be done about it."""

    step: Annotated[Step, As(name="who")]
    sentence: str

    @property
    def who(self) -> str:
        return STEP_WORDS[self.step]


@dataclass(frozen=True)
class WallMoves:
    """What moves with a wall, the pieces that do not fit first."""

    radii: tuple[RadiusMove, ...]
    ordered: tuple[OrderedFit, ...]
    inform: tuple[ToInform, ...]

    @property
    def misfits(self) -> tuple[OrderedFit, ...]:
        """Pieces that do not fit, or of which nobody knows.

        >>> WallMoves((), (), ()).misfits
        ()
        """
        return tuple(fit for fit in self.ordered if fit.fit != "fits")


def wall_moves(
    before: WallWorkUp,
    after: WallWorkUp,
    ordered: Sequence[OrderedPieces],
    materials: Mapping[str, Material],
    *,
    quantities_move: bool,
) -> WallMoves:
    """Say what moves when a wall becomes another.

    Args:
        before, after: the wall as it was and as it was measured again, worked up.
        ordered: pieces of its job on drafts, on order and on site; those of other walls are passed over.
        materials: of the catalog, by code. quantities_move: whether the takeoff of a quoted wall moves too.

    Returns:
        The radii that move, on the line each piece is measured on; the ordered pieces made to a radius the wall has no
        more, held against what their profile flexes; and who must know.

    Raises:
        Nothing.

    Source: trade rules on trim (a made piece follows the radius at its back); the rest own rule.
    """
    names = {before.spec.name, after.spec.name}
    fits = sorted(
        (fit for piece in ordered for fit in _fits(piece, names, after, materials)), key=lambda fit: fit.fit == "fits"
    )
    radii = tuple(_radii(before, after))
    inform = tuple(dict.fromkeys(_to_inform(fits, radii, quantities_move)))
    return WallMoves(radii, tuple(fits), inform)


def _radii(before: WallWorkUp, after: WallWorkUp) -> Iterator[RadiusMove]:
    was, now = before.curve.pieces, after.curve.pieces
    for place in range(max(len(was), len(now))):
        old, new = (pieces[place] if place < len(pieces) else None for pieces in (was, now))
        wall, piece = (after, new) if new is not None and new.is_arc else (before, old)
        if piece is None or not piece.is_arc:
            continue
        own = getattr(wall.spec.pieces[place], "measured_on", None)
        line = resolve_line(own or wall.spec.measured_on, piece.turn)
        old_mm, new_mm = _radius(before, old, line), _radius(after, new, line)
        if old_mm != new_mm:
            yield RadiusMove(place + 1, line, old_mm, new_mm)


def _radius(wall: WallWorkUp, piece: CurvePiece | None, line: Line) -> float | None:
    if piece is None or not piece.is_arc:
        return None
    return round(piece.radius_at(wall.curve.offset_mm(line)), PLACES)


def _fits(
    piece: OrderedPieces, names: set[str], after: WallWorkUp, materials: Mapping[str, Material]
) -> Iterator[OrderedFit]:
    """A wall that has a new name keeps its pieces."""
    runs = tuple(replace(run, wall=after.spec.name) for run in piece.statement.runs if run.wall in names)
    material = materials.get(piece.statement.material)
    if not runs or material is None:
        return
    now = statement_of(material, None, (after,))
    yield from ordered_fits(replace(piece, statement=replace(piece.statement, runs=runs)), now, material)


def ordered_fits(piece: OrderedPieces, now: OrderStatement, material: Material) -> Iterator[OrderedFit]:
    """Ordered pieces whose radius the item states no more, each held against what its profile flexes.

    piece: as ordered. now: the item as it stands. material: of the catalog.
    """
    for moved in moved_radii(piece.statement, now):
        tighter = moved.now_mm is not None and moved.now_mm < moved.was_mm
        flex = material.trim_limit("flex_inside_mm" if tighter else "flex_outside_mm")
        yield OrderedFit(piece.order, piece.where, moved, flex.number if flex else None)


def under_new_names(statement: OrderStatement, now: OrderStatement) -> OrderStatement:
    """The same pieces where their wall has a new name: of a run that is alone with its name the wall is known by it.

    statement: as ordered. now: of the whole item as it stands. Source: own rule.
    """
    present, before = {(run.wall, run.run) for run in now.runs}, {(run.wall, run.run) for run in statement.runs}
    free = [key for key in present if key not in before]

    def renamed(run: StatedRun) -> StatedRun:
        walls = [wall for wall, name in free if name == run.run]
        return run if (run.wall, run.run) in present or len(walls) != 1 else replace(run, wall=walls[0])

    return replace(statement, runs=tuple(map(renamed, statement.runs)))


def _to_inform(fits: Sequence[OrderedFit], radii: Sequence[RadiusMove], quantities_move: bool) -> Iterator[ToInform]:
    for fit in fits:
        if fit.where == "draft":
            yield ToInform("office", f"Update the draft {fit.order}.")
        elif fit.fit == "not_known":
            yield ToInform("office", f"Ask the supplier of {fit.order} how far its pieces flex.")
        elif fit.fit != "fits" and fit.where == "on_order":
            yield ToInform("office", f"Ask the supplier of {fit.order} whether the pieces can still be changed.")
        elif fit.fit != "fits":
            yield ToInform("office", f"Order again what does not fit of {fit.order}.")
    if quantities_move:
        yield ToInform("estimator", "Quantities move: say whether the client gets a change note.")
    if radii:
        yield ToInform("lead", "Set out by the new radius, from a new site sheet.")
