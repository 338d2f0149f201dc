"""What the parts of a plan are called, and the table of a wall's pieces."""

from __future__ import annotations

import math

from catalog.core.ground.units import System, format_degrees, format_length
from jobs.core.measure.curve import Curve, CurvePiece, Face, OpeningOnCurve, resolve_line
from jobs.core.measure.survey import Line

FACE_LINES: dict[Face, Line] = {"left": "left_finished", "right": "right_finished"}


def face_name(face: Face, piece: CurvePiece) -> str:
    """What a face is called beside a piece: its side of the walk and, on an arc, which way it bows.

    >>> arc = CurvePiece(0, -1, 100.0, 1.0, 100.0, 0.0, (0.0, 0.0), 0.0, 0.0)
    >>> face_name("left", arc), face_name("right", arc)
    ('Left face, convex', 'Right face, concave')
    """
    return f"{face.capitalize()} face" + (f", {side_name(face, piece)}" if piece.is_arc else "")


def side_name(face: Face, piece: CurvePiece) -> str:
    return "concave" if (face == "left") == (piece.turn > 0) else "convex"


def opening_size(laid: OpeningOnCurve, system: System) -> str:
    width, height = laid.opening.width_mm, laid.opening.height_mm
    rise = laid.opening.arch_rise_mm
    arch = f", arch rising {format_length(rise, system)}" if rise is not None else ""
    return f"{format_length(width, system)} × {format_length(height, system)}{arch}"


def measured_radius(curve: Curve, piece: CurvePiece, system: System) -> str:
    """Radius of the line the tape followed, and which line that is."""
    line = resolve_line(curve.measured_on, piece.turn)
    name = curve.measured_on.replace("_", " ") if line != "centre" else "centreline"
    return f"R {format_length(piece.radius_at(curve.offset_mm(line)), system)} {name}"


def chord_and_rise(curve: Curve, piece: CurvePiece) -> tuple[float, float]:
    """Chord and rise of an arc on the line the tape followed, mm."""
    radius = piece.radius_at(curve.offset_mm(resolve_line(curve.measured_on, piece.turn)))
    half = piece.sweep_rad / 2
    return 2 * radius * math.sin(half), radius * (1 - math.cos(half))


def piece_table(curve: Curve, system: System) -> list[tuple[str, ...]]:
    """Heading and one row for each piece: turn, angle, each finished face's radius and length, chord and rise."""
    rows: list[tuple[str, ...]] = [("Piece", "Turns", "Left face", "Length", "Right face", "Length", "Chord", "Rise")]
    for piece in curve.pieces:
        cells = [str(piece.index + 1)]
        turn = {1: "left", -1: "right", 0: "to a template" if piece.is_template else "straight"}[piece.turn]
        cells.append(f"{turn} {format_degrees(piece.sweep_rad)}°" if piece.is_arc else turn)
        for face, line in FACE_LINES.items():
            offset = curve.offset_mm(line)
            radius = format_length(piece.radius_at(offset), system)
            cells.append(f"{side_name(face, piece)} R {radius}" if piece.is_arc else "–")
            cells.append(format_length(piece.length_at(offset), system))
        figures: tuple[float, ...] = chord_and_rise(curve, piece) if piece.is_arc else ()
        if piece.chord_mm is not None:
            figures = (piece.chord_mm,)
        cells += [*(format_length(figure, system) for figure in figures), "–", "–"][:2]
        rows.append(tuple(cells))
    return rows
