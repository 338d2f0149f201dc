"""The boards of each face, one row each, numbered as on the drawing."""

from collections.abc import Iterable

from catalog.core.materials.catalog_data import Catalog
from jobs.core.boards.boards import FacePlan, LayerPlan, SheetPiece
from jobs.core.measure.curve import FACES, Face
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.site.papers.site_parts import SiteSection, SiteTable
from jobs.site.services.sheet_numbers import SheetNumbers
from jobs.site.services.words import Say, lengths_in

SAYS = (
    "Boards are numbered as on the drawings, one for each layer. Courses count from the floor. From and to run along "
    "the face the board is bent to, from the start of the wall."
)
CHOSEN = "The boards follow the plan chosen for the job; it was checked against the wall independently."
COLUMNS = ("Board", "Course", "From", "To", "Cut to", "Foot above the floor", "To be cut")


def boards(work_up: WallWorkUp, face: Face, book: Catalog, numbers: SheetNumbers) -> SiteSection:
    heading = f"{face.capitalize()} face"
    if not work_up.spec.face(face).layers:
        return SiteSection(heading, ("This face carries no boards.",))
    plan = work_up.plan_of(face)
    if plan is None:
        return SiteSection(heading, ("This face has no board plan yet: what is missing is named above.",))
    level = f"Finish level {work_up.spec.face(face).level}."
    says = (level, SAYS, CHOSEN) if plan.is_chosen else (level, SAYS)
    return SiteSection(heading, says, tuple(_layers(plan, book, lengths_in(book.firm.display_units), numbers)))


def sheets(work_up: WallWorkUp, book: Catalog) -> SiteTable:
    """What hangs on which face, layer by layer from the framing."""
    rows = []
    for face in FACES:
        build, plan = work_up.spec.face(face), work_up.plan_of(face)
        for number, layer in enumerate(build.layers, start=1):
            board = book.materials.get(layer.board)
            count = str(len(plan.layers[number - 1].pieces)) if plan else "not known yet"
            level = f"level {build.level}" if build.level and number == len(build.layers) else ""
            rows.append((f"{face.capitalize()} face", str(number), board.name if board else layer.board, count, level))
    columns = ("Face", "Layer", "Board", "Boards", "Finish")
    return SiteTable("Sheets", columns, tuple(rows), words=(0, 2, 4), front=2)


def _layers(plan: FacePlan, book: Catalog, say: Say, numbers: SheetNumbers) -> Iterable[SiteTable]:
    columns = (*COLUMNS, "From sheet") if numbers else COLUMNS
    for layer in plan.layers:
        material = book.materials.get(layer.board)
        name = material.name if material else layer.board
        heading = f"Layer {layer.number} from the framing, {plan.face} face"
        way = "its length along the wall" if layer.direction == "lengthwise" else "its width along the wall"
        rows = []
        for piece in layer.pieces:
            sheet = numbers.get((plan.key, plan.face, piece.number))
            rows.append((*_row(piece, layer, say), *((str(sheet or ""),) if numbers else ())))
        yield SiteTable(heading, columns, tuple(rows), words=(6,), notes=(f"{name}, hung {way}.",))


def _row(piece: SheetPiece, layer: LayerPlan, say: Say) -> tuple[str, ...]:
    return (
        str(piece.number),
        f"{piece.course} of {len(layer.courses)}",
        say(piece.from_mm),
        say(piece.to_mm),
        f"{say(piece.width_mm)} × {say(piece.height_mm)}",
        say(piece.foot_mm),
        _cuts(piece, say),
    )


def _cuts(piece: SheetPiece, say: Say) -> str:
    sentences = [
        f"{notch.opening}: from {say(max(notch.from_mm, piece.from_mm))} to {say(min(notch.to_mm, piece.to_mm))}, "
        f"{say(max(notch.foot_mm, piece.foot_mm))} to {say(min(notch.head_mm, piece.head_mm))} above the floor"
        for notch in piece.notches
    ]
    if piece.shortened:
        sentences.append("shortened")
    if piece.ripped:
        sentences.append("ripped")
    return "; ".join(sentences)
