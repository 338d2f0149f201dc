"""The pieces of an order line one by one, how each came, and which of them are to be ordered again."""

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from jobs.core.ordering.line_pieces import BAD, LinePiece, PieceKey, only_pieces, pieces_of
from jobs.core.ordering.order_lines import OrderStatement
from jobs.orders.models import OrderLine, OrderState
from jobs.orders.services.line_statement import statement_of_line
from jobs.orders.services.ordered_so_far import KEPT
from quoting.platform.models.columns import normalized


@dataclass(frozen=True)
class PieceCame:
    """state: good, damaged or wrong as it came last; empty while it has not come. is_kept: bad, and used as it is."""

    piece: LinePiece
    state: str = ""
    is_kept: bool = False

    @property
    def is_bad(self) -> bool:
        return self.state in BAD and not self.is_kept

    @property
    def is_here(self) -> bool:
        """Come, and fit for use."""
        return bool(self.state) and not self.is_bad


def pieces_of_line(line: OrderLine) -> tuple[LinePiece, ...]:
    """None for goods that are counted, and for a line of which something was checked in by count."""
    statement = statement_of_line(line)
    if statement is None or any(not receipt.pieces.all() for receipt in line.receipts.all()):
        return ()
    return pieces_of(statement, normalized(line.quantity))


def how_pieces_came(line: OrderLine, *, without_delivery: int | None = None) -> tuple[PieceCame, ...]:
    """What came last of each piece counts."""
    states: dict[int, tuple[str, bool]] = {}
    for receipt in sorted(line.receipts.all(), key=_when):
        if receipt.delivery_id == without_delivery:
            continue
        states |= {piece.number: (piece.state, receipt.outcome == KEPT) for piece in receipt.pieces.all()}
    return tuple(PieceCame(piece, *states.get(piece.number, ())) for piece in pieces_of_line(line))


def _when(receipt: Any) -> int:
    return receipt.pk


def to_order_again(line: OrderLine) -> tuple[LinePiece, ...]:
    """Pieces that came damaged or wrong and stand on no order in their place."""
    again = {key for replacement in line.replaced_by.all() for key in _stands_for(replacement)}
    return tuple(
        piece_came.piece
        for piece_came in how_pieces_came(line)
        if piece_came.is_bad and piece_came.piece.key not in again
    )


def _stands_for(line: OrderLine) -> Collection[PieceKey]:
    if line.order.state == OrderState.CALLED_OFF:
        return ()
    # What came bad of it is its own to make good; of a line that was given up nothing else stands.
    return [piece_came.piece.key for piece_came in how_pieces_came(line) if piece_came.state or line.ended_on is None]


def statement_of_pieces(line: OrderLine, pieces: Collection[LinePiece]) -> OrderStatement | None:
    """What an order states that orders just these pieces of a line again; None for none."""
    statement = statement_of_line(line)
    return only_pieces(statement, [piece.number for piece in pieces]) if statement and pieces else None
