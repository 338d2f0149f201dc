"""The setting-out tables of a wall: ordinates, one baseline, centres, tangents and check diagonals."""

import math
from collections.abc import Callable, Iterable
from typing import Literal

from catalog.core.ground.units import System, format_degrees
from jobs.core.framing.setting_out import (
    CentreTies,
    OrdinateTable,
    centre_ties,
    check_diagonals,
    laser_marks,
    offsets_from_baseline,
    ordinates_from_chord,
)
from jobs.core.measure.curve import Curve, CurvePiece, Point
from jobs.core.measure.room_tie import RoomPlace, chain_line
from jobs.core.measure.survey import LINES, SurveyError
from jobs.site.papers.site_parts import SiteSection, SiteTable
from jobs.site.services.room import in_the_room
from jobs.site.services.words import (
    INTERVAL_MM,
    LASER_REACH_MM,
    LINE_WORDS,
    Say,
    lengths_in,
    piece_words,
)

Depth = Literal["concave", "convex"]
SIDES: tuple[Depth, ...] = ("convex", "concave")
NO_PLACE = "Nothing ties this wall to the building: agree on its start and its direction before anything is marked."
SAYS = (
    "Left and right are as seen walking the wall from its start to its end. A framing face is the outside of the "
    "studs and the track, before any board.",
    "Mark the chord of an arc on the floor from start to end, go along it from the start, and square off by the "
    "ordinate. Prove the check diagonals before anything is fixed.",
)


def setting_out(
    curve: Curve, system: System, place: RoomPlace | None = None, interval_mm: float | None = None
) -> SiteSection:
    """place: the wall in the room, None while it is not tied. interval_mm: of the ordinates, None for the usual."""
    every_mm = interval_mm or INTERVAL_MM[system]
    sentences: list[str] = []
    tables: list[SiteTable] = [in_the_room(place, system)] if place else []
    makers: tuple[Callable[[], Iterable[SiteTable]], ...] = (
        lambda: _pieces(curve, system),
        lambda: _ordinates(curve, system, every_mm),
        lambda: _baseline(curve, system, every_mm),
        lambda: _centres(curve, system),
        lambda: _tangents(curve, system),
        lambda: _diagonals(curve, system),
    )
    for make in makers:
        try:
            tables += make()
        except SurveyError as error:
            sentences.append(f"{error.reason[:1].upper()}{error.reason[1:]}.")
    return SiteSection("Setting out", (*([] if place else [NO_PLACE]), *SAYS, *sentences), tuple(tables))


def _pieces(curve: Curve, system: System) -> Iterable[SiteTable]:
    say = lengths_in(system)
    rows = []
    for piece in curve.pieces:
        figures: list[str] = []
        for line in ("left_framing", "right_framing"):
            offset = curve.offset_mm(line)
            figures += [_radius(piece, offset, say), say(piece.length_at(offset))]
        rows.append((piece_words(piece), _shape(piece), *figures))
    columns = ("Piece", "Shape", "Left framing radius", "Left length", "Right framing radius", "Right length")
    yield SiteTable("Pieces, in walking order", columns, tuple(rows), words=(0, 1), front=1)


def _radius(piece: CurvePiece, offset_mm: float, say: Say) -> str:
    if piece.is_template:
        return "to a template"
    return say(piece.radius_at(offset_mm)) if piece.is_arc else "straight"


def _shape(piece: CurvePiece) -> str:
    kink = ""
    if piece.index and abs(piece.kink_rad) > 1e-9:
        kink = f"kink of {format_degrees(piece.kink_rad, 2)}° before it; "
    if piece.is_template:
        return f"{kink}to a template, turning {format_degrees(piece.turned_rad, 2)}° in all, left positive"
    if not piece.is_arc:
        return f"{kink}straight"
    return f"{kink}turns {'left' if piece.turn > 0 else 'right'} through {format_degrees(piece.sweep_rad, 2)}°"


def _ordinates(curve: Curve, system: System, every_mm: float) -> Iterable[SiteTable]:
    for piece in (piece for piece in curve.pieces if piece.is_arc):
        for side in SIDES:
            line = curve.line_of(piece, side, "framing")
            for table in ordinates_from_chord(curve, piece.index, line, every_mm):
                heading = f"{piece_words(piece)}, {side} framing face ({line.partition('_')[0]})"
                yield _ordinate_table(table, heading, lengths_in(system))


def _ordinate_table(table: OrdinateTable, heading: str, say: Say) -> SiteTable:
    if table.parts > 1:
        heading += f", {'first' if table.part == 1 else 'second'} half of the arc"
    note = (
        f"Chord {say(table.chord_mm)}, rise {say(table.rise_mm)}, radius {say(table.radius_mm)}. "
        f"Ordinates stand to the {table.side} of the chord."
    )
    rows = tuple((say(row.along_mm), say(row.ordinate_mm)) for row in table.rows)
    return SiteTable(heading, ("Along the chord", "Ordinate"), rows, words=(), notes=(note,), narrow=True, front=1)


def _baseline(curve: Curve, system: System, every_mm: float) -> Iterable[SiteTable]:
    if len(curve.pieces) < 2 or curve.is_closed:
        return
    say, line = lengths_in(system), chain_line(curve)
    rows = tuple(
        (
            say(row.along_mm),
            f"{say(abs(row.offset_mm))}{_hand(row.offset_mm)}",
            str(row.piece_index + 1),
            say(row.on_line_mm),
            "end or joint" if row.joint else "",
        )
        for row in offsets_from_baseline(curve, line, every_mm)
    )
    columns = ("Along the baseline", "Square off", "Piece", "Tape along the face", "")
    note = (
        f"The baseline is the straight from the start to the end of the {LINE_WORDS[line]}; all marks are on that face."
    )
    yield SiteTable("The whole wall from one baseline", columns, rows, words=(4,), notes=(note,))


def _hand(offset_mm: float) -> str:
    if abs(offset_mm) < 0.5:
        return ""
    return " left" if offset_mm > 0 else " right"


def _centres(curve: Curve, system: System) -> Iterable[SiteTable]:
    say, rows, notes = lengths_in(system), [], []
    for piece in (piece for piece in curve.pieces if piece.is_arc):
        offset = curve.offset_mm(curve.line_of(piece, "convex", "framing"))
        try:
            ties = centre_ties(curve, piece.index, piece.point_at(0.0, offset), piece.point_at(1.0, offset))
        except SurveyError as error:
            notes.append(f"{piece_words(piece)}: {error.reason}.")
            continue
        rows.append(
            (piece_words(piece), say(ties.from_first_mm), say(ties.from_second_mm), ties.side, *_radii(ties, say))
        )
        if not ties.is_good:
            crossing = math.degrees(ties.crossing_rad)
            notes.append(
                f"{piece_words(piece)}: the tapes cross at only {crossing:.0f}°, a poor fix; use the ordinates."
            )
    if rows or notes:
        lead = (
            "Tapes are held at the start and at the end of the arc on its convex framing face; "
            "swing the radii from where they cross."
        )
        columns = (
            "Piece",
            "From the start",
            "From the end",
            "Side",
            *(LINE_WORDS[line].capitalize() for line in LINES),
        )
        yield SiteTable("Centres and radii to swing", columns, tuple(rows), words=(0, 3), notes=(lead, *notes))


def _radii(ties: CentreTies, say: Say) -> tuple[str, ...]:
    known = dict(ties.radii_mm)
    return tuple(say(known[line]) for line in LINES)


def _tangents(curve: Curve, system: System) -> Iterable[SiteTable]:
    say, line, reach = lengths_in(system), chain_line(curve), LASER_REACH_MM[system]
    seen = _from_baseline(curve)
    rows = []
    for tangents in laser_marks(curve, line, reach):
        for mark in (tangents.start, tangents.end):
            crossing = say(tangents.tangent_mm) if tangents.tangent_mm is not None else "do not cross"
            rows.append(
                (
                    f"Piece {mark.piece_index + 1}, {mark.end}",
                    *_two(seen(mark.at), say),
                    *_two(seen(mark.on), say),
                    crossing,
                )
            )
    if rows:
        columns = ("End of the arc", "Mark: along", "across", "Second mark: along", "across", "Tangents cross after")
        where = (
            "the wall's start heading, as the wall is closed" if curve.is_closed else "the baseline from start to end"
        )
        note = (
            f"A line laser through both marks is the tangent of the {LINE_WORDS[line]}; the second mark stands "
            f"{say(reach)} clear of the arc. Along and across are from the start of that face, on {where}."
        )
        yield SiteTable("Laser marks at the ends of each arc", columns, tuple(rows), notes=(note,))


def _from_baseline(curve: Curve) -> Callable[[Point], Point]:
    offset = curve.offset_mm(chain_line(curve))
    x0, y0 = curve.pieces[0].point_at(0.0, offset)
    x1, y1 = curve.pieces[-1].point_at(1.0, offset)
    turn = curve.pieces[0].heading_rad if curve.is_closed else math.atan2(y1 - y0, x1 - x0)
    c, s = math.cos(turn), math.sin(turn)

    def seen(point: Point) -> Point:
        dx, dy = point[0] - x0, point[1] - y0
        return dx * c + dy * s, dy * c - dx * s

    return seen


def _two(point: Point, say: Say) -> tuple[str, str]:
    return say(point[0]), f"{say(abs(point[1]))}{_hand(point[1])}"


def _diagonals(curve: Curve, system: System) -> Iterable[SiteTable]:
    say, line = lengths_in(system), chain_line(curve)
    rows = tuple(
        (diagonal.from_name, diagonal.to_name, say(diagonal.length_mm)) for diagonal in check_diagonals(curve, line)
    )
    if rows:
        note = f"Straight distances between points of the {LINE_WORDS[line]}."
        yield SiteTable(
            "Check diagonals", ("From", "To", "Distance"), rows, words=(0, 1), notes=(note,), narrow=True, front=1
        )
