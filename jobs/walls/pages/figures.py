"""What a wall's page says beside the form: the drawing, the four radii, the checks, the framing, the takeoff.

No money and no supplier in here, but in what each trim costs: the page is the lead's as well, and leaves that out.
"""

from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from catalog.core.ground.units import System, format_area
from catalog.core.materials.catalog_data import Catalog
from catalog.drawings.lettering import DESK_MM, PHONE_MM
from catalog.drawings.svg import DrawingInputError, Redrawn
from jobs.core.framing.framing import Framing
from jobs.core.measure.bending import BendCheck, TrackCheck
from jobs.core.measure.curve import FACES, Face
from jobs.core.measure.dimension_holds import UNREAD, Hold
from jobs.core.measure.findings import Finding
from jobs.core.measure.swapped_readings import RISE_OVER_CHORD
from jobs.core.results.result_documents import wall_document
from jobs.core.takeoff.held_templates import TEMPLATE
from jobs.core.takeoff.takeoff import take_off
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.core.trim.trim import TrimArc
from jobs.drawings.faces.face_lean import face_lean_svg
from jobs.drawings.faces.faces import face_pair_svg
from jobs.drawings.plan.offsets import offsets_lean_svg, offsets_svg
from jobs.drawings.plan.plan import plan_svg
from jobs.drawings.plan.plan_lean import plan_lean_svg
from jobs.drawings.standing import standing_svg
from jobs.drawings.worked_up import bands_of, standing_wall
from jobs.walls.pages.labels import VERDICTS
from jobs.walls.pages.quantities import (
    PurchaseRow,
    QuantityRow,
    Why,
    purchase_rows,
    quantity_rows,
    why_of,
    with_unit,
)
from jobs.walls.pages.release_hold_text import held_sentences
from jobs.walls.pages.trims import TrimSheet, trim_sheets


@dataclass(frozen=True)
class CheckRow:
    """A check, or something else that asks for a decision. open: it still does, or lacks its limit.

    can_decide: a reason given by name lets it stand. reason: what is being written to decide it.
    """

    key: str
    sentence: str
    verdict: str
    source: str
    open: bool
    can_decide: bool
    reason: str
    band: str = ""


@dataclass(frozen=True)
class Drawings:
    plan: Redrawn | None
    faces: tuple[Redrawn, ...]
    cannot: tuple[str, ...]
    offsets: Redrawn | None = None
    standing: Redrawn | None = None


@dataclass(frozen=True)
class WallFigures:
    drawings: Drawings
    document: dict[str, Any]
    checks: tuple[CheckRow, ...]
    gaps: tuple[Finding, ...]
    cautions: tuple[Finding, ...]
    notes: tuple[Finding, ...]
    areas: tuple[tuple[str, str], ...]
    lines: tuple[QuantityRow, ...]
    purchases: tuple[PurchaseRow, ...]
    trims: tuple[TrimSheet, ...]
    uses: tuple[tuple[str, str, Why], ...]
    held: tuple[str, ...] = ()
    releasable: tuple[Hold, ...] = ()
    is_level: bool = True
    rise_over_chord: str = ""

    @property
    def open_checks(self) -> tuple[CheckRow, ...]:
        return tuple(check for check in self.checks if check.open)

    @property
    def decidable(self) -> tuple[CheckRow, ...]:
        return tuple(check for check in self.open_checks if check.can_decide)

    @property
    def other_checks(self) -> tuple[CheckRow, ...]:
        return tuple(check for check in self.checks if not check.open)


def wall_figures(
    wall: WallWorkUp, book: Catalog, on_day: date, reasons: Mapping[str, str] | None = None
) -> WallFigures:
    system = book.firm.display_units
    takeoff = take_off((wall,), book, on_day)
    arcs = [arc for plan in wall.trims for arc in plan.arcs]
    bends = [entry for entry in (*wall.bend_checks, *wall.track_checks, *arcs) if entry.verdict != "flat"]
    bands = {band.key: band.sentence for band in wall.check_bands}
    checks = [_check(bend, reasons or {}, bands.get(bend.key, "")) for bend in bends]
    known = {check.key for check in checks}
    figures = [finding for finding in takeoff.findings if finding.key not in known]
    checks += [_asked(finding, reasons or {}) for finding in figures if finding.weight == "decide"]
    return WallFigures(
        draw(wall, book),
        wall_document(wall, system),
        tuple(sorted(checks, key=lambda check: not check.open)),
        tuple(finding for finding in figures if finding.weight == "gap"),
        tuple(finding for finding in figures if finding.weight == "caution"),
        tuple(finding for finding in figures if finding.weight == "note"),
        _areas(wall, system),
        quantity_rows(takeoff.lines),
        purchase_rows(takeoff, {}, currency=None),
        trim_sheets(wall, book, on_day),
        tuple(
            (quantity.label, with_unit(Decimal(repr(quantity.value)), quantity.unit), why_of(quantity.explanation))
            for quantity in wall.quantities
            if quantity.material is None
        ),
        held_sentences(hold for hold in wall.holds if hold.dimension != TEMPLATE),
        tuple(hold for hold in wall.holds if _may_be_released(hold, wall)),
        wall.curve.heights.is_level,
        f"{wall.spec.key}/{RISE_OVER_CHORD}",
    )


def _may_be_released(hold: Hold, wall: WallWorkUp) -> bool:
    """What a named person may release with a reason; what came with a file is confirmed instead."""
    if hold.finding.weight != "decide" or hold.dimension == TEMPLATE:
        return False
    return any(mark.dimension == hold.dimension and mark.mark.how in UNREAD for mark in wall.spec.taken.marks)


def _check(check: BendCheck | TrackCheck | TrimArc, reasons: Mapping[str, str], band: str) -> CheckRow:
    return CheckRow(
        check.key,
        check.sentence,
        VERDICTS[check.verdict],
        check.source,
        check.verdict in ("fails", "not_permitted", "gap"),
        check.verdict != "gap",
        reasons.get(check.key, ""),
        band,
    )


def _asked(finding: Finding, reasons: Mapping[str, str]) -> CheckRow:
    return CheckRow(
        finding.key, finding.sentence, "To be decided", finding.source, True, True, reasons.get(finding.key, "")
    )


def _areas(wall: WallWorkUp, system: System) -> tuple[tuple[str, str], ...]:
    return tuple(
        (f"{face.capitalize()} finished face, net of openings", format_area(wall.finished_area_mm2(face), system))
        for face in FACES
        if wall.spec.face(face).layers
    )


# By the very values that are drawn: of a wall that has not changed they are the same, and kept here for their ids.
_drawn: OrderedDict[tuple[int, ...], tuple[tuple[object, ...], Drawings]] = OrderedDict()
MAX_DRAWN = 64
# The drawing leaves room in one window for what stands under it.
STANDING_MM = 75.0


def draw(wall: WallWorkUp, book: Catalog) -> Drawings:
    """A wall that has not changed since is not drawn again by this process."""
    values = (wall.spec, wall.curve, wall.framing, wall.face_plans, wall.trims, wall.baseline, book)
    key = tuple(map(id, values))
    pair = _drawn.get(key)
    if pair is None:
        pair = _drawn[key] = (values, _draw(wall, book))
        while len(_drawn) > MAX_DRAWN:
            _drawn.popitem(last=False)
    return pair[1]


def _draw(wall: WallWorkUp, book: Catalog) -> Drawings:
    cannot: list[str] = []

    def tried(what: str, make: Callable[[], Any]) -> Any:
        try:
            return make()
        except DrawingInputError as error:
            cannot.append(f"The {what} cannot be drawn: {error}.")
            return None

    plan = tried("plan", lambda: _plan(wall, book))
    faces = tried("faces", lambda: _faces(wall, book))
    offsets = tried("offsets", lambda: _offsets(wall, book)) if wall.baseline is not None else None
    stood = tried("wall standing", lambda: _standing(wall, book))
    return Drawings(plan, faces or (), tuple(cannot), offsets, stood)


def _plan(wall: WallWorkUp, book: Catalog) -> Redrawn:
    shared = {"title": f"{wall.spec.name}: plan", "system": book.firm.display_units, "framing": _framing(wall)}
    left, right = (_layers(wall, face, book) for face in FACES)
    wide = plan_svg(wall.curve, left_layers_mm=left, right_layers_mm=right, width_mm=DESK_MM, **shared)
    return Redrawn(wide, plan_lean_svg(wall.curve, **shared))


def _faces(wall: WallWorkUp, book: Catalog) -> tuple[Redrawn, ...]:
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
    return tuple(Redrawn(*pair) for pair in zip(wide, lean, strict=True))


def _offsets(wall: WallWorkUp, book: Catalog) -> Redrawn:
    assert wall.baseline is not None
    shared = {"title": f"{wall.spec.name}: offsets from the baseline", "system": book.firm.display_units}
    wide = offsets_svg(wall.baseline, width_mm=DESK_MM, **shared)
    return Redrawn(wide, offsets_lean_svg(wall.baseline, **shared))


def _standing(result: WallWorkUp, book: Catalog) -> Redrawn:
    wall, shared = (
        standing_wall(result, book),
        {"title": f"{result.spec.name}: standing", "system": book.firm.display_units},
    )
    wide = standing_svg(wall, width_mm=DESK_MM, max_height_mm=STANDING_MM, **shared)
    return Redrawn(wide, standing_svg(wall, width_mm=PHONE_MM, max_height_mm=STANDING_MM, **shared))


def _framing(wall: WallWorkUp) -> Framing | None:
    return wall.framing if wall.framing.is_complete else None


def _layers(wall: WallWorkUp, face: Face, book: Catalog) -> list[float]:
    facts = [book.materials[layer.board].fact("thickness_mm") for layer in wall.spec.face(face).layers]
    return [fact.number for fact in facts if fact is not None]
