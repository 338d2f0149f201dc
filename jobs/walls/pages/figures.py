"""What a wall's page says of a wall worked up: what is to decide, its lines, and each part once that is asked for.

No money and no supplier in here, but in what each trim costs: the page is the lead's as well, and leaves that out.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import Any

from catalog.core.ground.units import MM_PER_INCH, System, format_area, format_length
from catalog.core.materials.catalog_data import Catalog
from jobs.core.measure.bending import Bend
from jobs.core.measure.curve import FACES, Curve, CurvePiece, Face, resolve_line
from jobs.core.measure.dimension_holds import UNREAD, Hold
from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import Line
from jobs.core.measure.swapped_readings import RISE_OVER_CHORD
from jobs.core.results.result_documents import wall_document
from jobs.core.takeoff.held_templates import TEMPLATE
from jobs.core.takeoff.takeoff import Takeoff, take_off
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.core.takeoff.ways_out import OPEN
from jobs.drawings.plan.plan_names import side_name
from jobs.walls.pages.decisions import Decision, bends_of, decisions_of
from jobs.walls.pages.form.words import VERDICTS
from jobs.walls.pages.quantities import PurchaseRow, QuantityRow, Why, purchase_rows, quantity_rows, why_of, with_unit
from jobs.walls.pages.release_hold_text import held_sentences
from jobs.walls.pages.trims import TrimSheet, trim_sheets


@dataclass(frozen=True)
class LineRow:
    """One of the lines of a bent piece, from the inside out. radius, length: each to a sixteenth and exactly."""

    name: str
    side: str
    radius: tuple[str, str]
    length: tuple[str, str]
    area: str
    use: str
    is_finished: bool
    is_tight: bool


@dataclass(frozen=True)
class PieceLines:
    """A piece of the wall. words: what a straight or a templated one says in the place of lines."""

    number: int
    words: str
    rows: tuple[LineRow, ...] = ()


@dataclass
class WallFigures:
    """reasons: what is being typed beside decisions, by the keys of checks."""

    wall: WallWorkUp
    book: Catalog
    on_day: date
    reasons: Mapping[str, str] = field(default_factory=dict)

    @cached_property
    def system(self) -> System:
        return self.book.firm.display_units

    @cached_property
    def decisions(self) -> list[Decision]:
        return decisions_of(self.wall, self.book, self.on_day, self.reasons)

    def _weighing(self, weight: str) -> list[Finding]:
        bends = {bend.key for bend in bends_of(self.wall)} if weight != "gap" else set()
        return [one for one in self.wall.findings if one.weight == weight and one.key not in bends]

    @property
    def gaps(self) -> list[Finding]:
        return self._weighing("gap")

    @property
    def cautions(self) -> list[Finding]:
        return self._weighing("caution")

    @property
    def notes(self) -> list[Finding]:
        return self._weighing("note")

    @property
    def open_count(self) -> int:
        return len(self.decisions) + len(self.gaps)

    @cached_property
    def passed(self) -> list[tuple[str, Bend]]:
        return [(VERDICTS[bend.verdict], bend) for bend in bends_of(self.wall) if bend.verdict not in OPEN]

    @property
    def rise_over_chord(self) -> str:
        return f"{self.wall.spec.key}/{RISE_OVER_CHORD}"

    @cached_property
    def pieces(self) -> list[PieceLines]:
        return [_piece_lines(piece, self.wall, self.decisions, self.system) for piece in self.wall.curve.pieces]

    @cached_property
    def document(self) -> dict[str, Any]:
        return wall_document(self.wall, self.system)

    @cached_property
    def takeoff(self) -> Takeoff:
        return take_off((self.wall,), self.book, self.on_day)

    @property
    def lines(self) -> tuple[QuantityRow, ...]:
        return quantity_rows(self.takeoff.lines)

    @property
    def purchases(self) -> tuple[PurchaseRow, ...]:
        return purchase_rows(self.takeoff, {}, currency=None)

    @property
    def missing(self) -> list[Finding]:
        """Of the takeoff alone."""
        known = {one.key for one in self.wall.findings}
        return [one for one in self.takeoff.findings if one.weight == "gap" and one.key not in known]

    @property
    def uses(self) -> list[tuple[str, str, Why]]:
        """What is used and not bought."""
        return [
            (quantity.label, with_unit(Decimal(repr(quantity.value)), quantity.unit), why_of(quantity.explanation))
            for quantity in self.wall.quantities
            if quantity.material is None
        ]

    @cached_property
    def trims(self) -> tuple[TrimSheet, ...]:
        return trim_sheets(self.wall, self.book, self.on_day)

    @property
    def held(self) -> tuple[str, ...]:
        return held_sentences(hold for hold in self.wall.holds if hold.dimension != TEMPLATE)

    @property
    def releasable(self) -> list[Hold]:
        return [hold for hold in self.wall.holds if _may_be_released(hold, self.wall)]

    @property
    def is_level(self) -> bool:
        return self.wall.curve.heights.is_level

    @property
    def studs(self) -> int | None:
        return self.wall.stud_count if self.wall.framing.is_complete else None

    @property
    def sheets(self) -> int:
        return sum(len(plan.sheets) for plan in self.wall.face_plans)


def _may_be_released(hold: Hold, wall: WallWorkUp) -> bool:
    """What a named person may release with a reason; what came with a file is confirmed instead."""
    if hold.finding.weight != "decide" or hold.dimension == TEMPLATE:
        return False
    return any(mark.dimension == hold.dimension and mark.mark.how in UNREAD for mark in wall.spec.taken.marks)


def _piece_lines(piece: CurvePiece, wall: WallWorkUp, decisions: list[Decision], system: System) -> PieceLines:
    number, along = piece.index + 1, format_length(piece.length_at(0.0), system)
    if piece.is_template:
        ends = format_length(piece.chord_mm or 0.0, system)
        return PieceLines(number, f"to a template only, {along} by tape, {ends} from end to end; no bend is checked.")
    if not piece.is_arc:
        return PieceLines(number, f"straight, {along}.")
    tight = {decision.face for decision in decisions if decision.piece == piece.index}
    inner: Face = "left" if piece.turn > 0 else "right"
    outer: Face = "right" if inner == "left" else "left"
    faces: tuple[tuple[Face, str], ...] = (
        (inner, "finished"),
        (inner, "framing"),
        (outer, "framing"),
        (outer, "finished"),
    )
    rows = tuple(_line(piece, wall, face, kind, tight, system) for face, kind in faces)
    return PieceLines(number, f"turns {'left' if piece.turn > 0 else 'right'}", rows)


def _line(
    piece: CurvePiece, wall: WallWorkUp, face: Face, kind: str, tight: set[Face | None], system: System
) -> LineRow:
    curve, line = wall.curve, _named(face, kind)
    offset, is_finished = curve.offset_mm(line), kind == "finished"
    radius_mm, length_mm = piece.radius_at(offset), piece.length_at(offset)
    is_single = is_finished and len(curve.pieces) == 1 and bool(wall.spec.face(face).layers)
    side = side_name(face, piece)
    return LineRow(
        f"{side.capitalize()} {kind} face",
        f"{face} side",
        (format_length(radius_mm, system), _exactly(radius_mm, system)),
        (format_length(length_mm, system), _exactly(length_mm, system)),
        format_area(wall.finished_area_mm2(face), system) if is_single else "",
        "; ".join(_uses(line, side, is_finished, curve, piece)),
        is_finished,
        is_finished and face in tight,
    )


def _uses(line: Line, side: str, is_finished: bool, curve: Curve, piece: CurvePiece) -> list[str]:
    uses = ["trim is ordered at this radius"] if is_finished else []
    if line == resolve_line(curve.measured_on, piece.turn):
        uses.append("measured here")
    return uses + ([] if is_finished else ["track"] if side == "convex" else ["first board"])


def _named(face: Face, kind: str) -> Line:
    return f"{face}_{kind}"  # type: ignore[return-value]


def _exactly(mm: float, system: System) -> str:
    return f"{mm / MM_PER_INCH:.2f} in" if system == "imperial" else f"{mm:.1f} mm"


def whole_wall(wall: WallWorkUp, system: System) -> list[tuple[str, str]]:
    """Lengths and areas of both finished faces."""
    lines = ((face, _named(face, "finished")) for face in FACES)
    return [
        (
            f"{face.capitalize()} finished face",
            ", ".join(
                filter(
                    None,
                    (
                        format_length(wall.curve.length_mm(line), system),
                        format_area(wall.finished_area_mm2(face), system) if wall.spec.face(face).layers else "",
                    ),
                )
            ),
        )
        for face, line in lines
    ]
