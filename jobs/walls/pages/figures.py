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
    done: WallWorkUp, book: Catalog, on_day: date, reasons: Mapping[str, str] | None = None
) -> WallFigures:
    system = book.firm.display_units
    takeoff = take_off((done,), book, on_day)
    arcs = [arc for plan in done.trims for arc in plan.arcs]
    bends = [one for one in (*done.bend_checks, *done.track_checks, *arcs) if one.verdict != "flat"]
    bands = {one.key: one.sentence for one in done.check_bands}
    checks = [_check(one, reasons or {}, bands.get(one.key, "")) for one in bends]
    known = {check.key for check in checks}
    found = [one for one in takeoff.findings if one.key not in known]
    checks += [_asked(one, reasons or {}) for one in found if one.weight == "decide"]
    return WallFigures(
        draw(done, book),
        wall_document(done, system),
        tuple(sorted(checks, key=lambda check: not check.open)),
        tuple(one for one in found if one.weight == "gap"),
        tuple(one for one in found if one.weight == "caution"),
        tuple(one for one in found if one.weight == "note"),
        _areas(done, system),
        quantity_rows(takeoff.lines),
        purchase_rows(takeoff, {}, currency=None),
        trim_sheets(done, book, on_day),
        tuple(
            (one.label, with_unit(Decimal(repr(one.value)), one.unit), why_of(one.explanation))
            for one in done.quantities
            if one.material is None
        ),
        held_sentences(hold for hold in done.holds if hold.dimension != TEMPLATE),
        tuple(hold for hold in done.holds if _may_be_released(hold, done)),
        done.curve.heights.is_level,
        f"{done.spec.key}/{RISE_OVER_CHORD}",
    )


def _may_be_released(hold: Hold, done: WallWorkUp) -> bool:
    """What a named person may release with a reason; what came with a file is confirmed instead."""
    if hold.finding.weight != "decide" or hold.dimension == TEMPLATE:
        return False
    return any(one.dimension == hold.dimension and one.mark.how in UNREAD for one in done.spec.taken.marks)


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


def _asked(found: Finding, reasons: Mapping[str, str]) -> CheckRow:
    return CheckRow(found.key, found.sentence, "To be decided", found.source, True, True, reasons.get(found.key, ""))


def _areas(done: WallWorkUp, system: System) -> tuple[tuple[str, str], ...]:
    return tuple(
        (f"{face.capitalize()} finished face, net of openings", format_area(done.finished_area_mm2(face), system))
        for face in FACES
        if done.spec.face(face).layers
    )


# By the very values that are drawn: of a wall that has not changed they are the same, and kept here for their ids.
_drawn: OrderedDict[tuple[int, ...], tuple[tuple[object, ...], Drawings]] = OrderedDict()
MAX_DRAWN = 64
# The drawing leaves room in one window for what stands under it.
STANDING_MM = 75.0


def draw(done: WallWorkUp, book: Catalog) -> Drawings:
    """A wall that has not changed since is not drawn again by this process."""
    values = (done.spec, done.curve, done.framing, done.face_plans, done.trims, done.baseline, book)
    key = tuple(map(id, values))
    kept = _drawn.get(key)
    if kept is None:
        kept = _drawn[key] = (values, _draw(done, book))
        while len(_drawn) > MAX_DRAWN:
            _drawn.popitem(last=False)
    return kept[1]


def _draw(done: WallWorkUp, book: Catalog) -> Drawings:
    cannot: list[str] = []

    def tried(what: str, make: Callable[[], Any]) -> Any:
        try:
            return make()
        except DrawingInputError as error:
            cannot.append(f"The {what} cannot be drawn: {error}.")
            return None

    plan = tried("plan", lambda: _plan(done, book))
    faces = tried("faces", lambda: _faces(done, book))
    offsets = tried("offsets", lambda: _offsets(done, book)) if done.baseline is not None else None
    stood = tried("wall standing", lambda: _standing(done, book))
    return Drawings(plan, faces or (), tuple(cannot), offsets, stood)


def _plan(done: WallWorkUp, book: Catalog) -> Redrawn:
    shared = {"title": f"{done.spec.name}: plan", "system": book.firm.display_units, "framing": _framing(done)}
    left, right = (_layers(done, face, book) for face in FACES)
    wide = plan_svg(done.curve, left_layers_mm=left, right_layers_mm=right, width_mm=DESK_MM, **shared)
    return Redrawn(wide, plan_lean_svg(done.curve, **shared))


def _faces(done: WallWorkUp, book: Catalog) -> tuple[Redrawn, ...]:
    system = book.firm.display_units
    titles = tuple(f"{done.spec.name}: {face} face, rolled out flat" for face in FACES)
    trims = tuple(bands_of(done, face, book) for face in FACES)
    boards = tuple(done.plan_of(face) for face in FACES)
    shared = {"titles": titles, "system": system, "boards": boards, "trims": trims, "width_mm": DESK_MM}
    wide = face_pair_svg(done.curve, framing=_framing(done), **shared)
    lean = (
        face_lean_svg(done.curve, face, title=title, system=system, boards=plan, trims=bands)
        for face, title, plan, bands in zip(FACES, titles, boards, trims, strict=True)
    )
    return tuple(Redrawn(*pair) for pair in zip(wide, lean, strict=True))


def _offsets(done: WallWorkUp, book: Catalog) -> Redrawn:
    assert done.baseline is not None
    shared = {"title": f"{done.spec.name}: offsets from the baseline", "system": book.firm.display_units}
    wide = offsets_svg(done.baseline, width_mm=DESK_MM, **shared)
    return Redrawn(wide, offsets_lean_svg(done.baseline, **shared))


def _standing(done: WallWorkUp, book: Catalog) -> Redrawn:
    wall, shared = (
        standing_wall(done, book),
        {"title": f"{done.spec.name}: standing", "system": book.firm.display_units},
    )
    wide = standing_svg(wall, width_mm=DESK_MM, max_height_mm=STANDING_MM, **shared)
    return Redrawn(wide, standing_svg(wall, width_mm=PHONE_MM, max_height_mm=STANDING_MM, **shared))


def _framing(done: WallWorkUp) -> Framing | None:
    return done.framing if done.framing.is_complete else None


def _layers(done: WallWorkUp, face: Face, book: Catalog) -> list[float]:
    facts = [book.materials[layer.board].fact("thickness_mm") for layer in done.spec.face(face).layers]
    return [fact.number for fact in facts if fact is not None]
