"""A draft that was thrown away can be put back while its items are free."""

from catalog.core.ground.refusal import Refused
from catalog.services.row_sync import save_if_changed
from jobs.deleted.models import Deleted, DeletedKind
from jobs.deleted.services.deleted import Deletion, put_back_by
from jobs.orders.models import Order, OrderState
from jobs.orders.services.drafting import bring_up_to_date
from quoting.platform.firm_day import moment_at_the_firm


@put_back_by(DeletedKind.ORDER)
def put_draft_back(row: Deleted, deletion: Deletion) -> None:
    """Its lines as their items stand now."""
    order = Order.objects.select_for_update().filter(number=row.key).first()
    if order is None or order.state != OrderState.CALLED_OFF or order.placed_at is not None:
        raise Refused(f"{row} is not a deleted draft.")
    cleared = {"called_off_at": None, "called_off_by_name": "", "called_off_reason": ""}
    save_if_changed(order, {"state": OrderState.DRAFT, "version": order.version + 1, **cleared})
    try:
        bring_up_to_date(order, seen_version=order.version, moment=moment_at_the_firm(deletion.now))
    except Refused as refusal:
        raise Refused(
            f"{row} cannot be restored: one of its items is on another order, or is no longer needed. "
            "Order what is left."
        ) from refusal
