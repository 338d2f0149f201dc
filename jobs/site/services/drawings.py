"""The drawings of a wall on its site sheet: plan with studs, section, both developed faces with boards."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from catalog.core.materials.catalog_data import Catalog
from catalog.drawings.svg import DrawingInputError, Picture
from jobs.core.boards.boards import LayerPlan
from jobs.core.measure.curve import FACES, Face
from jobs.core.measure.wall_spec import ON_TOP
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.drawings.dxf import WallDrawing
from jobs.drawings.faces.face_lean import face_lean_svg
from jobs.drawings.faces.faces import face_svg
from jobs.drawings.faces.section import section_svg
from jobs.drawings.faces.section_lean import section_lean_svg
from jobs.drawings.faces.section_parts import SectionCap, SectionLayer, SectionParts, SectionTrim
from jobs.drawings.plan.plan import plan_svg
from jobs.drawings.plan.plan_lean import plan_lean_svg
from jobs.drawings.worked_up import band_of, bands_of
from jobs.site.services.sheet_numbers import SheetNumbers
from quoting.platform.papers.drawings import UPRIGHT_WIDTH_MM, Drawing

# So that a wall takes at most eight sheets: the plan with its tables on one, two faces with their boards on one.
PLAN_MM, FACE_MM, INNER_FACE_MM, SECTION_MM = 84.0, 90.0, 78.0, 76.0


@dataclass(frozen=True)
class Drawn:
    """None, or no entry, for what could not be drawn; cannot says why."""

    plan: Drawing | None
    section: Drawing | None
    faces: Mapping[Face, tuple[Drawing, ...]]
    cannot: tuple[str, ...]


def drawings(work_up: WallWorkUp, book: Catalog, numbers: SheetNumbers) -> Drawn:
    """numbers: of the sheets the boards are cut from, where they are known."""
    cannot: list[str] = []

    def draw(what: str, make: Make) -> Drawing | None:
        title = f"{work_up.spec.name}: {what}"
        try:
            picture, narrow = make(title, False), make(title, True)
        except DrawingInputError as error:
            cannot.append(f"The {what} cannot be drawn: {error}.")
            return None
        return Drawing(picture.svg, title, picture.scale, narrow=narrow.svg)

    plan = draw("plan with studs", lambda title, lean: _plan(work_up, book, title, lean))
    section = draw("section", lambda title, lean: _section(work_up, book, title, lean=lean))
    faces: dict[Face, tuple[Drawing, ...]] = {}
    for face in FACES:
        whole = draw(
            f"{face} face rolled out flat",
            lambda title, lean, face=face: _face(work_up, face, book, title, None, numbers, lean),
        )
        faces[face] = () if whole is None else (whole, *_inner_layers(work_up, face, book, numbers, draw))
    return Drawn(plan, section, faces, tuple(cannot))


Make = Callable[[str, bool], Picture]
"""Draws under a title, for paper or lean for a phone."""
Draw = Callable[[str, Make], Drawing | None]


def _inner_layers(
    work_up: WallWorkUp, face: Face, book: Catalog, numbers: SheetNumbers, draw: Draw
) -> Iterable[Drawing]:
    """The layers that the outermost covers, each by itself."""
    plan = work_up.plan_of(face)
    for layer in reversed(plan.layers[:-1] if plan else ()):
        drawing = draw(
            f"{face} face, layer {layer.number} from the framing",
            lambda title, lean, layer=layer: _face(work_up, face, book, title, layer, numbers, lean),
        )
        if drawing is not None:
            yield drawing


def drawing_of(work_up: WallWorkUp) -> WallDrawing:
    framing = work_up.framing if work_up.framing.is_complete else None
    return WallDrawing(work_up.spec.name, work_up.curve, framing, work_up.face_plans, work_up.room)


def _plan(work_up: WallWorkUp, book: Catalog, title: str, lean: bool) -> Picture:
    framing = work_up.framing if work_up.framing.is_complete else None
    if lean:
        return plan_lean_svg(work_up.curve, title=title, system=book.firm.display_units, framing=framing)
    return plan_svg(
        work_up.curve,
        title=title,
        system=book.firm.display_units,
        framing=framing,
        left_layers_mm=[layer.thickness_mm for layer in _layers(work_up, "left", book)],
        right_layers_mm=[layer.thickness_mm for layer in _layers(work_up, "right", book)],
        width_mm=UPRIGHT_WIDTH_MM,
        max_height_mm=PLAN_MM,
        has_foot=False,
    )


def _face(
    work_up: WallWorkUp,
    face: Face,
    book: Catalog,
    title: str,
    layer: LayerPlan | None,
    numbers: SheetNumbers,
    lean: bool,
) -> Picture:
    """layer: drawn alone, None for all of them with the trim."""
    plan = work_up.plan_of(face)
    if plan is not None and layer is not None:
        plan = replace(plan, layers=(layer,))
    mine = {piece: n for (wall, side, piece), n in numbers.items() if (wall, side) == (work_up.spec.key, face)}
    trims = () if layer is not None else bands_of(work_up, face, book)
    system = book.firm.display_units
    if lean:
        return face_lean_svg(work_up.curve, face, title=title, system=system, boards=plan, trims=trims, sheets=mine)
    return face_svg(
        work_up.curve,
        face,
        title=title,
        system=system,
        framing=work_up.framing if work_up.framing.is_complete else None,
        boards=plan,
        trims=trims,
        sheets=mine,
        width_mm=UPRIGHT_WIDTH_MM,
        max_height_mm=FACE_MM if layer is None else INNER_FACE_MM,
        has_foot=layer is None,
    )


def _section(
    work_up: WallWorkUp, book: Catalog, title: str, max_height_mm: float = SECTION_MM, *, lean: bool = False
) -> Picture:
    curve, spec = work_up.curve, work_up.spec
    track, stud = book.materials.get(spec.track), book.materials.get(spec.stud)
    flange = track.fact("flange_mm") if track else None
    parts = SectionParts(
        clear_height_mm=curve.heights.at(curve.centre_length_mm / 2),
        stud_depth_mm=curve.stud_depth_mm,
        left=_layers(work_up, "left", book),
        right=_layers(work_up, "right", book),
        stud_name=stud.name if stud else spec.stud,
        track_name=track.name if track else spec.track,
        stud_short_mm=work_up.framing.cut_short_mm or 0.0,
        left_trims=_section_trims(work_up, "left", book),
        right_trims=_section_trims(work_up, "right", book),
        insulated=spec.insulated,
        is_half_wall=spec.is_half_wall,
        cap=_section_cap(work_up, book),
        **({"track_leg_mm": flange.number} if flange else {}),
    )
    if lean:
        return section_lean_svg(parts, title=title, system=book.firm.display_units)
    fit = {"width_mm": UPRIGHT_WIDTH_MM, "max_height_mm": max_height_mm}
    return section_svg(parts, title=title, system=book.firm.display_units, **fit)


def _layers(work_up: WallWorkUp, face: Face, book: Catalog) -> tuple[SectionLayer, ...]:
    boards = [book.materials[layer.board] for layer in work_up.spec.face(face).layers]
    known = [(board.name, board.fact("thickness_mm")) for board in boards]
    return tuple(SectionLayer(name, fact.number) for name, fact in known if fact is not None)


def _section_cap(work_up: WallWorkUp, book: Catalog) -> SectionCap | None:
    for run in work_up.spec.trims:
        material = book.materials.get(run.material) if run.position == ON_TOP else None
        if material is not None:
            width, thickness = material.fact("width_mm"), material.fact("thickness_mm")
            if width is not None and thickness is not None:
                return SectionCap(run.name, width.number, thickness.number)
    return None


def _section_trims(work_up: WallWorkUp, face: Face, book: Catalog) -> tuple[SectionTrim, ...]:
    trims = []
    for run in work_up.spec.trims:
        material = book.materials.get(run.material)
        thickness = material.fact("thickness_mm") if material else None
        band = band_of(run, book)
        if run.face == face and thickness is not None and band is not None:
            trims.append(SectionTrim(band.label, thickness.number, band.height_mm, band.foot_mm))
    return tuple(trims)
