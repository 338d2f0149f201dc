"""What came of a job, good or not, and what went back, for whoever builds it."""

from jobs.deliveries.models import ReceiptLine, ReturnedGoods
from jobs.jobs.models import Job
from jobs.site.services.on_site import Arrival
from quoting.platform.models.columns import normalized


def arrivals_of(job: Job) -> list[Arrival]:
    receipts = ReceiptLine.objects.filter(line__job=job).select_related("line", "delivery")
    found = [
        Arrival(
            one.line.material_id,
            one.delivery.received_on,
            normalized(one.good),
            one.line.unit,
            normalized(one.damaged + one.wrong),
        )
        for one in receipts
    ]
    found += [
        Arrival(one.line.material_id, one.sent_on, -normalized(one.quantity), one.line.unit)
        for one in ReturnedGoods.objects.filter(line__job=job).select_related("line")
    ]
    return sorted(found, key=lambda one: (one.on, -one.count))
