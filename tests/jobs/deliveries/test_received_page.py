"""Received, the order's page after damage, and the lists that became rows of it, on the childcare's trim."""

import pytest
from django.urls import reverse

from jobs.deliveries.models import ReceiptLine, ReceiptPhoto
from jobs.deliveries.services.receiving import check_in
from jobs.orders.models import Order
from tests.jobs.deliveries.test_receiving_pages import KEY, SENT, picture
from tests.support.childcare import NOW, SIGNED, delivery_document, five_days_to_claim, trim_on_order
from tests.support.desk import as_, queries_of

pytestmark = pytest.mark.both_engines
__all__ = ["as_"]


@pytest.fixture
def line(frozen_clock, db, settings, tmp_path):
    frozen_clock.move_to(NOW)
    settings.MEDIA_ROOT = tmp_path
    result = trim_on_order(amount="372.33")
    five_days_to_claim(result)
    return result


def text_of(client, name, *args):
    return client.get(reverse(name, args=args)).content.decode()


def test_the_lead_hears_at_once_by_when_bad_goods_are_claimed_and_again_once_they_are_saved(as_, line):
    lead, url = as_("lead"), reverse("check_in", args=[line.order_id])
    # Five calendar days from Fri 6 Aug 2027.
    assert "Claim by Wed 11 Aug" in lead.get(url).content.decode()
    message = lead.post(url, SENT, follow=True).content.decode()
    assert "Checked in O-0001: 7 good, 2 damaged." in message and "Claim by Wed 11 Aug" in message
    assert "The office does both." in message and "372.33" not in message


def test_the_office_sees_it_first_on_the_order_and_by_day_on_received(as_, line):
    office = as_("office")
    assert "Nothing was received yet." in text_of(office, "received")
    as_("lead").post(reverse("check_in", args=[line.order_id]), SENT)
    assert "2 of 9 pieces came damaged." in text_of(office, "order", line.order_id)
    message = text_of(office, "received")
    assert "Fri 6 Aug" in message and "7 good, 2 damaged: not claimed yet" in message


def test_the_photo_of_the_packing_slip_is_kept_with_the_delivery(as_, line):
    as_("lead").post(reverse("check_in", args=[line.order_id]), SENT | {"slip": picture()})
    assert ReceiptPhoto.objects.get().caption == "Packing slip"


def test_one_tap_says_that_all_of_a_line_came_good(as_, line):
    sent = {"request_key": KEY, "seen_deliveries": "0", "line-1-whole": "all"}
    as_("lead").post(reverse("check_in", args=[line.order_id]), sent)
    assert ReceiptLine.objects.get().good == 9


def test_the_bad_ones_are_ordered_again_by_the_first_button_of_the_order(as_, line):
    check_in(line.order, delivery_document(), SIGNED, now=NOW)
    office, row = as_("office"), ReceiptLine.objects.get()
    address = reverse("receipt_replace", args=[row.pk])
    assert f'action="{address}"' in text_of(office, "order", line.order_id)
    office.post(address, {"request_key": KEY})
    draft = Order.objects.get(state="draft")
    assert draft.lines.get().quantity == 2 and f"Place {draft.number}" in text_of(office, "order", line.order_id)


def test_lists_of_claims_and_returns_lead_to_on_the_way(as_, line):
    office, lead = as_("office"), as_("lead")
    for name in ("claims", "returns"):
        assert office.get(reverse(name)).url == reverse("on_the_way")
        assert lead.get(reverse(name)).status_code == 403


def test_received_asks_the_database_no_more_for_more_deliveries(as_, line):
    office = as_("office")
    check_in(line.order, delivery_document(), SIGNED, now=NOW)
    before = queries_of(office, reverse("received"))
    for number in (1, 2):
        check_in(line.order, delivery_document(request_key=f"k{number}", seen_deliveries=number), SIGNED, now=NOW)
    assert queries_of(office, reverse("received")) == before
