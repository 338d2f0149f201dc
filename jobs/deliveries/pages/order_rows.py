"""The rows of a placed order: a line, or alike pieces of a line, as ordered, as confirmed and as they came."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from catalog.core.ground.plain_text import plain
from catalog.core.ground.units import TOLERANCE_MM, System, format_length, format_measure
from jobs.core.ordering.line_pieces import BAD, LinePiece
from jobs.core.ordering.order_lines import OrderStatement, count_in_words
from jobs.core.ordering.receiving import ReceiptState
from jobs.core.ordering.wall_moves import OrderedFit
from jobs.deliveries.services.comparing_orders import ComparedLine
from jobs.orders.models import OrderLine
from jobs.orders.pages.shown import piece_words
from jobs.orders.services.line_statement import statement_of_line
from jobs.orders.services.pieces import PieceCame, how_pieces_came


@dataclass(frozen=True)
class OrderRow:
    """Alike pieces of a run, or a whole line where its pieces are not told apart. differs: confirmed otherwise.

    changed: what the wall asks now, in words; empty while it is as ordered. fits: whether the pieces flex so far.
    """

    label: str
    ordered: str
    confirmed: str
    differs: bool
    came: str
    is_bad: bool
    changed: str = ""
    fits: bool = True


def rows_of_line(
    line: OrderLine,
    state: ReceiptState,
    confirmed: ComparedLine | None,
    changed: Sequence[OrderedFit],
    system: System,
) -> list[tuple[str, list[OrderRow]]]:
    """Run by run, each with its name; goods that are counted are one row without one."""
    pieces, statement = how_pieces_came(line), statement_of_line(line)
    if not pieces or statement is None:
        return [("", [_counted(line, state, confirmed)])]
    confirmed_pieces = _Said(statement, confirmed, system)
    rows = [
        (f"{came.piece.run}, {came.piece.wall}", came, _row(came, confirmed_pieces, changed, system)) for came in pieces
    ]
    return [
        (run, list(_together([(came.piece.place, row) for _, came, row in mine])))
        for run, mine in ((run, list(mine)) for run, mine in groupby(rows, lambda row: row[0]))
    ]


def _together(rows: Sequence[tuple[int, OrderRow]]) -> Iterator[OrderRow]:
    """Pieces that are alike in everything are one row."""
    alike: dict[OrderRow, list[int]] = {}
    for place, row in rows:
        alike.setdefault(row, []).append(place)
    for row, places in alike.items():
        yield OrderRow(_places(places), *_rest(row))


def _rest(row: OrderRow) -> tuple[str, str, bool, str, bool, str, bool]:
    return row.ordered, row.confirmed, row.differs, row.came, row.is_bad, row.changed, row.fits


def _places(places: Sequence[int]) -> str:
    if len(places) > 2 and list(places) == list(range(places[0], places[-1] + 1)):
        return f"{places[0]} to {places[-1]}"
    return ", ".join(map(str, places))


def _row(came: PieceCame, confirmed_pieces: "_Said", changed: Sequence[OrderedFit], system: System) -> OrderRow:
    moved = [fit for fit in changed if _is_of(fit, came.piece)]
    confirmed, differs = confirmed_pieces.of(came.piece)
    return OrderRow(
        "",
        piece_words(came.piece, system),
        confirmed,
        differs,
        f"{came.state}, kept" if came.is_kept and came.state in BAD else came.state or "to come",
        came.is_bad,
        "; ".join(dict.fromkeys(_changed(fit, system) for fit in moved)),
        all(fit.fit == "fits" for fit in moved),
    )


def _is_of(fit: OrderedFit, piece: LinePiece) -> bool:
    mine = (fit.moved.wall, fit.moved.run) == (piece.wall, piece.run)
    follows = {(curve.piece, curve.side) for curve in piece.curves}
    return mine and (not follows or (fit.moved.piece, fit.moved.side) in follows)


def _changed(fit: OrderedFit, system: System) -> str:
    was = format_measure(fit.moved.was_mm, system)
    if fit.moved.now_mm is None:
        return f"R {was}: the wall has no such piece now"
    now = format_measure(fit.moved.now_mm, system)
    ends = {"fits": "it flexes that far", "too_far": "too far to flex", "not_known": "flex not stated"}
    return f"R {was} to {now}: {ends[fit.fit]}"


class _Said:
    """What was confirmed of each piece of a line, where that can be told."""

    def __init__(self, statement: OrderStatement, confirmed: ComparedLine | None, system: System) -> None:
        self.confirmed, self.system = confirmed, system
        self.lengths = self._lengths(statement)
        self.radii = self._radii(statement)

    def of(self, piece: LinePiece) -> tuple[str, bool]:
        if self.confirmed is None:
            return "not yet", False
        differ = {difference.compared for difference in self.confirmed.comparison.differences}
        figures = []
        length_mm = self.lengths.get(piece.number, piece.length_mm)
        if "lengths" in differ and abs(length_mm - piece.length_mm) > TOLERANCE_MM:
            figures.append(format_length(length_mm, self.system))
        if "radius" in differ:
            for curve in piece.curves:
                radius_mm = self.radii.get((piece.wall, piece.run, curve.piece, curve.side))
                if curve.radius_mm and radius_mm is not None and abs(radius_mm - curve.radius_mm) > TOLERANCE_MM:
                    figures.append(f"R {format_length(radius_mm, self.system)}")
        return (", ".join(dict.fromkeys(figures)), True) if figures else ("as ordered", False)

    def _lengths(self, statement: OrderStatement) -> Mapping[int, float]:
        given = self.confirmed.row.lengths_mm if self.confirmed else ()
        return dict(enumerate(given, start=1)) if len(given) == len(statement.piece_lengths_mm) else {}

    def _radii(self, statement: OrderStatement) -> Mapping[tuple[str, str, int, str], float]:
        given = self.confirmed.row.radii_mm if self.confirmed else ()
        keys = [(run.wall, run.run, radius.piece, radius.side) for run in statement.runs for radius in run.radii]
        return dict(zip(keys, given, strict=True)) if len(given) == len(keys) else {}


def _counted(line: OrderLine, state: ReceiptState, confirmed: ComparedLine | None) -> OrderRow:
    figures = ((state.good, "good"), (state.damaged, "damaged"), (state.wrong, "wrong"))
    came = [f"{plain(count)} {word}" for count, word in figures if count]
    came += [f"{plain(state.open)} to come"] if state.open else []
    if state.standing == "complete" and not state.short and len(came) == 1:
        came = ["good"]
    words, differs = "not yet", False
    if confirmed is not None:
        quantity = confirmed.row.quantity
        differs = any(difference.compared == "quantity" for difference in confirmed.comparison.differences)
        words = plain(quantity) or "" if differs else "as ordered"
    return OrderRow("", count_in_words(line.quantity, line.unit), words, differs, ", ".join(came), bool(state.short))
