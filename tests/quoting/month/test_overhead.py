from datetime import date
from decimal import Decimal as D

import pytest

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from quoting.month.models import OverheadActual
from quoting.month.services.overhead import enter_overhead, overhead_of
from quoting.pricing.models import Pricing
from tests.factories.bills import bill_line, bill_row
from tests.factories.hours import time_entry, worker
from tests.support.desk import as_
from tests.support.months import OWNER, overhead
from tests.support.worked import NOW, small_job

__all__ = ["as_"]
pytestmark = pytest.mark.django_db
SEPTEMBER = date(2026, 9, 1)


@pytest.fixture
def hours():
    """412 h in September, over days of 8 h and one of 4."""
    job, who = small_job(), worker()
    for day in range(1, 27):
        for _ in range(2):
            time_entry(who, job, 480 if day < 26 else 360, date(2026, 9, day))
    Pricing.objects.filter(job=None).delete()
    Pricing.objects.create(
        job=None, mode="margin", target_margin=D("0.38"), tax_name="Tax", overhead_per_hour=D("9.50")
    )


def test_the_month_s_overhead_is_by_hours_against_what_was_entered(hours):
    # 412 h x 9.50 = 3,914.00; 3,300.00 entered and 960.00 on a bill for no job.
    overhead("2026-09-30", "3300.00")
    bill = bill_row("R-1", total=D("960.00"), day=date(2026, 9, 30), posted_month=SEPTEMBER)
    bill_line(bill, None, "960.00", category="overhead")
    month = overhead_of(SEPTEMBER)
    assert (month.minutes, month.recovered, month.actual, month.short) == (
        412 * 60, D("3914.00"), D("4260.00"), D("346.00"),
    )  # fmt: skip


def test_without_entries_the_actual_is_a_gap(hours):
    assert overhead_of(SEPTEMBER).actual is None


def test_sent_twice_it_is_one_and_another_with_its_key_is_refused():
    small_job()
    row = overhead("2026-09-30", "12.00", key="k")
    assert overhead("2026-09-30", "12.00", key="k") == row
    with pytest.raises(Refused, match="has entered another cost already"):
        overhead("2026-09-30", "13.00", key="k")


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"amount": "0"}, "amount.*zero is not a cost"),
        ({"amount": "NaN"}, "amount"),
        ({"amount": "1.005"}, "amount"),
        ({"day": "2026-10-06"}, "day.*has not come yet"),
        ({"what": ""}, "what"),
        ({"currency": "EUR"}, "currency"),
    ],
)
def test_what_is_no_cost_is_refused_by_its_field(wrong, message):
    small_job()
    entries = {"request_key": "k", "what": "Rent", "amount": "12.50", "day": "2026-09-30", **wrong}
    with pytest.raises(DocumentError, match=message):
        enter_overhead(entries, OWNER, now=NOW)


def test_a_bill_for_no_job_is_not_entered_again_as_overhead():
    small_job()
    bill_line(bill_row("R 1", total=D("5.00")), None, "5.00", category="overhead")
    entries = {"request_key": "k", "what": "Rent", "amount": "5", "day": "2026-09-30", "bill": "r-1"}
    with pytest.raises(DocumentError, match="counts already"):
        enter_overhead(entries, OWNER, now=NOW)


def test_the_office_enters_and_voids_it_and_nobody_else_sees_it(as_):
    small_job()
    office = as_("office")
    entered = {"request_key": "k", "what": "Rent", "amount": "1,847.13", "day": "2026-09-30"}
    assert office.post("/buying/overhead/", entered, follow=True).status_code == 200
    row = OverheadActual.objects.get()
    assert (row.amount, row.posted_month, row.entered_by_name) == (D("1847.13"), SEPTEMBER, "the-office")
    office.post(f"/buying/overhead/{row.pk}/void/", {"reason": "Twice"})
    row.refresh_from_db()
    assert (row.voided_by_name, row.void_reason) == ("the-office", "Twice")
    for role in ("estimator", "lead"):
        assert as_(role).get("/buying/overhead/").status_code == 403
