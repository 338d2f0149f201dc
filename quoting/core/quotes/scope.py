"""The schedule of trim a quote shows, and how a client finds the faces of a wall."""

from __future__ import annotations

from dataclasses import dataclass

from catalog.core.ground.declared import View
from catalog.core.materials.catalog_data import Catalog
from jobs.core.measure.curve import Curve, Face
from jobs.core.measure.wall_spec import ON_TOP, TrimRun
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.core.trim.trim import TrimPlan


@dataclass(frozen=True)
class TrimBend(View):
    """How a run of trim goes along one piece of a wall.

    side: concave, convex, straight or template. radius_mm: at the back of the piece, > 0, on the finished face; None
    on a straight and to a template.
    """

    side: str
    radius_mm: float | None


@dataclass(frozen=True)
class TrimScope(View):
    """One row of the schedule of trim: on which wall and face, the profile, concave or convex, radii and length.

    radius_mm: at the back of the piece, on the finished face, the tightest along the run; None on a straight run.
    bends: every piece of the wall the run follows, in walking order.
    """

    wall: str
    face: str
    profile: str
    curve: str
    radius_mm: float | None
    length_mm: float
    note: str
    bends: tuple[TrimBend, ...] = ()


def side_words(curve: Curve, face: Face) -> str:
    """The face as a client can find it: by its curve when all arcs turn one way, else by the walk."""
    turns = {piece.turn for piece in curve.pieces if piece.is_arc}
    if len(turns) == 1:
        left_is_concave = turns == {1}
        return "Concave side" if (face == "left") == left_is_concave else "Convex side"
    return f"{face.capitalize()} side"


def profile_name(run: TrimRun, book: Catalog) -> str:
    return book.materials[run.material].name if run.material in book.materials else run.material


def trim_rows(wall: WallWorkUp, book: Catalog) -> list[TrimScope]:
    """The rows of a wall in the schedule of trim, one for each run.

    wall: worked up. book: the catalog, for the names of profiles. Returns the rows in the wall's order, lengths
    and radii in mm. Source: own convention; the radius is that of the back of the piece.
    """
    rows = []
    for plan in wall.trims:
        arcs = [arc for arc in plan.arcs if arc.radius_mm > 0]
        tightest = min(arcs, key=lambda arc: arc.radius_mm) if arcs else None
        sides = sorted({str(arc.side) for arc in plan.arcs if arc.radius_mm > 0 or arc.side == "template"})
        rows.append(
            TrimScope(
                wall.spec.name,
                "Free top" if plan.run.position == ON_TOP else side_words(wall.curve, plan.run.face),
                profile_name(plan.run, book),
                " and ".join(sides) if sides else "straight",
                tightest.radius_mm if tightest else None,
                plan.net_mm,
                _trim_note(plan, profile_name(plan.run, book)),
                _bends(plan, wall.curve),
            )
        )
    return rows


def _bends(plan: TrimPlan, curve: Curve) -> tuple[TrimBend, ...]:
    arcs = {arc.piece_index: arc for arc in plan.arcs if arc.radius_mm > 0}
    flat = {piece.index: "template" if piece.is_template else "straight" for piece in curve.pieces}
    return tuple(
        TrimBend(str(arcs[place].side), arcs[place].radius_mm) if place in arcs else TrimBend(flat[place], None)
        for place, _ in enumerate(curve.pieces)
    )


def _trim_note(plan: TrimPlan, profile: str) -> str:
    notes = {
        "stock": "",
        "bendable": "bendable profile",
        "pre_curved": "made to the curve",
        "template": "made to a template",
    }
    grade = f"{plan.run.grade} grade" if plan.run.grade and "grade" not in profile.lower() else ""
    parts = [notes[plan.run.form], grade]
    return ", ".join(part for part in parts if part)
