"""How often orders come within the days planned with, at 90 %, in three made-up worlds: make coverage-table.

A firm buys two materials from each of two suppliers. Each material has had so many receipts; a plan is made for the
next order of one of them, and it is seen whether the order comes within it. Days are whole, as in life. The worlds
are ours: a steady one, one where every fifth order goes wrong, and one where everybody gets slower and slower.
"""

import math
import random
from collections.abc import Callable, Mapping
from datetime import date, timedelta

from catalog.core.leads.lead_record import LeadReceipt, planned_lead

RECEIPTS = (0, 1, 3, 5, 10, 30)
TARGET, LEAST, MOST = 0.90, 0.86, 0.96
SEED = 20261125
FIRST_DAY = date(2027, 1, 4)
QUOTES = (15, 20, 30, 40)
SLOWER_AN_ORDER = math.log(1.6) / 30
Draw = Callable[[random.Random, float, int], float]
"""The logarithm of actual over quoted of an order, from its material's own mean and its place in time."""

WORLDS: Mapping[str, Draw] = {
    "steady": lambda chance, mean, place: chance.gauss(mean, 0.20),
    "every fifth goes wrong": lambda chance, mean, place: (
        chance.gauss(math.log(1.45), 0.15) if chance.random() < 0.2 else chance.gauss(math.log(1.05), 0.08)
    ),
    "ever slower": lambda chance, mean, place: chance.gauss(mean + SLOWER_AN_ORDER * place, 0.20),
}


def came_within(draw: Draw, receipts: int, chance: random.Random) -> bool:
    """Make a firm with so many receipts of each material, plan its next order, and see whether it comes in time."""
    record = []
    for supplier in ("one", "other"):
        of_supplier = chance.gauss(math.log(1.10), 0.14)
        for material in ("first", "second"):
            mean = chance.gauss(of_supplier, 0.12)
            record += [order(draw, mean, place, chance, supplier, material) for place in range(receipts + 1)]
    due = next(
        receipt
        for receipt in record
        if (receipt.supplier, receipt.material) == ("one", "first") and receipt.received_on == day(receipts)
    )
    known = [receipt for receipt in record if receipt.received_on < day(receipts)]
    plan = planned_lead(due.quoted_workdays, known, supplier="one", material="first", confidence=TARGET)
    return due.actual_workdays <= plan.plan_workdays


def order(draw: Draw, mean: float, place: int, chance: random.Random, supplier: str, material: str) -> LeadReceipt:
    quoted = chance.choice(QUOTES)
    actual = math.ceil(quoted * math.exp(draw(chance, mean, place)))
    return LeadReceipt(quoted, actual, day(place), supplier, material)


def day(place: int) -> date:
    return FIRST_DAY + timedelta(days=60 * place)


def coverage(world: str, receipts: int, firms: int, seed: int = SEED) -> float:
    chance = random.Random(f"{seed} {world} {receipts}")
    return sum(came_within(WORLDS[world], receipts, chance) for _ in range(firms)) / firms


def main(firms: int = 4_000) -> None:
    print(f"| receipts of the material | {' | '.join(str(receipt) for receipt in RECEIPTS)} |")
    print(f"|---|{'---|' * len(RECEIPTS)}")
    for world in WORLDS:
        shares = [coverage(world, receipts, firms) for receipts in RECEIPTS]
        print(f"| {world} | {' | '.join(f'{share:.0%}' for share in shares)} |", flush=True)
        assert all(LEAST <= share <= MOST for share in shares), shares


if __name__ == "__main__":
    main()
