"""What stands behind and on a developed face: stud lines, the boards of its layers, bands of trim."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from catalog.drawings.canvas import Canvas, Place, block
from catalog.drawings.svg import Point, line_to, move, polyline
from jobs.core.boards.boards import FacePlan, LayerPlan, SheetPiece
from jobs.core.framing.framing import Framing
from jobs.drawings.faces.face_view import FaceView, Interval, TrimBand


def draw_studs(canvas: Canvas, view: FaceView, framing: Framing) -> None:
    """A line for every place a stud stands, broken where an opening is."""
    for developed, foot, top in stud_lines(view, framing):
        x = view.x(developed)
        d = f"{move((x, view.y(foot)))} {line_to((x, view.y(top)))}"
        canvas.path(d, "centre", ((x, view.y(foot)), (x, view.y(top))))


def stud_lines(view: FaceView, framing: Framing) -> Iterator[tuple[float, float, float]]:
    """(developed place, foot, head) of every stretch of stud behind this face, each once."""
    seen: set[tuple[float, bool]] = set()
    for station in framing.stations:
        developed = view.developed(station.along_mm)
        place = (round(developed, 3), station.kind == "sheet_end")
        if place in seen or (station.face and station.face != view.face):
            continue
        seen.add(place)
        for foot, top in _standing(view, developed, view.ceiling(station.along_mm)):
            yield developed, foot, top


def _standing(view: FaceView, developed: float, head: float) -> list[tuple[float, float]]:
    """Heights at one place where there is wall, openings left out."""
    cuts = []
    for laid, (first, last) in zip(view.curve.openings, view.spans, strict=True):
        if first + 1.0 < developed < last - 1.0:
            # An arch stands on a straight, where places on the face are places along the wall.
            cuts.append((laid.opening.sill_mm, laid.opening.head_at(developed - (first + last) / 2)))
    parts, passed = [], 0.0
    for sill, top in sorted(cuts):
        if sill > passed + 1e-6:
            parts.append((passed, sill))
        passed = max(passed, top)
    if passed < head - 1e-6:
        parts.append((passed, head))
    return parts


def draw_boards(canvas: Canvas, view: FaceView, plan: FacePlan, sheets: Mapping[int, int]) -> None:
    """Joints of every layer, the outermost drawn strongest, and the numbers of its boards.

    sheets: number of the sheet each board is cut from, by number of the board; without one only the board's is drawn.
    """
    for layer in plan.layers:
        outermost = layer is plan.layers[-1]
        _draw_joints(canvas, view, layer, "joint" if outermost else "hatch")
    if plan.layers:
        _number_boards(canvas, view, plan.layers[-1], sheets)


def _draw_joints(canvas: Canvas, view: FaceView, layer: LayerPlan, css: str) -> None:
    for (a, foot), (b, top) in joint_lines(view, layer):
        ends = ((view.x(a), view.y(foot)), (view.x(b), view.y(top)))
        canvas.path(f"{move(ends[0])} {line_to(ends[1])}", css, ends)


def joint_lines(view: FaceView, layer: LayerPlan) -> Iterator[tuple[Point, Point]]:
    """Both ends of every joint of a layer, each (developed place, height), openings left out."""
    for joint in layer.joints:
        developed = view.developed(joint.along_mm)
        head = min(joint.head_mm, view.ceiling(joint.along_mm))
        for foot, top in _standing(view, developed, head):
            if top > joint.foot_mm:
                yield (developed, max(foot, joint.foot_mm)), (developed, top)
    for flat in layer.horizontal_joints:
        first, last = view.developed(flat.from_along_mm), view.developed(flat.to_along_mm)
        for a, b in view.round_the_start(first, last):
            yield (a, flat.height_mm), (b, flat.height_mm)


def _number_boards(canvas: Canvas, view: FaceView, layer: LayerPlan, sheets: Mapping[int, int]) -> None:
    for piece in layer.pieces:
        first, last = view.developed(piece.from_along_mm), view.developed(piece.to_along_mm)
        a, b = max(view.round_the_start(first, last), key=lambda part: part[1] - part[0])
        number = (str(piece.number), "small-text")
        sheet = sheets.get(piece.number)
        blocks = [block(number)] if sheet is None else [block(number, (f"sheet {sheet}", "small-text")), block(number)]
        for label in blocks:
            if (b - a) / view.ratio < label.width + 1.5:
                continue
            if canvas.put(label, _number_places(view, piece, (a, b), label.height), most=2):
                break


def _number_places(view: FaceView, piece: SheetPiece, span: Interval, height: float) -> Iterator[Place]:
    a, b = span
    for rise in (0.5, 0.75, 0.3):
        for share in (0.5, 0.46, 0.54, 0.3, 0.7, 0.12, 0.88):
            developed = a + (b - a) * share
            head = min(piece.head_mm, view.ceiling_over(developed))
            if (head - piece.foot_mm) / view.ratio > height + 0.6:
                up = piece.foot_mm + (head - piece.foot_mm) * rise
                centre = (view.x(developed), view.y(up))
                if not _in_an_opening(view, centre):
                    yield Place(centre)


def _in_an_opening(view: FaceView, point: Point) -> bool:
    for laid, (first, last) in zip(view.curve.openings, view.spans, strict=True):
        x0, x1 = sorted((view.x(first), view.x(last)))
        low, high = view.y(laid.opening.head_mm), view.y(laid.opening.sill_mm)
        if x0 - 2 < point[0] < x1 + 2 and low - 2 < point[1] < high + 2:
            return True
    return False


def draw_trims(canvas: Canvas, view: FaceView, trims: Sequence[TrimBand]) -> None:
    for band in trims:
        if band.foot_mm is None:
            low = view.top(band.height_mm)
            canvas.path(polyline([*view.top(), *reversed(low)], closed=True), "fill-tint")
            canvas.path(polyline(low), "thin")
            continue
        head = band.foot_mm + band.height_mm
        for first, last in view.clear_of_openings(0.0, view.length_mm, band.foot_mm, head):
            x0, x1 = sorted((view.x(first), view.x(last)))
            y0, y1 = view.y(head), view.y(band.foot_mm)
            canvas.rect(x0, y0, x1 - x0, y1 - y0, "fill-tint")
            canvas.path(f"{move((x0, y0))} {line_to((x1, y0))}", "thin")
            if band.foot_mm > 0:
                canvas.path(f"{move((x0, y1))} {line_to((x1, y1))}", "thin")
