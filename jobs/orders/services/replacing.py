"""What keeps the replacement of damaged or wrong goods from being placed, beside what keeps any order."""

from collections.abc import Iterator
from decimal import Decimal

from catalog.core.ground.units import format_both
from jobs.core.ordering.chosen_pieces import MovedRadius, is_still_stated, moved_radii
from jobs.core.ordering.line_pieces import pieces_of
from jobs.core.ordering.order_lines import OrderStatement
from jobs.orders.models import OrderLine
from jobs.orders.services.line_statement import statement_of_line
from jobs.orders.services.ordered_so_far import carried_line
from jobs.orders.services.pieces import how_pieces_came
from jobs.orders.services.replaced_pieces import pieces_known
from jobs.orders.services.replacement_lines import stands_for
from quoting.platform.models.columns import normalized


def stops_of_replacement(line: OrderLine, now: OrderStatement, what: str) -> Iterator[str]:
    """now: what the item states as the wall stands."""
    quantity, bad = normalized(line.quantity), still_bad(line)
    if quantity > bad:
        reason = f"this line orders {quantity:f}; only {bad:f} of what came damaged or wrong is left to order again"
        yield f"{what}: {reason}. Delete the order and start it again."
    stated = statement_of_line(line)
    if stated is None:
        return
    if not pieces_known(line):
        yield f"{what}: the pieces are not all alike. Choose which {quantity:f} are ordered again."
    yield from _not_bad(line, stated, what)
    moved = moved_radii(stated, now)
    for radius in moved:
        yield f"{what}: {_moved_words(radius)} Update the order."
    if not moved and not is_still_stated(stated, now):
        yield f"{what} has changed since it was ordered: update the order."


def _not_bad(line: OrderLine, stated: OrderStatement, what: str) -> Iterator[str]:
    """Pieces this line orders again though they came good, or were never ordered."""
    came = {came.piece.key: came for came in how_pieces_came(line.replaces)} if line.replaces else {}
    if not came:
        return
    for piece in pieces_of(stated, normalized(line.quantity)):
        if piece.key not in came or not came[piece.key].is_bad:
            place = f"{piece.wall}, {piece.run}, piece {piece.place}"
            yield f"{what}: {place} did not come damaged or wrong. Remove the line and start the order again."


def _moved_words(radius: MovedRadius) -> str:
    place = f"{radius.wall}, {radius.run}, piece {radius.piece}, {radius.side}"
    if radius.now_mm is None:
        return f"{place} was ordered at {format_both(radius.was_mm)}, and the wall has no such piece now."
    return f"{place} was ordered at {format_both(radius.was_mm)}; the wall now has {format_both(radius.now_mm)}."


def still_bad(line: OrderLine) -> Decimal:
    """How many of what a replacement replaces came damaged or wrong and are on no other replacement."""
    first = line.replaces
    if first is None:
        return Decimal(0)
    others = first.replaced_by.exclude(pk=line.pk).select_related("order")
    again = sum((stands_for(line) for line in others), Decimal(0))
    return normalized(max(Decimal(0), carried_line(first).short - again))
