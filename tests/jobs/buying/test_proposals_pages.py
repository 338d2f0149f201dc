"""What is proposed to be ordered from one supplier: signed work apart, within the buying window, summed as ticked."""

from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal

import pytest
from django.urls import reverse

from catalog.models import OrderTerms, Price, Standard, Supplier
from jobs.buying.services.proposals import proposal_for
from jobs.jobs.models import Job
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.whole_jobs.services.job_store import store_job
from tests.stored import stored_job
from tests.support.desk import as_
from tests.support.signing import sign

__all__ = ["as_"]
pytestmark = pytest.mark.django_db
NOW = datetime(2026, 12, 9, 15, 0, tzinfo=UTC)
MOMENT = datetime(2026, 12, 9, 10, 0, tzinfo=UTC)
YARD = "TOLLARD"


@pytest.fixture
def job(frozen_clock):
    frozen_clock.move_to(NOW)
    result = stored_job("larkmoor-dental")
    keep_needs(result.pk, *find_needs(result.pk, MOMENT.date()), NOW)
    OrderTerms.objects.create(
        supplier=Supplier.objects.get(code=YARD), freight=65, minimum_order=5000, source="price list",
        stated_on=NOW.date(),
    )  # fmt: skip
    return result


@pytest.fixture
def signed(job):
    """The same screen once more, and signed."""
    again = replace(Job.objects.get(pk=job.pk).to_core(), key="J-0099", title="The screen once more")
    other = store_job(again, now=NOW)
    keep_needs(other.pk, *find_needs(other.pk, MOMENT.date()), NOW)
    sign(other)
    return other


def proposed(work=""):
    return proposal_for(Supplier.objects.get(code=YARD), MOMENT, work)


def shown(office):
    return office.get(reverse("order_from", args=[YARD]))


@pytest.mark.both_engines
def test_signed_work_goes_on_no_order_with_work_that_is_not(job, signed):
    orders = proposed().orders
    assert [order.signed for order in orders] == sorted((order.signed for order in orders), reverse=True)
    for entry in orders:
        assert {item.item.job for item in entry.items} == {signed if entry.signed else job}
    assert {order.signed for order in proposed("signed").orders} == {True}
    assert {order.signed for order in proposed("unsigned").orders} == {False}


def test_an_order_takes_nothing_due_after_the_buying_window(job):
    calendar = proposed().orders[0].items[0].item.work_up.read.book.firm.calendar
    counts = {}
    for days in (15, 5, 0):
        Standard.objects.filter(name="buying_window_workdays").update(value=days)
        orders = proposed().orders
        counts[days] = len(orders)
        for order in orders:
            last = max(item.item.need.dates.order_by for item in order.items)
            assert last <= calendar.forward(order.bundle.day, days)
    assert counts[0] > counts[15]


def test_a_window_nobody_stated_is_named(as_, job):
    Standard.objects.filter(name="buying_window_workdays").delete()
    assert "bought together is not stated" in shown(as_("office")).content.decode()


def test_an_item_without_a_price_is_named_and_the_others_are_judged(as_, job):
    Price.objects.filter(pack__material__code="TRACK-358").delete()
    (first, *_) = proposed().orders
    assert first.bundle.unpriced == ("Curvable track, 3-5/8 in, 10 ft of J-0001",)
    assert first.bundle.freight == Decimal("65.00") and first.bundle.top_up > 0
    page = shown(as_("office")).content.decode()
    assert "No price is known for Curvable track, 3-5/8 in, 10 ft of J-0001" in page
    assert f"{job.pk}/TRACK-358, " not in page


def test_only_what_is_ticked_is_summed(as_, signed):
    office = as_("office")
    order = proposed("signed").orders[0]
    sums = shown(office).context["orders"][0]["sums"]
    assert sums.ticked == len(order.items) and sums.goods.endswith(f"{order.bundle.goods:,.2f}")
    entry = order.items[0].item
    message = office.post(reverse("order_from", args=[YARD]), {"sums": "1", "item": entry.key}).content.decode()
    assert 'id="sums-1"' in message and "Ticked: 1 item." in message and f"{entry.amount:,.2f}" in message
    none = office.post(reverse("order_from", args=[YARD]), {"sums": "1"}).content.decode()
    assert "Ticked: 0 items." in none and "freight" not in none


def test_what_waits_is_unticked_and_in_no_sum(as_, job):
    # Of an unsigned job nothing is ready: not its stock either, for which somebody has to say why.
    sums = [entry["sums"] for entry in shown(as_("office")).context["orders"]]
    assert {entry.ticked for entry in sums} == {0} and {entry.goods for entry in sums} == {""}


def test_a_tick_that_is_no_item_is_refused_in_words(as_, job):
    message = as_("office").post(reverse("order_from", args=[YARD]), {"sums": "1", "item": "x"})
    assert message.status_code == 422 and "is not an item of a job" in message.content.decode()


def test_the_api_proposes_what_the_page_shows(office, as_, signed):
    shows = office.get(f"/api/order-proposals/{YARD}?work=signed").json()
    assert shows["buying_window_workdays"] == 15
    (first, *_) = shows["orders"]
    bundle = proposed("signed").orders[0].bundle
    assert first["signed"] and first["goods"] == f"{bundle.goods:.2f}" and first["ready"]["goods"] == first["goods"]
    assert (first["early_goods"], first["early_workdays"]) == (f"{bundle.early_goods:.2f}", bundle.early_workdays)
    assert all(item["signed"] and item["ready"] for item in first["items"])
