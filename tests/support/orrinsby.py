"""The invented job Orrinsby Hall on 31 May 2027, as the plain rows its cost is worked out from."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from jobs.core.costs.bills import BillRow
from jobs.core.costs.hours import HourRow, StepHoursLeft
from jobs.core.costs.received_goods import OrderedFreight, OrderedRow
from quoting.core.money.job_costs import JobFacts
from quoting.core.money.quoted import NoteCosts, QuotedCost

D = Decimal
STEPS = {"setting out": 8, "framing": 46, "boards": 58, "finishing": 44, "trim": 24}
GOODS = [("track", 12, "46.50"), ("studs", 64, "11.25"), ("board", 40, "18.60"), ("base", 9, "212.00")]
LUMPS = [
    ("materials", "sundries", "382.00"),
    ("subcontract", "painter", "1850.00"),
    ("other", "scaffold", "300.00"),
    ("freight", "freight", "150.00"),
]


def quoted() -> tuple[QuotedCost, ...]:
    return (
        *(QuotedCost("labour", step, step.title(), D(hours), D("48.00")) for step, hours in STEPS.items()),
        *(QuotedCost("materials", item, item.title(), D(many), D(cost)) for item, many, cost in GOODS),
        *(QuotedCost(category, item, item.title(), D(1), D(cost)) for category, item, cost in LUMPS),
    )


def notes() -> tuple[NoteCosts, ...]:
    niche = (
        QuotedCost("labour", "niche", "Niche", D(10), D("48.00")),
        QuotedCost("materials", "niche goods", "Niche goods", D(1), D("340.00")),
    )
    return (NoteCosts(1, "Niche", D("1240.00"), True, niche), NoteCosts(2, "Door", D("690.00"), False))


def worked(row: str, day: int, step: str | None, hours: int, tag: str = "") -> HourRow:
    rate = D("48.00") if day < 17 else D("49.50")
    return HourRow(row, date(2027, 5, day), "Ines Quarrell", step, hours * 60, rate, tag)


HOURS = (
    worked("1", 5, "setting out", 9),
    worked("2", 12, "framing", 42),
    worked("3", 18, "framing", 8),
    worked("4", 24, "boards", 30),
    worked("5", 26, "niche", 6),
    worked("6", 27, "boards", 4, "note 2"),
    worked("7", 28, "boards", 2, "rework"),
)


def left(step: str, hours: int, day: int) -> StepHoursLeft:
    return StepHoursLeft(step, hours * 60, hours == 0, "Ines Quarrell", date(2027, 5, day))


LEFT = (left("setting out", 0, 5), left("framing", 0, 18), left("boards", 33, 28))


def on_order(row: str, order: str, item: str, ordered: int, received: int, price: str, **more: object) -> OrderedRow:
    billed, amount = D(more.get("billed", 0)), D(more.get("billed_amount", 0))
    category = more.get("category", "materials")
    return OrderedRow(
        row, order, item, item.title(), category, D(ordered), D(received), billed, amount, D(price), "order", False,
        bool(more.get("replaces")), D(price),
    )  # fmt: skip


ORDERED = (
    on_order("11", "P-1", "track", 12, 12, "46.50", billed=12, billed_amount="558.00"),
    on_order("12", "P-1", "studs", 66, 66, "11.25", billed=66, billed_amount="742.50"),
    on_order("13", "P-1", "board", 40, 24, "19.10"),
    on_order("21", "P-2", "base", 9, 8, "218.00", billed=9, billed_amount="1962.00"),
    on_order("31", "P-3", "base", 1, 0, "0.00", replaces=True),
    on_order("51", "P-5", "niche goods", 1, 0, "352.00"),
    on_order("61", "P-6", "painter", 1, 0, "1900.00", category="subcontract"),
)
FREIGHT = (
    OrderedFreight("P-1", D("73.28"), True, D("73.28")),
    OrderedFreight("P-2", D("85.00"), True, D("85.00")),
    OrderedFreight("P-3", D("35.00"), False, D("0.00"), replaces=True),
)


def bill(
    row: str, number: str, item: str, quantity: str, price: str, category: str = "materials", **more: str
) -> BillRow:
    amount = (D(quantity) * D(price)).quantize(D("0.01"))
    day, line = date(2027, 5, 28), more.get("line")
    return BillRow(row, number, "Tollard", day, category, item, item.title(), D(quantity), D(price), amount, "", line)


BILLS = (
    bill("A/1", "A-771", "track", "12", "46.50", line="11"),
    bill("A/2", "A-771", "studs", "66", "11.25", line="12"),
    bill("A/f", "A-771", "freight", "1", "73.28", "freight"),
    bill("B/1", "B-2041", "base", "9", "218.00", line="21"),
    bill("B/f", "B-2041", "freight", "1", "85.00", "freight"),
    bill("C/1", "card", "sundries", "1", "118.40"),
    bill("S/1", "S-88", "scaffold", "1", "165.00", "other"),
)


def orrinsby(**more: object) -> JobFacts:
    facts = {
        "price": D("24600.00"), "quoted": quoted(), "notes": notes(), "hours": HOURS, "hours_left": LEFT,
        "bills": BILLS, "ordered": ORDERED, "freight": FREIGHT, "rates": {"": D("49.50")},
        "fitted_by": {"track": "framing", "studs": "framing", "board": "boards", "base": "trim"},
    }  # fmt: skip
    return JobFacts(**{**facts, **more})


def on_9_june() -> JobFacts:
    """The 24 boards are billed, by a bill of 28 May that came after May was closed."""
    board = replace(
        on_order("13", "P-1", "board", 40, 24, "19.10", billed=24, billed_amount="464.40"), price=D("19.35")
    )
    ordered = tuple(board if row.row == "13" else row for row in ORDERED)
    return orrinsby(bills=(*BILLS, bill("A/9", "A-779", "board", "24", "19.35", line="13")), ordered=ordered)
