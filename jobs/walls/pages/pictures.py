"""The drawings of a wall's page, made once: a wall that has not changed since is not drawn again by this process."""

from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from catalog.core.materials.catalog_data import Catalog
from catalog.drawings.lettering import DESK_MM, PHONE_MM
from catalog.drawings.svg import DrawingInputError, Redrawn
from jobs.core.framing.framing import Framing
from jobs.core.measure.curve import FACES, Face
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.drawings.faces.face_lean import face_lean_svg
from jobs.drawings.faces.faces import face_pair_svg
from jobs.drawings.plan.offsets import offsets_lean_svg, offsets_svg
from jobs.drawings.plan.plan import plan_svg
from jobs.drawings.plan.plan_lean import plan_lean_svg
from jobs.drawings.plan.plan_marks import PlanMark
from jobs.drawings.standing import standing_svg
from jobs.drawings.worked_up import bands_of, standing_wall
from jobs.walls.pages.decisions import Decision

# By the very values that are drawn: of a wall that has not changed they are the same, and kept here for their ids.
_drawn: OrderedDict[tuple[object, ...], tuple[tuple[object, ...], "Drawn"]] = OrderedDict()
MAX_DRAWN = 128
# The drawing leaves room in one window for what stands under it.
TALLEST_MM, PLAN_MM = 75.0, 60.0


@dataclass(frozen=True)
class Drawn:
    """One view of a wall, or why it cannot be drawn."""

    pictures: tuple[tuple[str, Redrawn], ...] = ()
    cannot: str = ""

    @property
    def scale(self) -> str:
        return next((drawing.wide.scale for _, drawing in self.pictures), "")


def draw(view: str, wall: WallWorkUp, book: Catalog, decisions: Sequence[Decision] = ()) -> Drawn:
    """view: one of VIEWS."""
    marks = tuple(_mark(one) for one in decisions if one.piece is not None) if view == "plan" else ()
    values = (wall.spec, wall.curve, wall.framing, wall.face_plans, wall.trims, wall.baseline, book)
    key = (view, marks, *map(id, values))
    pair = _drawn.get(key)
    if pair is None:
        pair = _drawn[key] = (values, _tried(view, lambda: DRAWERS[view](wall, book, marks)))
        while len(_drawn) > MAX_DRAWN:
            _drawn.popitem(last=False)
    return pair[1]


def _mark(one: Decision) -> PlanMark:
    words = (f"{one.there} here", f"needs {one.needed}") if one.there else ()
    return PlanMark(one.number, one.piece or 0, one.face, words)


def _tried(view: str, make: Callable[[], tuple[tuple[str, Redrawn], ...]]) -> Drawn:
    try:
        return Drawn(make())
    except DrawingInputError as error:
        return Drawn(cannot=f"The {VIEWS[view].lower()} cannot be drawn: {error}.")


def _plan(wall: WallWorkUp, book: Catalog, marks: tuple[PlanMark, ...]) -> tuple[tuple[str, Redrawn], ...]:
    shared = {"title": f"{wall.spec.name}: plan", "system": book.firm.display_units, "framing": _framing(wall)}
    shared["marks"] = marks
    left, right = (_layers(wall, face, book) for face in FACES)
    wide = plan_svg(
        wall.curve,
        left_layers_mm=left,
        right_layers_mm=right,
        width_mm=DESK_MM,
        max_height_mm=PLAN_MM,
        has_foot=False,
        **shared,
    )
    return (("Plan", Redrawn(wide, plan_lean_svg(wall.curve, **shared))),)


def _faces(wall: WallWorkUp, book: Catalog, marks: tuple[PlanMark, ...]) -> tuple[tuple[str, Redrawn], ...]:
    system = book.firm.display_units
    titles = tuple(f"{wall.spec.name}: {face} face, rolled out flat" for face in FACES)
    trims = tuple(bands_of(wall, face, book) for face in FACES)
    boards = tuple(wall.plan_of(face) for face in FACES)
    shared = {"titles": titles, "system": system, "boards": boards, "trims": trims, "width_mm": DESK_MM}
    wide = face_pair_svg(wall.curve, framing=_framing(wall), **shared)
    lean = (
        face_lean_svg(wall.curve, face, title=title, system=system, boards=plan, trims=bands)
        for face, title, plan, bands in zip(FACES, titles, boards, trims, strict=True)
    )
    names = (f"{face.capitalize()} face, rolled out flat" for face in FACES)
    return tuple((name, Redrawn(*pair)) for name, *pair in zip(names, wide, lean, strict=True))


def _offsets(wall: WallWorkUp, book: Catalog, marks: tuple[PlanMark, ...]) -> tuple[tuple[str, Redrawn], ...]:
    if wall.baseline is None:
        return ()
    shared = {"title": f"{wall.spec.name}: offsets from the baseline", "system": book.firm.display_units}
    wide = offsets_svg(wall.baseline, width_mm=DESK_MM, **shared)
    return (("Offsets from the baseline", Redrawn(wide, offsets_lean_svg(wall.baseline, **shared))),)


def _standing(result: WallWorkUp, book: Catalog, marks: tuple[PlanMark, ...]) -> tuple[tuple[str, Redrawn], ...]:
    shared = {"title": f"{result.spec.name}: standing", "system": book.firm.display_units}
    wall, shared["max_height_mm"] = standing_wall(result, book), TALLEST_MM
    return (("Standing", Redrawn(*(standing_svg(wall, width_mm=width, **shared) for width in (DESK_MM, PHONE_MM)))),)


def _framing(wall: WallWorkUp) -> Framing | None:
    return wall.framing if wall.framing.is_complete else None


def _layers(wall: WallWorkUp, face: Face, book: Catalog) -> list[float]:
    facts = [book.materials[layer.board].fact("thickness_mm") for layer in wall.spec.face(face).layers]
    return [fact.number for fact in facts if fact is not None]


DRAWERS = {"plan": _plan, "faces": _faces, "standing": _standing, "offsets": _offsets}
VIEWS = {"plan": "Plan", "faces": "Faces", "standing": "Standing", "offsets": "Offsets"}
