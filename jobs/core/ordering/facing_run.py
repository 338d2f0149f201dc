"""A run of pieces as whoever faces it sees it: from which hand it is counted, how pieces bend, what is left out."""

from __future__ import annotations

from typing import Literal

from jobs.core.ordering.line_pieces import LinePiece
from jobs.core.ordering.order_lines import StatedCurve, StatedRadius, StatedRun
from jobs.core.trim.trim_order import MEASURED_AT

Hand = Literal["left", "right"]


def starts_at(run: StatedRun) -> Hand | None:
    """At which hand of whoever faces the run the wall starts.

    run: as stated. Returns the hand; None where no radius says on which face it lies. Source: plane geometry; left and
    right faces are as seen while walking from the start, so the start of the right face is at the left of whoever
    faces it.

    >>> radius = StatedRadius(1, "convex", 3380.7, MEASURED_AT["right"], 4638.0)
    >>> starts_at(StatedRun("W", "Base", "P", "", "", "", "true arc", (radius,), (), 0, None, (), ()))
    'left'
    """
    faces = {MEASURED_AT["right"]: "left", MEASURED_AT["left"]: "right"}
    found: set[Hand] = {faces[one.measured_at] for one in run.radii if one.measured_at in faces}  # type: ignore[misc]
    return found.pop() if len(found) == 1 else None


def curves_from_left(run: StatedRun, piece: LinePiece) -> tuple[StatedCurve, ...]:
    """What a piece follows, from its left end on for whoever faces it.

    run, piece: as stated. Returns its curves; in the order of the wall where the hand is not known. Source: as for
    `starts_at`.

    >>> bends = StatedCurve(1, "straight", 0.0, 300.0), StatedCurve(2, "concave", 4000.0, 900.0)
    >>> radius = StatedRadius(2, "concave", 4000.0, MEASURED_AT["left"], 900.0)
    >>> run = StatedRun("W", "Base", "P", "", "", "", "true arc", (radius,), (), 0, None, (), ())
    >>> [one.side for one in curves_from_left(run, LinePiece(1, "W", "Base", 1, 1200.0, bends))]
    ['concave', 'straight']
    """
    return piece.curves[::-1] if starts_at(run) == "right" else piece.curves


def left_out_mm(run: StatedRun, radius: StatedRadius) -> float | None:
    """How much of an arc the pieces of a whole run leave out, where openings stand.

    run: as stated, with all its pieces. radius: of the run. Returns mm along the arc, >= 0; None where it is not stated
    where its pieces go. Source: the arc's length less what pieces follow of it.

    >>> radius = StatedRadius(1, "concave", 3263.0, MEASURED_AT["left"], 4000.0)
    >>> left_out_mm(StatedRun("W", "Base", "P", "", "", "", "true arc", (radius,), (), 0, None, (), ()), radius)
    """
    if not run.pieces:
        return None
    followed = [curve.length_mm for piece in run.pieces for curve in piece.curves if curve.piece == radius.piece]
    return max(0.0, radius.arc_length_mm - sum(followed))
