from django.db import models

from catalog.core.ground.plain_values import from_plain
from jobs.core.results.known_orders import KnownOrder
from jobs.jobs.models.worked_jobs import MAX_CHANGES
from jobs.orders.models import Order
from quoting.platform.models.bounds import between, yes_or_no


class KeptOrder(models.Model):
    """What is known of one placed order, as it stands; empty where nothing is to come, to settle, or goes otherwise.

    catalog_changes: the number of the catalog it was read by; after it changed the row is behind.
    """

    # Without a constraint, as of the life of a job: whoever writes it has no need to hold the order.
    order = models.OneToOneField(
        Order, primary_key=True, on_delete=models.CASCADE, related_name="kept", db_constraint=False
    )
    facts = models.JSONField(default=dict)
    is_open = models.BooleanField(default=True, help_text="Anything is to come, to settle, or goes otherwise.")
    catalog_changes = models.PositiveIntegerField(null=True, blank=True)

    class Meta:
        constraints = [
            yes_or_no("kept_order", "is_open"),
            between("kept_order", "catalog_changes", 0, MAX_CHANGES),
        ]

    def __str__(self) -> str:
        return f"{self.order_id}: {'open' if self.is_open else 'complete'}"

    def to_core(self) -> KnownOrder:
        return from_plain(KnownOrder, self.facts)
