"""What is ordered, or ordered again, before its job is signed: somebody says why and stands for it by name."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from catalog.core.ground.declared import write
from catalog.core.ground.refusal import Refused
from catalog.services.row_sync import save_if_changed
from jobs.jobs.models import Job
from jobs.orders.models import Release
from jobs.orders.services.items import Item
from jobs.orders.services.refusal import clean_text
from jobs.orders.services.releasing import MAX_REASON, ItemStanding, standing_release


def called(item: Item) -> str:
    return f"{item.need.name} of {item.job.key}"


def release_unsigned(
    standings: Sequence[ItemStanding], reason: str, *, by: str, now: datetime
) -> Mapping[str, Release]:
    """A release of each, by key of the item. asked: items of jobs that are not signed. Raises Refused."""
    reason = clean_text(reason, "The reason", MAX_REASON)
    items = {standing.item.key: standing for standing in standings}
    if not reason:
        names = ", ".join(called(standing.item) for standing in items.values())
        told_why = "Write why; it is saved with your name."
        raise Refused(f"Not placed: {names} would be bought before the job is signed. {told_why}")
    list(Job.objects.select_for_update().filter(pk__in={standing.item.job.pk for standing in standings}).order_by("pk"))
    return {key: _released(standing, reason, by, now) for key, standing in items.items()}


def _released(standing: ItemStanding, reason: str, by: str, now: datetime) -> Release:
    item, material = standing.item, standing.item.need.material
    present = standing_release(item.job, material)
    if present is not None:
        why = "Changed since." if standing.release is None else "Ordered again."
        save_if_changed(present, {"ended_at": now, "ended_by_name": by, "ended_reason": why})
    # Stock waits for the signature alone.
    holds = [hold for hold in standing.holds if standing.needs_release or hold.kind == "quote"]
    return Release.objects.create(
        job=item.job,
        material_id=material,
        statement=write(item.statement),
        statement_mark=item.statement.mark,
        holds=[{"key": hold.key, "sentence": hold.sentence} for hold in holds],
        past_holds=True,
        reason=reason,
        released_at=now,
        released_by_name=by,
    )
