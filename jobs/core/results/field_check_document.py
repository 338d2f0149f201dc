"""A field check as a JSON value."""

from __future__ import annotations

from dataclasses import asdict
from decimal import Decimal
from typing import Any

from catalog.core.ground.lengths import length
from catalog.core.ground.plain_text import money, plain
from catalog.core.ground.units import System
from jobs.core.ordering.wall_moves import OrderedFit, WallMoves
from jobs.core.takeoff.field_check import FieldCheck

Document = dict[str, Any]


def field_check_document(moved: FieldCheck) -> Document:
    """What a confirmed wall moves.

    Args:
        moved: the check; quantities in the unit each line names.

    Returns:
        A JSON value: quantities as text, None where a line is not on that side; money as text with two places, None
        while a gap is open.

    Raises:
        nothing.

    >>> field_check_document(FieldCheck((), (), Decimal("100.00"), Decimal("108.50"), ()))["material_cost"]
    {'quoted': '100.00', 'confirmed': '108.50', 'difference': '8.50'}
    """
    return {
        "lines": [
            {
                "key": line.key,
                "label": line.label,
                "material": line.material,
                "unit": line.unit,
                "quoted": plain(line.quoted),
                "confirmed": plain(line.confirmed),
                "difference": plain(line.difference),
            }
            for line in moved.lines
        ],
        "purchases": [
            {
                "material": purchase.material,
                "name": purchase.name,
                "unit": purchase.unit,
                "quoted": plain(purchase.quoted),
                "confirmed": plain(purchase.confirmed),
                "quoted_cost": money(purchase.quoted_cost),
                "confirmed_cost": money(purchase.confirmed_cost),
            }
            for purchase in moved.purchases
        ],
        "findings": [asdict(entry) for entry in moved.findings],
        "material_cost": sides(moved.quoted_cost, moved.confirmed_cost, moved.cost_difference),
    }


def wall_moves_document(moves: WallMoves, system: System) -> Document:
    """The radii that move, the ordered pieces beside them, and who must know.

    moves: of one wall. system: of the words. Returns a JSON value, None where a piece is not there. Raises nothing.

    >>> wall_moves_document(WallMoves((), (), ()), "metric")
    {'radii': [], 'ordered': [], 'inform': []}
    """
    return {
        "radii": [
            {
                "piece": radius.piece,
                "line": radius.line,
                "quoted": _length(radius.was_mm, system),
                "confirmed": _length(radius.now_mm, system),
            }
            for radius in moves.radii
        ],
        "ordered": [_ordered(fit, system) for fit in moves.ordered],
        "inform": [{"who": step.step, "sentence": step.sentence} for step in moves.inform],
    }


def _ordered(fit: OrderedFit, system: System) -> Document:
    return {
        "order": fit.order,
        "where": fit.where,
        "run": fit.moved.run,
        "piece": fit.moved.piece,
        "side": fit.moved.side,
        "made_to": _length(fit.moved.was_mm, system),
        "wall": _length(fit.moved.now_mm, system),
        "flex": _length(fit.flex_mm, system),
        "fit": fit.fit,
        "sentence": fit.words(system),
    }


def _length(length_mm: float | None, system: System) -> Document | None:
    return None if length_mm is None else length(length_mm, system)


def sides(quoted: Decimal | None, confirmed: Decimal | None, difference: Decimal | None) -> Document:
    """An amount of money on both sides.

    quoted, confirmed, difference: money, None while not known. Returns them as text with two places. Raises nothing.

    >>> sides(Decimal(10), None, None)
    {'quoted': '10.00', 'confirmed': None, 'difference': None}
    """
    return {"quoted": money(quoted), "confirmed": money(confirmed), "difference": money(difference)}
