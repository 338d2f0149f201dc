"""The money of a job of 2,000 time entries and 300 bill lines, against reading the same rows."""

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal

from tests.bench import Bench

ENTRIES, BILL_LINES = 2_000, 300


def money_benches() -> Iterator[Bench]:
    from quoting.core.money.bridge import bridge_of
    from quoting.core.money.job_costs import job_costs
    from quoting.job_money.services.facts import facts_of
    from quoting.job_money.services.job_costs import money_of
    from tests.support.orrinsby_rows import LAST_OF_MAY, orrinsby_hall

    job, today = orrinsby_hall(), LAST_OF_MAY.date()
    _many(job)
    facts = facts_of([job.pk], today)[job.pk]
    assert len(facts.hours) >= ENTRIES and len(facts.bills) >= BILL_LINES

    def reckoned() -> None:
        bridge_of(job_costs(facts_of([job.pk], today)[job.pk]))

    read = "2,000 entries and 300 bill lines read"
    yield Bench(read, lambda: facts_of([job.pk], today))
    yield Bench("cost and bridge of the same", reckoned, against=read)
    yield Bench("cost and bridge, rows in hand", lambda: bridge_of(job_costs(facts)), against=read)
    yield Bench("all the page of it says", lambda: money_of([job.pk], today), against=read)


def _many(job: object) -> None:
    from jobs.bills.models import BillLine
    from jobs.hours.models import TimeEntry
    from tests.factories.bills import bill_row
    from tests.support.orrinsby import STEPS

    steps, first = list(STEPS), TimeEntry.objects.filter(job=job).first()
    assert first is not None
    TimeEntry.objects.bulk_create(
        TimeEntry(
            worker=first.worker, job=job, step=steps[place % 5], typed_minutes=60, minutes=60, tag="",
            rate=Decimal("49.50"), rate_name="Carpenter", request_key=f"many-{place}", entered_at=first.entered_at,
            entered_by_name="L. Lead", day=date(2027, 5, 1) + timedelta(days=place % 28), posted_month=date(2027, 5, 1),
        )
        for place in range(ENTRIES)
    )  # fmt: skip
    bill = bill_row("many", day=date(2027, 5, 20), posted_month=date(2027, 5, 1))
    BillLine.objects.bulk_create(
        BillLine(
            bill=bill, job=job, place=place + 1, category="materials", item="SUNDRIES", what="Sundries", quantity=1,
            unit_price=Decimal("1.10"), amount=Decimal("1.10"),
        )
        for place in range(BILL_LINES)
    )  # fmt: skip
