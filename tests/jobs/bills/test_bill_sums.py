"""Bills, credits and voids made up by chance: every sum equals its rows and shares add up, whatever came in between."""

import os
import random
from decimal import Decimal

import pytest

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from jobs.bills.models import Bill, BillLine
from jobs.bills.services.bill_rows import bill_rows_of, ordered_freight_of, ordered_rows_of
from jobs.bills.services.differences import Differs
from jobs.bills.services.entering import enter_bill
from jobs.core.costs.received_goods import committed, received_not_billed
from tests.support.hall import NOW, OFFICE, Hall, came, voided
from tests.support.months import close

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines, pytest.mark.faults]
WHOLE = bool(os.environ.get("CURVEWRIGHT_FAULT_ROUNDS"))
STEPS, SEEDS = (1_000, [1]) if WHOLE else (60, [1, 2])
# order, place, supplier, dearest
LINES = [("P-1", place, "YARD") for place in (1, 2, 3, 4)] + [("P-2", 1, "MILL")]


def document(chance: random.Random, turn: int) -> dict:
    order, place, supplier = chance.choice(LINES)
    kind = chance.choice(["bill", "bill", "bill", "credit"])
    matched = {"order": order, "place": place, "quantity": str(chance.randint(1, 4)), "amount": cents(chance)}
    alone = {
        "job": chance.choice(["J-0201", "J-0202"]),
        "category": "materials",
        "what": "Screws",
        "amount": cents(chance),
    }
    lines = chance.choice([[matched], [alone], [matched, alone], [alone, alone | {"amount": cents(chance)}]])
    freight, tax = (cents(chance) if chance.random() < 0.4 else "0.00" for _ in range(2))
    total = sum(map(Decimal, [freight, tax, *(line["amount"] for line in lines)]))
    number = f"N-{chance.randint(1, STEPS)}"
    about = {"request_key": f"turn {turn}", "kind": kind, "supplier": supplier, "number": number, "day": day(chance)}
    return {**about, "freight": freight, "tax": tax, "total": str(total), "lines": lines}


def cents(chance: random.Random) -> str:
    return f"{chance.randint(0, 30_000) / 100:.2f}"


def day(chance: random.Random) -> str:
    return chance.choice(["2026-07-03", "2026-08-14", "2026-09-20", "2026-10-02"])


def enter(sent: dict) -> Bill | None:
    """As somebody at the desk would: what differs is accepted, what is refused stays out."""
    try:
        return enter_bill(sent, OFFICE, now=NOW)[0]
    except Differs as differs:
        return enter_bill(sent | {"accept": list(differs.sentences)}, OFFICE, now=NOW)[0]
    except DocumentError:
        return None


def kept(line: BillLine) -> tuple:
    return line.job_id, line.amount + line.tax, line.quantity, line.order_line_id


def assert_sums(hall: Hall, expected: dict[int, list]) -> None:
    """expected: of each standing bill its lines, kept apart from the program's own sums."""
    lines = [entry for rows in expected.values() for entry in rows]
    jobs = [hall.job.pk, hall.other.pk]
    for job, rows in bill_rows_of(jobs).items():
        assert sum(row.amount for row in rows) == sum(amount for mine, amount, _, _ in lines if mine == job)
    for job, rows in ordered_rows_of(jobs).items():
        for row in rows:
            billed = sum(count for _, _, count, pk in lines if pk is not None and str(pk) == row.row)
            assert row.billed == billed, (job, row)
            assert committed(row) >= 0 and received_not_billed(row) >= 0
    shares = [freight for rows in ordered_freight_of(jobs).values() for freight in rows if freight.order == "P-1"]
    assert sum(share.amount for share in shares) == Decimal("96.00")


def assert_bill_adds_up(bill: Bill) -> None:
    lines = sum(line.amount for line in bill.lines.all())
    assert lines == bill.sign * (bill.total - bill.tax), bill


@pytest.mark.parametrize("seed", SEEDS)
def test_every_sum_equals_its_rows_after_bills_voids_credits_and_closes(seed, db):
    chance, hall, expected = random.Random(seed), Hall(), {}
    closing = iter(["2026-07", "2026-08", "2026-09"])
    for turn in range(STEPS):
        standing = [pk for pk in expected if pk is not None]
        if standing and chance.random() < 0.25:
            pk = chance.choice(standing)
            voided(Bill.objects.get(pk=pk))
            del expected[pk]
        elif chance.random() < 0.05:
            came(hall.lines["BOARD"], 1)
        else:
            bill = enter(document(chance, turn))
            if bill is not None:
                assert_bill_adds_up(bill)
                expected[bill.pk] = [kept(line) for line in bill.lines.all()]
        if turn and turn % (STEPS // 4) == 0 and Bill.objects.exclude(posted_month=None).exists():
            close_next(closing)
        if turn % max(1, STEPS // 60) == 0:
            assert_sums(hall, expected)
    assert len(expected) > STEPS // 6, "the test would prove nothing"
    assert_sums(hall, expected)


def close_next(closing) -> None:
    month = next(closing, None)
    if month is not None:
        close(month)


def test_a_lost_line_is_found_out(db):
    """The control: the same sums with one row more than was entered."""
    hall = Hall()
    bill = enter(document(random.Random(3), 1) | {"kind": "bill"})
    with pytest.raises(AssertionError):
        assert_sums(hall, {bill.pk: [kept(line) for line in bill.lines.all()][1:]})


def test_what_is_refused_leaves_no_row(db):
    Hall()
    with pytest.raises((DocumentError, Refused)):
        enter_bill({"request_key": "x"}, OFFICE, now=NOW)
    assert (Bill.objects.count(), BillLine.objects.count()) == (0, 0)
