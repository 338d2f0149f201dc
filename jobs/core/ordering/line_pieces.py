"""The pieces an order line orders, one by one: each with its number, its place and how it came; and a run of them as
whoever faces it sees it, counted from which hand, how pieces bend, what is left out."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Literal, get_args

from catalog.core.ground.refusal import InvalidValue
from jobs.core.ordering.order_lines import (
    PIECE,
    OrderStatement,
    StatedCurve,
    StatedPiece,
    StatedRadius,
    StatedRun,
    counted_words,
)
from jobs.core.trim.trim_order import MEASURED_AT

Hand = Literal["left", "right"]
PieceState = Literal["good", "damaged", "wrong"]
PIECE_STATES: tuple[PieceState, ...] = get_args(PieceState)
BAD: frozenset[str] = frozenset({"damaged", "wrong"})
PieceKey = tuple[str, str, int]
"""Names of wall and run, and the place of the piece in its run: the same on every order."""


class LinePiecesError(InvalidValue):
    """Pieces that are none of a line; the message says which there are."""


@dataclass(frozen=True)
class LinePiece:
    """One piece of an order line.

    number: of the line, from 1. wall, run: their names. place: in its run, from 1 at the start of the wall. length_mm:
    as ordered. curves: what it follows, in order; empty where that was not stated when it was ordered.
    """

    number: int
    wall: str
    run: str
    place: int
    length_mm: float
    curves: tuple[StatedCurve, ...] = ()

    @property
    def key(self) -> PieceKey:
        return self.wall, self.run, self.place


def pieces_of(statement: OrderStatement, quantity: Decimal) -> tuple[LinePiece, ...]:
    """The pieces a line orders, in the order they are stated.

    Args:
        statement: of the line. quantity: how much of what is stated the line orders.

    Returns:
        The pieces; none for what is bought by the pack, and none for a line that orders only some of what it states,
        for nobody can tell which.

    Raises:
        Nothing.

    Source: own rule.

    >>> run = StatedRun("W", "Base", "P", "", "", "", "true arc", (), (900.0, 900.0), 0, None, (), ())
    >>> base = OrderStatement("B", "Base", Decimal(2), "pieces", (), (run,))
    >>> [(entry.number, entry.place, entry.length_mm) for entry in pieces_of(base, Decimal(2))]
    [(1, 1, 900.0), (2, 2, 900.0)]
    >>> pieces_of(base, Decimal(1))
    ()
    """
    pieces = [piece for run in statement.runs for piece in _of_run(run)]
    if len(pieces) != quantity:
        return ()
    return tuple(replace(piece, number=number) for number, piece in enumerate(pieces, start=1))


def _of_run(run: StatedRun) -> Iterable[LinePiece]:
    for nth, length_mm in enumerate(run.piece_lengths_mm):
        stated = run.pieces[nth] if run.pieces else None
        place, curves = (stated.place, stated.curves) if stated else (nth + 1, ())
        yield LinePiece(0, run.wall, run.run, place, length_mm, curves)


def only_pieces(statement: OrderStatement, numbers: Collection[int]) -> OrderStatement:
    """What a line states that orders just these pieces of another; all else of their runs stays as it was stated.

    Args:
        statement: of the whole line. numbers: of its pieces, as `pieces_of` counts them.

    Returns:
        The statement, with the radii those pieces follow where that is stated.

    Raises:
        LinePiecesError: no number, or one the line does not have.

    Source: own rule.

    >>> run = StatedRun("W", "Base", "P", "", "", "", "true arc", (), (900.0, 1200.0), 0, None, (), ())
    >>> only_pieces(OrderStatement("B", "Base", Decimal(2), "pieces", (), (run,)), [2]).piece_lengths_mm
    (1200.0,)
    """
    count, wanted = len(statement.piece_lengths_mm), set(numbers)
    if not wanted or not wanted <= set(range(1, count + 1)):
        raise LinePiecesError(f"Name pieces of the line by number, from 1 to {count}.")
    runs, first = list[StatedRun](), 1
    for run in statement.runs:
        pieces = [nth for nth in range(len(run.piece_lengths_mm)) if first + nth in wanted]
        first += len(run.piece_lengths_mm)
        if pieces:
            runs.append(pieces_kept(run, pieces))
    unit = counted_words(PIECE, len(wanted))
    return replace(statement, quantity=Decimal(len(wanted)), unit=unit, packs=(), runs=tuple(runs))


def pieces_kept(run: StatedRun, numbers: Sequence[int]) -> StatedRun:
    """A run of just these pieces.

    run: as stated. numbers: places in its list of pieces, from 0. Returns the run, with the radii they follow.

    >>> run = StatedRun("W", "Base", "P", "", "", "", "true arc", (), (900.0, 1200.0), 0, None, (), ())
    >>> pieces_kept(run, [1]).pieces[0].place
    2
    """
    places = [piece.place for piece in _of_run(run)]
    pieces = tuple(StatedPiece(places[nth], run.pieces[nth].curves if run.pieces else ()) for nth in numbers)
    followed = {(curve.piece, curve.side) for piece in pieces for curve in piece.curves}
    radii = tuple(radius for radius in run.radii if not followed or (radius.piece, radius.side) in followed)
    lengths = tuple(run.piece_lengths_mm[nth] for nth in numbers)
    return replace(run, piece_lengths_mm=lengths, pieces=pieces, radii=radii)


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
    starts: set[Hand] = {faces[radius.measured_at] for radius in run.radii if radius.measured_at in faces}  # type: ignore[misc]
    return starts.pop() if len(starts) == 1 else None


def curves_from_left(run: StatedRun, piece: LinePiece) -> tuple[StatedCurve, ...]:
    """What a piece follows, from its left end on for whoever faces it.

    run, piece: as stated. Returns its curves; in the order of the wall where the hand is not known. Source: as for
    `starts_at`.

    >>> bends = StatedCurve(1, "straight", 0.0, 300.0), StatedCurve(2, "concave", 4000.0, 900.0)
    >>> radius = StatedRadius(2, "concave", 4000.0, MEASURED_AT["left"], 900.0)
    >>> run = StatedRun("W", "Base", "P", "", "", "", "true arc", (radius,), (), 0, None, (), ())
    >>> [entry.side for entry in curves_from_left(run, LinePiece(1, "W", "Base", 1, 1200.0, bends))]
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
