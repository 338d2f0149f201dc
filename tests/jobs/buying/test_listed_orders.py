"""Orders in the list: for which job, for how much, what is here, what comes next and how late. The base of the dental
screen is needed on Mon 25 Jan 2027 with a cushion of 3 days (worked examples)."""

from datetime import UTC, date, datetime

import pytest
from django.urls import reverse

from catalog.models import Material
from jobs.deliveries.models import Delivery, ReceiptLine
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.orders.models import OrderLine
from tests.factories.orders import BY, MARK, placed_order
from tests.stored import stored_job
from tests.support.desk import as_, queries_of
from tests.support.signing import sign

__all__ = ["as_"]
pytestmark = pytest.mark.django_db
NOW = datetime(2026, 12, 9, 15, 0, tzinfo=UTC)
BASE = "BASE-514-FLEX"


@pytest.fixture
def job(frozen_clock):
    frozen_clock.move_to(NOW)
    result = stored_job("larkmoor-dental")
    keep_needs(result.pk, *find_needs(result.pk, NOW.date()), NOW)
    return result


@pytest.fixture
def order(job):
    """Of four lines of nine three are here; the fourth is promised for Fri 22 Jan 2027."""
    base = Material.objects.get(code=BASE)
    first = placed_order(job, base, base.supplier, amount=100, promised_on=date(2027, 1, 22))
    came = Delivery.objects.create(
        order=first.order, request_key="d", received_on=NOW.date(), entered_at=NOW, entered_by_name=BY
    )
    for place, amount in ((2, 200), (3, 300), (4, None)):
        line = OrderLine.objects.create(
            order=first.order, place=place, job=job, material=base, what="Base", quantity=9, unit="pieces",
            statement_mark=MARK, amount=amount,
        )  # fmt: skip
        ReceiptLine.objects.create(delivery=came, line=line, good=9, actual_workdays=5)
    return first.order


def rows(office, **wanted):
    return office.get(reverse("on_the_way"), wanted).context["rows"]


@pytest.mark.both_engines
def test_an_order_in_the_list_names_job_goods_what_is_here_and_what_comes_next(as_, order):
    (row,) = [entry.listed for entry in rows(as_("office"))]
    assert [(job.key, signed) for job, signed in row.jobs] == [("J-0001", False)]
    assert (row.goods, row.unpriced, row.here, row.lines) == (600, 1, 3, 4)
    # Here on a Friday, it may be relied on from the Wednesday after: two working days after Monday.
    assert (row.next_on, row.overdue, row.late_workdays) == (date(2027, 1, 22), False, 2)


def test_its_row_says_in_words_how_it_stands_and_what_is_to_be_done_by_when(as_, order):
    response = as_("office").get(reverse("on_the_way"))
    page, (row,) = response.content.decode(), response.context["rows"]
    message = ("late 2", "not confirmed", "3 of 4 here", "here Fri 22 Jan 2027", "and 3 more", "(not signed)")
    assert all(text in page for text in message), page
    # Placed on Tue 24 Nov, to be confirmed by Thu 26 Nov: on Wed 9 Dec nine working days ago.
    assert (row.act.words, row.act.by, row.act.in_hand) == ("Enter the confirmation", date(2026, 11, 26), -9)


def test_the_api_lists_the_same(office, order):
    (row,) = office.get("/api/orders").json()["results"]
    assert row["jobs"] == [{"key": "J-0001", "signed": False}] and (row["goods"], row["unpriced_lines"]) == (
        "600.00",
        1,
    )
    assert (row["lines_here"], row["lines"], row["next_on"], row["late_workdays"]) == (3, 4, "2027-01-22", 2)
    assert row["states"] == ["late 2", "not confirmed", "3 of 4 here"]
    wanted = {"words": "Enter the confirmation", "by": "2026-11-26", "in_hand_workdays": -9}
    assert row["next_act"] == wanted
    assert office.get("/api/orders?work=signed").json()["count"] == 0


def test_an_order_whose_day_is_past_is_overdue_and_one_that_came_is_folded_away(as_, order):
    office, line = as_("office"), order.lines.first()
    OrderLine.objects.filter(pk=line.pk).update(promised_on=date(2026, 12, 7))
    assert rows(office)[0].listed.overdue
    came = Delivery.objects.get()
    ReceiptLine.objects.create(delivery=came, line=line, good=9, actual_workdays=5)
    assert rows(office) == [] and office.get(reverse("on_the_way")).context["counts"]["complete"] == 1
    (row,) = [entry.listed for entry in rows(office, show="complete")]
    assert (row.here, row.lines, row.next_on, row.late_workdays) == (4, 4, None, 0)


@pytest.mark.both_engines
def test_orders_are_narrowed_by_the_words_of_the_sentence(as_, job, order):
    base = Material.objects.get(code=BASE)
    other = stored_copy(job)
    sign(other)
    second = placed_order(other, base, base.supplier).order
    office = as_("office")
    assert {row.order for row in rows(office)} == {order, second}
    assert [row.order for row in rows(office, work="signed")] == [second]
    assert [row.order for row in rows(office, work="unsigned")] == [order]
    assert [row.order for row in rows(office, job=other.key)] == [second]
    assert rows(office, supplier="TOLLARD") == [] and rows(office, show="drafts") == []


@pytest.mark.parametrize("typed", ["\0", "x" * 3000, "1 or 1"])
def test_an_address_with_anything_in_it_is_answered(as_, order, typed):
    wanted = dict.fromkeys(("show", "job", "supplier", "work", "page"), typed)
    assert as_("office").get(reverse("on_the_way"), wanted).status_code == 200


def stored_copy(job):
    return type(job).objects.create(key="J-0099", title="Once more", client=job.client, created_at=NOW)


def test_more_orders_ask_the_database_no_more(as_, job, order):
    office, base = as_("office"), Material.objects.get(code=BASE)

    def one_more(number):
        line = placed_order(job, base, base.supplier)
        stated = {"received_on": NOW.date(), "entered_at": NOW, "entered_by_name": BY}
        came = Delivery.objects.create(order=line.order, request_key=f"d{number}", **stated)
        ReceiptLine.objects.create(delivery=came, line=line, good=number, damaged=1, actual_workdays=5)

    one_more(1)
    before = queries_of(office, reverse("on_the_way"))
    for number in range(2, 7):
        one_more(number)
    assert queries_of(office, reverse("on_the_way")) == before
