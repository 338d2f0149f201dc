"""A field check as a JSON value."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from catalog.core.ground.plain_text import money, plain
from jobs.core.results.result_documents import finding
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
                "material": one.material,
                "name": one.name,
                "unit": one.unit,
                "quoted": plain(one.quoted),
                "confirmed": plain(one.confirmed),
                "quoted_cost": money(one.quoted_cost),
                "confirmed_cost": money(one.confirmed_cost),
            }
            for one in moved.purchases
        ],
        "findings": [finding(one) for one in moved.findings],
        "material_cost": sides(moved.quoted_cost, moved.confirmed_cost, moved.cost_difference),
    }


def sides(quoted: Decimal | None, confirmed: Decimal | None, difference: Decimal | None) -> Document:
    """An amount of money on both sides.

    quoted, confirmed, difference: money, None while not known. Returns them as text with two places. Raises nothing.

    >>> sides(Decimal(10), None, None)
    {'quoted': '10.00', 'confirmed': None, 'difference': None}
    """
    return {"quoted": money(quoted), "confirmed": money(confirmed), "difference": money(difference)}
