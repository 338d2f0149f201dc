"""An event that a part of the price waits for is marked as happened: by whom, on which day; a slip is taken back."""

from datetime import datetime
from typing import Any

from django.db import transaction

from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import refuse_another, request_key_of
from catalog.services.row_sync import save_if_changed
from catalog.services.typed_money import entry_reader
from jobs.deliveries.services.order_events import past_day
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed
from quoting.payment_requests.models import EventMark
from quoting.payment_requests.services.entered import agreed_requests, held_job
from quoting.platform.people.signatures import Signature

MAX_REASON = 300


@transaction.atomic
def mark_event(job: Job, document: dict[str, Any], signature: Signature, *, now: datetime) -> tuple[EventMark, bool]:
    """request_key, part, happened_on. Sent twice it is one. Raises Refused."""
    job = held_job(job)
    request = agreed_requests(job)
    reader = entry_reader(document)
    key, part = request_key_of(reader), reader.text("part", longest=40)
    day = past_day(reader, "happened_on", signature)
    known = {entry.part: entry for entry in request.parts() if entry.can_be_marked or entry.part in request.marks}
    if part not in known:
        raise reader.error("part", f"{part!r} waits for no event; those that do: {', '.join(known) or 'none'}")
    reader.finish()
    present = EventMark.objects.filter(request_key=key).first()
    if present is not None:
        refuse_another((present.job_id, present.part, present.happened_on) != (job.pk, part, day), "another event")
        return present, False
    if part in request.marks:
        mark = request.marks[part]
        raise Refused(f"“{mark.event}” is marked by {mark.marked_by_name} already. Take that back first.")
    row = EventMark.objects.create(
        job=job,
        revision=request.revision,
        request_key=key,
        part=part,
        event=request.event_of(part),
        happened_on=day,
        marked_at=now,
        marked_by_name=signature.by,
    )
    fact_changed(job.pk)
    return row, True


@transaction.atomic
def take_mark_back(row: EventMark, document: dict[str, Any], signature: Signature, *, now: datetime) -> EventMark:
    """Marked by mistake: reason. Refused while a request stands on it."""
    job = held_job(row.job)
    row = EventMark.objects.select_for_update(of=("self",)).get(pk=row.pk)
    reader = entry_reader(document)
    reason = reader.text("reason", longest=MAX_REASON)
    reader.finish()
    if row.voided_at is not None:
        return row
    on_it = next((request for request in agreed_requests(job).live_rows if request.part == row.part), None)
    if on_it is not None:
        raise Refused(f"{on_it} stands on “{row.event}”. Credit it first, then take the event back.")
    save_if_changed(row, {"voided_at": now, "voided_by_name": signature.by, "void_reason": reason})
    fact_changed(job.pk)
    return row
