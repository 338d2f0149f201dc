"""The pieces a replacement line orders: those of the line it replaces, chosen where they are not all alike."""

from collections.abc import Sequence
from decimal import Decimal

from catalog.core.ground.declared import write
from catalog.services.row_sync import save_if_changed
from jobs.core.ordering.chosen_pieces import (
    ChosenPiecesError,
    PieceKind,
    chosen_of,
    is_still_stated,
    kinds_of,
    same_pieces,
)
from jobs.core.ordering.order_lines import OrderStatement, part_of
from jobs.orders.models import OrderLine
from jobs.orders.services.line_statement import statement_of_line
from jobs.orders.services.pieces import how_pieces_came
from quoting.platform.models.columns import normalized


def pieces_known(line: OrderLine) -> bool:
    """Whether what the line states is just what it orders, or nothing is stated that could be told apart."""
    statement = statement_of_line(line)
    return statement is None or part_of(statement, normalized(line.quantity)) is not None


def to_choose_from(line: OrderLine) -> OrderStatement | None:
    """What the pieces of a replacement are chosen from; None where there is nothing to choose."""
    if line.replaces is None:
        return None
    stated, before = statement_of_line(line), statement_of_line(line.replaces)
    if stated is None or how_pieces_came(line.replaces):
        return None
    if not pieces_known(line):
        return stated
    is_part = before is not None and is_still_stated(stated, before)
    return before if is_part and before and part_of(before, normalized(line.quantity)) is None else None


def kinds_chosen(line: OrderLine, whole: OrderStatement) -> list[tuple[PieceKind, int]]:
    """Each kind there is, with how many of it the line orders; none while that is not known."""
    stated = statement_of_line(line)
    chosen = kinds_of(stated) if stated and pieces_known(line) else ()
    counts = {(kind.wall, kind.run, kind.label, kind.length_mm): kind.count for kind in chosen}
    return [(kind, counts.get((kind.wall, kind.run, kind.label, kind.length_mm), 0)) for kind in kinds_of(whole)]


def state_pieces(line: OrderLine, counts: Sequence[int]) -> None:
    """Raises ChosenPiecesError."""
    whole = to_choose_from(line)
    if whole is None:
        raise ChosenPiecesError("there is nothing to choose: its pieces are all alike, or it is not ordered again.")
    state(line, chosen_of(whole, counts))


def state(line: OrderLine, statement: OrderStatement) -> None:
    save_if_changed(line, {"statement": write(statement), "statement_mark": statement.mark})


def stated_part(statement: OrderStatement | None, quantity: Decimal) -> OrderStatement | None:
    return None if statement is None else part_of(statement, quantity) or statement


def renew_pieces(line: OrderLine, now: OrderStatement) -> None:
    """The same pieces as the item states them now; where nobody can tell them, the whole, to be chosen from again."""
    stated, before = statement_of_line(line), line.replaces and statement_of_line(line.replaces)
    part = part_of(now, normalized(line.quantity))
    if part is None and stated is not None and before is not None and pieces_known(line):
        part = stated if is_still_stated(stated, now) else same_pieces(stated, before, now)
    state(line, part or now)
