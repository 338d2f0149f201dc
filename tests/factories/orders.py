"""One order with everything that can become of it: confirmed, promised, come in part, claimed, sent back."""

from datetime import UTC, date, datetime
from typing import Any

from catalog.models import Material, OrderTerms, Supplier
from jobs.deliveries.models import (
    ClaimMail,
    Confirmation,
    ConfirmedLine,
    Delivery,
    ReceiptLine,
    ReceiptPhoto,
    ReceivedPiece,
    ReturnedGoods,
    SettledDeviation,
)
from jobs.orders.models import Order, OrderLine, OrderMail, Promise, Release, SignOff

MARK = "0" * 64
NOON = datetime(2026, 11, 24, 12, tzinfo=UTC)
DAY = date(2026, 11, 24)
BY = "I. Quarrell"


def placed_order(job: Any, material: Material, supplier: Supplier, **line: Any) -> OrderLine:
    """A placed order with one line; what `line` does not say is usual."""
    order = Order.objects.create(
        number=f"O-{Order.objects.count() + 1:04}",
        supplier=supplier,
        state="placed",
        request_key=f"order-{Order.objects.count() + 1}",
        made_at=NOON,
        made_by_name=BY,
        way="other",
        placed_at=NOON,
        placed_on=DAY,
        counted_from=DAY,
        placed_by_name=BY,
    )
    usual = {"what": material.name, "quantity": 9, "unit": "pieces", "statement_mark": MARK, "quoted_workdays": 17}
    return OrderLine.objects.create(order=order, place=1, job=job, material=material, **(usual | line))


def whole_order(job: Any) -> Order:
    """With a row in every table of orders, every number of it stated."""
    material = Material.objects.exclude(supplier=None).first()
    assert material is not None and material.supplier is not None
    OrderTerms.objects.create(
        supplier=material.supplier,
        minimum_order=100,
        freight=40,
        freight_free_from=500,
        claim_days=5,
        rush_production_workdays=5,
        rush_transit_workdays=1,
        rush_cushion_workdays=2,
        rush_fee=75,
        rush_share="0.25",
        source="price list",
        stated_on=DAY,
    )
    line = placed_order(job, material, material.supplier, unit_price=10, amount=90)
    order = line.order
    Order.objects.filter(pk=order.pk).update(freight=40, rush_fee=75)
    Release.objects.create(
        job=job, material=material, statement={}, statement_mark=MARK, released_at=NOON, released_by_name=BY
    )
    SignOff.objects.create(job=job, material=material, what="Sample", entered_at=NOON, entered_by_name=BY)
    Promise.objects.create(line=line, promised_on=DAY, told_on=DAY, entered_at=NOON, entered_by_name=BY)
    OrderMail.objects.create(order=order, request_key="m", to_address="m@x.example", asked_at=NOON, asked_by_name=BY)
    text = Confirmation.objects.create(
        order=order, request_key="c", received_on=DAY, entered_at=NOON, entered_by_name=BY
    )
    ConfirmedLine.objects.create(confirmation=text, line=line, quantity=9, amount=90)
    SettledDeviation.objects.create(
        line=line, mark="promised", how="asked_again", settled_on=DAY, entered_at=NOON, entered_by_name=BY
    )
    came = Delivery.objects.create(order=order, request_key="d", received_on=DAY, entered_at=NOON, entered_by_name=BY)
    receipt = ReceiptLine.objects.create(
        delivery=came,
        line=line,
        good=7,
        damaged=2,
        quoted_workdays=17,
        actual_workdays=18,
        credit=20,
        credited=20,
        credited_on=DAY,
    )
    ClaimMail.objects.create(
        receipt=receipt, request_key="c", letter_key="k", to_address="m@x.example", asked_at=NOON, asked_by_name=BY
    )
    ReceivedPiece.objects.create(receipt=receipt, number=1, state="good")
    ReceiptPhoto.objects.create(
        receipt=receipt,
        caption="Cracked",
        file_name=f"{MARK}.jpg",
        sha256=MARK,
        size_bytes=1,
        width_px=1,
        height_px=1,
        added_by=BY,
        added_at=NOON,
    )
    ReturnedGoods.objects.create(
        line=line,
        request_key="r",
        quantity=2,
        sent_on=DAY,
        reason="Cracked",
        credit_expected=20,
        credited=20,
        credited_on=DAY,
        entered_at=NOON,
        entered_by_name=BY,
    )
    return order
