"""The number of the sheet each board is cut from: sheets of one board are numbered over the whole job."""

from collections.abc import Mapping

from jobs.core.boards.boards import BoughtSheet
from jobs.core.takeoff.takeoff import Purchase, Takeoff

Board = tuple[str, str, int]
"""Key of the wall, face, number of the board on it."""
SheetNumbers = Mapping[Board, int]
NO_NUMBERS: SheetNumbers = {}


def sheets_of(purchase: Purchase) -> list[tuple[int, BoughtSheet]]:
    """The sheets of a purchase of board with their numbers, from 1."""
    sheets = purchase.sheets.sheets if purchase.sheets else ()
    return list(enumerate((sheet for sheet in sheets if sheet.board == purchase.material), start=1))


def sheet_numbers(takeoff: Takeoff) -> SheetNumbers:
    return {
        purchase.sheets.pieces[piece - 1]: number
        for purchase in takeoff.purchases
        if purchase.sheets is not None
        for number, sheet in sheets_of(purchase)
        for piece in sheet.pieces
    }
