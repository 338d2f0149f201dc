"""After many random bills, credits, voids and closes every sum is that of its rows, and closed months stay."""

import os
from datetime import date, timedelta
from decimal import Decimal as D
from random import Random

import pytest

from catalog.core.ground.refusal import Refused
from jobs.bills.models import Bill
from jobs.bills.services.bill_rows import bill_rows_of, standing_lines
from jobs.bills.services.entering import enter_bill
from jobs.bills.services.voiding import void_bill
from quoting.core.money.month import month_of, next_month
from quoting.month.models import ClosedMonth, OverheadActual
from quoting.month.services.closing import close_month
from quoting.month.services.month_counts import counted
from quoting.month.services.snapshots import snapshot_of
from quoting.platform.people.signatures import Signature
from quoting.service.audit.month_audit import months_are_as_they_were_closed
from tests.factories.jobs import JobFactory
from tests.support.months import overhead
from tests.support.worked import NOW, small_job

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines, pytest.mark.faults]
# 1,000 under make faults.
ACTS = 1000 if os.environ.get("CURVEWRIGHT_FAULT_ROUNDS") else 150


def some_bill(random, number, day, keys):
    amounts = [D(random.randint(1, 99_999)) / 100 for _ in range(random.randint(1, 3))]
    tax = D(random.randint(0, 999)) / 100
    lines = [
        {"job": random.choice(keys), "category": random.choice(("materials", "other")), "item": "x", "what": "Goods",
         "quantity": "1", "unit_price": str(amount), "amount": str(amount)}
        for amount in amounts
    ]  # fmt: skip
    about = {"request_key": f"b-{number}", "shop": "Shop", "number": f"B-{number}", "day": day.isoformat()}
    kind = random.choice(("bill", "bill", "credit"))
    return {**about, "kind": kind, "tax": str(tax), "total": str(sum(amounts) + tax), "lines": lines}


def void_some(random, signature):
    bills = list(Bill.objects.filter(voided_at=None, reverses=None, reversed_by=None))
    if bills:
        bill = random.choice(bills)
        void_bill(bill, {"reason": "Wrong"}, signature, seen_version=bill.version, now=NOW)


def run(random, keys):
    today = date(2026, 1, 3)
    for number in range(ACTS):
        today += timedelta(days=random.randint(0, 3 if ACTS < 500 else 1))
        signature, day = Signature("O. Owner", today), today - timedelta(days=random.randint(0, 2))
        act = random.random()
        if act < 0.6:
            enter_bill(some_bill(random, number, day, keys), signature, now=NOW)
        elif act < 0.75:
            void_some(random, signature)
        elif act < 0.9:
            overhead(day.isoformat(), f"{random.randint(1, 99_999) / 100:.2f}", str(number), signature)
        else:
            last = ClosedMonth.objects.last()
            month = next_month(last.month) if last else month_of(date(2026, 1, 1))
            try:
                close_month(month, signature, now=NOW)
            except Refused:
                assert month >= month_of(today)


@pytest.mark.parametrize("seed", [7])
def test_every_sum_is_that_of_its_rows(seed):
    jobs = [small_job(), JobFactory(key="J-0202")]
    run(Random(seed), [job.key for job in jobs])
    assert ClosedMonth.objects.count() >= 3
    for row in ClosedMonth.objects.all():
        assert counted(row.month) == snapshot_of(row)["counted"]
    assert list(months_are_as_they_were_closed(NOW)) == []
    bills = Bill.objects.filter(voided_at=None, entered_at__isnull=False)
    months = set(bills.values_list("posted_month", flat=True))
    months |= set(OverheadActual.objects.values_list("posted_month", flat=True))
    files = {name: sum(D(counted(month)[name]["amount"]) for month in months) for name in ("bills", "overhead")}
    assert files["bills"] == sum(bill.sign * bill.total for bill in bills)
    assert files["overhead"] == sum(OverheadActual.objects.values_list("amount", flat=True))
    rows = bill_rows_of([job.pk for job in jobs])
    costs = sum(row.amount for of in rows.values() for row in of)
    assert costs == sum(line.amount + line.tax for line in standing_lines())
