"""What is ordered, or ordered again, before its job is signed: somebody says why and stands for it by name."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from catalog.core.ground.refusal import Refused
from catalog.services.row_sync import save_if_changed
from jobs.core.ordering.order_lines import statement_document
from jobs.jobs.models import Job
from jobs.orders.models import Release
from jobs.orders.services.items import Item
from jobs.orders.services.refusal import told
from jobs.orders.services.releasing import MAX_REASON, ItemStanding, standing_release


def called(item: Item) -> str:
    return f"{item.need.name} of {item.job.key}"


def release_unsigned(asked: Sequence[ItemStanding], reason: str, *, by: str, now: datetime) -> Mapping[str, Release]:
    """A release of each, by key of the item. asked: items of jobs that are not signed. Raises Refused."""
    reason, items = told(reason, "The reason", MAX_REASON), {one.item.key: one for one in asked}
    if not reason:
        names = ", ".join(called(one.item) for one in items.values())
        told_why = "Write why; it is kept with your name."
        raise Refused(f"Not placed: {names} would be bought before the job is signed. {told_why}")
    list(Job.objects.select_for_update().filter(pk__in={one.item.job.pk for one in asked}).order_by("pk"))
    return {key: _released(one, reason, by, now) for key, one in items.items()}


def _released(one: ItemStanding, reason: str, by: str, now: datetime) -> Release:
    item, material = one.item, one.item.need.material
    present = standing_release(item.job, material)
    if present is not None:
        why = "Stated otherwise since." if one.release is None else "Ordered again."
        save_if_changed(present, {"ended_at": now, "ended_by_name": by, "ended_reason": why})
    # Stock waits for the signature alone.
    holds = [hold for hold in one.holds if one.needs_release or hold.kind == "quote"]
    return Release.objects.create(
        job=item.job,
        material_id=material,
        statement=statement_document(item.statement),
        statement_mark=item.statement.mark,
        holds=[{"key": hold.key, "sentence": hold.sentence} for hold in holds],
        past_holds=True,
        reason=reason,
        released_at=now,
        released_by_name=by,
    )
