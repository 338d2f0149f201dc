"""The files for the bookkeeper: each row once, counted and added up, the same bytes again, and for whom they are."""

import csv
import io
from datetime import date
from decimal import Decimal as D

import pytest

from quoting.month.models import AccountCode
from quoting.month.services.hand_over import OF_THE_OFFICE, OF_THE_OWNER
from quoting.month.services.sheets import filled
from quoting.payment_requests.models import PaymentReceived
from tests.factories.bills import bill_line, bill_row
from tests.factories.hours import time_entry, worker
from tests.factories.requests import request_row
from tests.support.desk import as_
from tests.support.months import close, overhead
from tests.support.worked import NOW, issued, small_job

__all__ = ["as_"]
pytestmark = pytest.mark.django_db
AUGUST = date(2026, 8, 1)
UNDONE = {"undone_at": NOW, "undone_by_name": "O. Office", "undone_reason": "Twice"}
SHEETS = OF_THE_OFFICE | OF_THE_OWNER


def lines(name, month=AUGUST, later=False):
    return list(csv.DictReader(io.StringIO(filled(SHEETS[name], month, later).content().decode("utf-8"), newline="")))


def test_hours_have_no_rate_and_labour_cost_has():
    time_entry(worker(), small_job(), 90, date(2026, 8, 14), rate=D("48.00"))
    hours, last = lines("hours")
    assert (hours["day"], hours["minutes"], last["row"], last["day"], last["minutes"]) == (
        "2026-08-14", "90", "total", "1", "90",
    )  # fmt: skip
    assert not {"rate", "cost"} & set(hours)
    # 90 min at 48.00.
    assert (lines("labour-cost")[0]["cost"], lines("labour-cost")[1]["cost"]) == ("72.00", "72.00")


def test_hours_without_a_rate_leave_their_cost_empty():
    time_entry(worker(), small_job(), 90, date(2026, 8, 14), rate=None)
    assert lines("labour-cost")[0]["cost"] == ""


def test_the_rows_of_a_bill_add_up_to_its_total_and_a_credit_counts_less():
    job, day = small_job(), {"day": date(2026, 8, 3), "posted_month": AUGUST}
    bill = bill_row("A-771", total=D("118.40"), tax=D("8.40"), freight=D("10.00"), **day)
    bill_line(bill, job, "100.00")
    bill_line(bill, job, "10.00", category="freight")
    credit = bill_row("C-1", kind="credit", total=D("25.00"), **day)
    bill_line(credit, job, "-25.00", quantity="-1")
    amounts = [row["amount"] for row in lines("bills")]
    assert amounts == ["100.00", "10.00", "8.40", "-25.00", "93.40"]


def test_a_sale_says_what_is_to_pay_and_what_was_taken_off():
    # 7,380.00 + 608.85, less the deposit 5,325.90 and 399.44 held: 2,263.51 to pay.
    parts = {"asked_tax": D("608.85"), "credited_price": D("4920.00"), "credited_tax": D("405.90")}
    held = {"held_price": D("369.00"), "held_tax": D("30.44")}
    to_pay = {"price": D("2091.00"), "tax": D("172.51"), "total": D("2263.51"), "asked_price": D("7380.00")}
    request_row(issued(small_job()), day=date(2026, 8, 20), **parts, **held, **to_pay)
    row, last = lines("sales")
    assert (row["total"], row["credited_price"], row["held_tax"], last["total"]) == (
        "2263.51", "-4920.00", "-30.44", "2263.51",
    )  # fmt: skip


def test_payments_count_and_what_is_undone_does_not():
    job = small_job()
    for key, amount, more in (("a", "100.00", {}), ("b", "7.00", UNDONE)):
        PaymentReceived.objects.create(
            job=job, request_key=key, amount=D(amount), received_on=date(2026, 8, 3), posted_month=AUGUST,
            what_for="Deposit", entered_at=NOW, entered_by_name="O. Office", **more,
        )  # fmt: skip
    assert [row["amount"] for row in lines("payments")] == ["100.00", "100.00"]


def test_each_row_names_its_currency_and_its_account():
    AccountCode.objects.create(kind="overhead", code="6310")
    small_job()
    overhead("2026-08-14", "12.50")
    row, last = lines("overhead")
    assert (row["amount"], row["currency"], row["account"], last["amount"]) == ("12.50", "USD", "6310", "12.50")


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@A1", 'Rent, "north"\nwing'])
def test_what_is_typed_stays_text(text):
    small_job()
    row = overhead("2026-08-14")
    type(row).objects.update(what=text)
    assert lines("overhead")[0]["what"] == (f"'{text}" if text[0] in "=+-@" else text)


def test_what_came_later_stands_apart_and_the_closed_files_keep_their_bytes():
    small_job()
    overhead("2026-08-14", "10.00")
    close("2026-08")
    first = filled(SHEETS["overhead"], AUGUST).content()
    overhead("2026-08-28", "6.00")
    overhead("2026-09-02", "7.00")
    assert filled(SHEETS["overhead"], AUGUST).content() == first
    september = date(2026, 9, 1)
    assert [row["amount"] for row in lines("overhead", september, later=True)] == ["6.00", "6.00"]
    assert [row["amount"] for row in lines("overhead", september)] == ["7.00", "7.00"]


def test_the_files_are_lines_of_rfc_4180():
    small_job()
    overhead("2026-08-14")
    content = filled(SHEETS["overhead"], AUGUST).content()
    assert content.endswith(b"\r\n") and content.count(b"\r\n") == 3
    assert len({line.count(b",") for line in content.split(b"\r\n")[:-1]}) == 1


@pytest.mark.parametrize(
    ("role", "page", "hours", "labour"),
    [("owner", 200, 200, 200), ("office", 200, 200, 403), ("estimator", 403, 403, 403), ("lead", 403, 403, 403)],
)
def test_the_files_are_for_the_office_and_what_labour_cost_for_the_owner(as_, role, page, hours, labour):
    time_entry(worker(), small_job(), 60, date(2026, 8, 14), rate=D("47.13"))
    client = as_(role)
    gave = [client.get(f"/buying/bookkeeper/2026-08/{word}") for word in ("", "hours.csv", "bills.csv", "overhead.csv")]
    assert [entry.status_code for entry in gave[:2]] == [page, hours]
    cost = client.get("/month/2026-08/labour-cost.csv")
    assert cost.status_code == labour and (b"47.13" in cost.content) is (role == "owner")
    if role != "owner":
        assert not any(b"47.13" in entry.content for entry in gave)


@pytest.mark.parametrize("address", ["2026-13/", "august/", "2026-08/labour-cost.csv", "2026-08/x.csv"])
def test_another_address_is_no_file(as_, address):
    small_job()
    assert as_("office").get(f"/buying/bookkeeper/{address}").status_code == 404


def test_the_accounts_are_entered_by_the_office_and_emptied_again(as_):
    small_job()
    client = as_("office")
    save(client, labour="5000", sales="=4000")
    assert dict(AccountCode.objects.values_list("kind", "code")) == {"labour": "5000", "sales": "=4000"}
    save(client, labour="", sales="4000")
    assert dict(AccountCode.objects.values_list("kind", "code")) == {"sales": "4000"}


def test_two_who_change_the_accounts_do_not_write_over_each_other(as_):
    small_job()
    client, seen = as_("office"), as_("owner").get("/buying/bookkeeper/accounts/").context["form"].stored.version()
    save(client, labour="5000")
    late = client.post("/buying/bookkeeper/accounts/", {"labour": "5100", "seen_version": seen})
    assert (late.status_code, AccountCode.objects.get().code) == (409, "5000")


def save(client, **codes):
    seen = client.get("/buying/bookkeeper/accounts/").context["form"].stored.version()
    assert client.post("/buying/bookkeeper/accounts/", {"seen_version": seen, **codes}).status_code == 302


def test_the_page_says_what_each_sum_is_of_and_leaves_nought_out(as_):
    request_row(issued(small_job()), day=date(2026, 8, 3))
    page = as_("office").get("/buying/bookkeeper/2026-08/").content.decode()
    assert ", price " in page and ", with tax " in page
    assert ", 0.00" not in page
