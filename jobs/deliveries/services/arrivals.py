"""What came of a job, good or not, and what went back, for whoever builds it."""

from jobs.deliveries.models import ReceiptLine, ReturnedGoods
from jobs.jobs.models import Job
from jobs.site.services.on_site import Arrival
from quoting.platform.models.columns import normalized


def arrivals_of(job: Job) -> list[Arrival]:
    receipts = ReceiptLine.objects.filter(line__job=job).select_related("line", "delivery")
    arrivals = [
        Arrival(
            receipt.line.material_id,
            receipt.delivery.received_on,
            normalized(receipt.good),
            receipt.line.unit,
            normalized(receipt.damaged + receipt.wrong),
        )
        for receipt in receipts
    ]
    arrivals += [
        Arrival(goods.line.material_id, goods.sent_on, -normalized(goods.quantity), goods.line.unit)
        for goods in ReturnedGoods.objects.filter(line__job=job).select_related("line")
    ]
    return sorted(arrivals, key=lambda arrival: (arrival.on, -arrival.count))
