"""An event that a part of the price waits for is marked as happened: by whom, on which day; a slip is taken back."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import Text, read
from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.reasons import WhyTakenBack
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import RequestKey, refuse_another
from catalog.services.row_sync import save_if_changed
from catalog.services.typed_money import entry_reader
from jobs.deliveries.services.order_events import day_come
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed
from quoting.payment_requests.models import EventMark
from quoting.payment_requests.services.entered import agreed_requests, held_job
from quoting.platform.people.signatures import Signature

Part = Annotated[str, Text(40), "deposit, instalment 0 and on, notes or release; as the parts of the job say."]


@dataclass(frozen=True)
class NewEventMark:
    """The day a part's event happened; today where it is not said."""

    request_key: RequestKey
    part: Part
    happened_on: date | None = None


@transaction.atomic
def mark_event(job: Job, document: dict[str, Any], signature: Signature, *, now: datetime) -> tuple[EventMark, bool]:
    """document: as `NewEventMark`. Safe to repeat. Raises Refused."""
    job = held_job(job)
    request = agreed_requests(job)
    said = read(NewEventMark, entry_reader(document))
    part, day = said.part, day_come(said.happened_on, "happened_on", signature)
    known = {entry.part: entry for entry in request.parts() if entry.can_be_marked or entry.part in request.marks}
    if part not in known:
        raise DocumentError.at("part", f"{part!r} waits for no event; those that do: {', '.join(known) or 'none'}")
    present = EventMark.objects.filter(request_key=said.request_key).first()
    if present is not None:
        refuse_another((present.job_id, present.part, present.happened_on) != (job.pk, part, day), "another event")
        return present, False
    if part in request.marks:
        mark = request.marks[part]
        raise Refused(f"“{mark.event}” is marked by {mark.marked_by_name} already. Undo that first.")
    row = EventMark.objects.create(
        job=job,
        revision=request.revision,
        request_key=said.request_key,
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
    """document: as `WhyTakenBack`. Refused while a request stands on it."""
    job = held_job(row.job)
    row = EventMark.objects.select_for_update(of=("self",)).get(pk=row.pk)
    reason = read(WhyTakenBack, entry_reader(document)).reason
    if row.voided_at is not None:
        return row
    on_it = next((request for request in agreed_requests(job).live_rows if request.part == row.part), None)
    if on_it is not None:
        raise Refused(f"{on_it} asks for “{row.event}”. Credit it first, then undo the event.")
    save_if_changed(row, {"voided_at": now, "voided_by_name": signature.by, "void_reason": reason})
    fact_changed(job.pk)
    return row
