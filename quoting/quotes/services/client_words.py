"""What a client reads of the work, composed in `templates/papers/words` of plain facts, a line a sentence."""

from collections.abc import Iterable
from itertools import groupby
from typing import Any

from django.template.loader import render_to_string

from catalog.core.ground.units import System, format_length
from catalog.core.materials.catalog_data import Catalog
from jobs.core.measure.curve import FACES, CurvePiece
from jobs.core.measure.wall_spec import ON_TOP
from jobs.core.measure.wall_words import height_words
from jobs.core.takeoff.wall_work_up import WallWorkUp
from quoting.core.quotes.scope import profile_name, side_words
from quoting.core.quotes.work_up import WorkUp

Facts = dict[str, Any]


def sentences(name: str, facts: Facts) -> tuple[str, ...]:
    lines = render_to_string(f"papers/words/{name}.txt", facts).splitlines()
    return tuple(line.strip() for line in lines if line.strip())


def wall_sentences(wall: WallWorkUp, book: Catalog) -> tuple[str, ...]:
    spec, curve, system = wall.spec, wall.curve, book.firm.display_units
    bays = sorted({choice.chosen_mm for choice in wall.framing.spacings})
    facts = {
        "length": format_length(curve.centre_length_mm, system),
        "height": height_words(curve, system),
        "is_closed": curve.is_closed,
        "pieces": len(curve.pieces),
        "arcs": [_arc(wall, curve.pieces[0], system)] if len(curve.pieces) == 1 and curve.pieces[0].is_arc else [],
        "depth": format_length(curve.stud_depth_mm, system),
        "bays": [format_length(bay, system) for bay in bays],
        "is_half_wall": spec.is_half_wall,
        "faces": list(_faces(wall, book)),
        "openings": list(_openings(wall, system)),
        "runs": list(_runs(wall, book)),
        "is_insulated": spec.insulated,
    }
    return sentences("wall", facts)


def _arc(wall: WallWorkUp, piece: CurvePiece, system: System) -> Facts:
    curve = wall.curve
    radii = {
        side: format_length(piece.radius_at(curve.offset_mm(curve.line_of(piece, side, "finished"))), system)
        for side in ("concave", "convex")
    }
    return {"hand": "left" if piece.turn > 0 else "right", **radii}


def _faces(wall: WallWorkUp, book: Catalog) -> Iterable[Facts]:
    for face in FACES:
        build = wall.spec.face(face)
        names = [
            book.materials[layer.board].name if layer.board in book.materials else layer.board for layer in build.layers
        ]
        layers = [(len(list(same)), name) for name, same in groupby(names)]
        yield {
            "side": side_words(wall.curve, face),
            "layers": layers,
            "level": build.level,
            "painted": build.painted,
        }


def _openings(wall: WallWorkUp, system: System) -> Iterable[Facts]:
    for opening in (laid.opening for laid in wall.curve.openings):
        yield {
            "name": opening.name,
            "width": format_length(opening.width_mm, system),
            "height": format_length(opening.height_mm, system),
            "sill": "" if opening.reaches_floor else format_length(opening.sill_mm, system),
            "arch": "" if opening.arch_rise_mm is None else format_length(opening.arch_rise_mm, system),
            "is_flat": opening.frame == "flat",
            "casing": opening.casing.faces if opening.casing else "",
        }


def _runs(wall: WallWorkUp, book: Catalog) -> Iterable[Facts]:
    for run in wall.spec.trims:
        side = "Free top of the wall" if run.position == ON_TOP else side_words(wall.curve, run.face)
        profile = profile_name(run, book)
        # Many profiles carry their grade in their name; it is not said twice.
        grade = run.grade if "grade" not in profile.lower() else ""
        yield {"name": run.name, "profile": profile, "grade": grade, "side": f"{side[0].lower()}{side[1:]}"}


def job_facts(work_up: WorkUp) -> Facts:
    """Of all walls: how many, how long and high, what is done to them; how they were measured, what is carried in."""
    book, walls = work_up.read.book, work_up.walls
    system = book.firm.display_units
    builds = [wall.spec.face(face) for wall in walls for face in FACES]
    heights = [mm for wall in walls for mm in (wall.curve.least_height_mm, wall.curve.greatest_height_mm)]
    low, high = (format_length(mm, system) for mm in (min(heights), max(heights)))
    tapes = [band.tape_mm for wall in walls for band in wall.bands]
    longest_mm, longest_of = max(_carried(work_up), default=(0.0, ""))
    return {
        "walls": len(walls),
        "length": format_length(sum(wall.curve.centre_length_mm for wall in walls), system),
        "height": low if low == high else f"{low} to {high}",
        "is_boarded": any(build.layers for build in builds),
        "is_finished": any(build.level for build in builds),
        "is_painted": any(build.painted for build in builds),
        "trims": sum(len(wall.spec.trims) for wall in walls),
        "openings": sum(len(wall.curve.openings) for wall in walls),
        "tape": format_length(max(tapes), system) if tapes else "",
        "longest": format_length(longest_mm, system) if longest_mm else "",
        "longest_of": longest_of,
    }


def _carried(work_up: WorkUp) -> Iterable[tuple[float, str]]:
    """Length and name of all that is bought in a length."""
    for purchase in work_up.takeoff.purchases:
        material = work_up.read.book.materials.get(purchase.material)
        bought = {count.pack for count in purchase.packs if count.count}
        for pack in material.packs if material else ():
            if pack.code in bought and pack.length_mm:
                yield pack.length_mm, purchase.name
