"""What a change of the walls does to materials that are priced as one sum, which does not follow the walls itself."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from jobs.core.takeoff.takeoff import Takeoff
from quoting.core.changes.change_notes import ZERO, ChangeError
from quoting.core.quotes.quote_sheet import sheet_of
from quoting.core.quotes.work_up import WorkUp


def with_materials_of(before: WorkUp, after: WorkUp) -> WorkUp:
    """The changed job, its materials priced by what it takes more or less.

    Args:
        before, after: the job without and with the change, made alike by `set_alike` and worked up on one day.

    Returns:
        `after` as it is where its materials follow the takeoff or their sum was entered anew; else with that sum moved
        by the difference of the two takeoffs.

    Raises:
        ChangeError: what is missing on the changed walls, or the cost of a material that differs; or the sum would be
            under zero.

    Source: own rule; a sum nobody changed is no price of other materials.
    """
    old, new = before.read.pricing, after.read.pricing
    if old is None or new is None or new.entered_materials is None or old.entered_materials != new.entered_materials:
        return after
    known = {entry.key for entry in before.takeoff.findings}
    for finding in after.takeoff.findings:
        if finding.weight == "gap" and finding.key not in known:
            raise ChangeError(finding.sentence)
    entered = new.entered_materials + materials_difference(before.takeoff, after.takeoff)
    if entered < 0:
        raise ChangeError("The materials would come to less than nothing; enter their new sum under Price.")
    read = replace(after.read, pricing=replace(new, entered_materials=entered))
    return replace(after, read=read, quote=sheet_of(read, after.walls, after.takeoff, after.plan, after.today))


def materials_difference(before: Takeoff, after: Takeoff) -> Decimal:
    """What one takeoff costs more than another, by the materials that differ.

    before, after: at the prices of one day. Returns money, negative for less. Raises ChangeError naming a material
    that differs and has no cost. Source: own rule.

    >>> materials_difference(Takeoff((), (), ()), Takeoff((), (), ()))
    Decimal('0.00')
    """
    old, new = _bought(before), _bought(after)
    difference = ZERO
    for code in dict.fromkeys((*old, *new)):
        if old.get(code) != new.get(code):
            difference += _cost(after, code, new) - _cost(before, code, old)
    return difference


Bought = dict[str, tuple[Decimal, Decimal | None]]


def _bought(takeoff: Takeoff) -> Bought:
    """Of each material some wall takes: how much is bought, and what that costs."""
    purchases = {purchase.material: (purchase.buy, purchase.cost) for purchase in takeoff.purchases}
    return {line.material: purchases.get(line.material, (ZERO, None)) for line in takeoff.lines if line.net}


def _cost(takeoff: Takeoff, code: str, bought: Bought) -> Decimal:
    if code not in bought:
        return ZERO
    cost = bought[code][1]
    if cost is None:
        gaps = (finding.sentence for finding in takeoff.findings if finding.key.startswith(f"catalog/{code}/"))
        raise ChangeError(next(gaps, f"The catalog has no cost of {code}; enter its price."))
    return cost
