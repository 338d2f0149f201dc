"""Brightwell Childcare's trim on order, as its worked example tells it: received 6 August, 2 of 9 damaged."""

from datetime import UTC, date, datetime

from catalog.models import Material, OrderTerms
from jobs.orders.models import Order, OrderLine
from quoting.platform.people.signatures import Signature
from tests.factories.orders import placed_order
from tests.stored import stored_job

ORDERED, CAME = date(2027, 6, 29), date(2027, 8, 6)
NOW = datetime(2027, 8, 6, 15, 0, tzinfo=UTC)
SIGNED = Signature("I. Quarrell", CAME)


def trim_on_order(**more) -> OrderLine:
    job = stored_job("brightwell-childcare")
    material = Material.objects.select_related("supplier").get(code="BASE-312-FLEX")
    line = placed_order(job, material, material.supplier, need_by=date(2027, 8, 11), quoted_dock_on=CAME, **more)
    Order.objects.filter(pk=line.order_id).update(placed_on=ORDERED, counted_from=ORDERED)
    line.order.refresh_from_db()
    return line


def five_days_to_claim(line: OrderLine) -> None:
    OrderTerms.objects.create(supplier=line.order.supplier, claim_days=5, source="telephone", stated_on=ORDERED)


def delivery_document(**more) -> dict:
    came = [{"place": 1, "good": "7", "damaged": "2", "note": "Two cracked at the end"}]
    return {"request_key": "phone-1", "seen_deliveries": 0, "received_on": CAME.isoformat(), "lines": came} | more
