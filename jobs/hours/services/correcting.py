"""A wrong entry is voided, or reversed once its month is closed; what is right is entered anew in its place."""

from dataclasses import dataclass
from datetime import datetime
from typing import Annotated, Any

from django.db import transaction
from django.db.models import QuerySet

from catalog.core.ground.declared import As, Stripped, read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.reasons import MAX_WHY
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import refuse_another
from catalog.services.row_sync import save_if_changed
from jobs.hours.models import TimeEntry, Worker
from jobs.hours.services.day_limits import refuse_too_much
from jobs.hours.services.entering import OTHER_HOURS, HoursSent, keep, said_of
from jobs.hours.services.entry_lines import HourLine, HoursLine, LineReader
from quoting.platform.people.signatures import Signature
from quoting.platform.posting import month_to_post

# Under the key of a correction: the reversal, then what is entered anew.
REVERSAL, ANEW = 0, 1


@dataclass(frozen=True, kw_only=True)
class HoursCorrection(HoursSent):
    """Why an entry is wrong, and what is right; without a line it is taken back."""

    reason: Annotated[str, Stripped(MAX_WHY), As(label="What was wrong")]
    line: HoursLine | None = None


@dataclass(frozen=True)
class Corrected:
    """entry: what was wrong. reversal: what takes it back, None where it is voided. anew: None where nothing is right
    in its place."""

    entry: TimeEntry
    reversal: TimeEntry | None
    anew: TimeEntry | None


class GoneAlready(Refused):
    def __init__(self, entry: TimeEntry) -> None:
        by = entry.voided_by_name or entry.reversed_by.entered_by_name
        super().__init__(f"{by} voided this entry already. Enter the right hours as new.")


@transaction.atomic
def correct_entry(
    entry: TimeEntry, document: dict[str, Any], signature: Signature, *, now: datetime, among: QuerySet[Worker]
) -> Corrected:
    """document: as `HoursCorrection`. Safe to repeat. Raises DocumentError, AskFirst, Refused."""
    sent = read(HoursCorrection, Reader(document))
    key, lines = sent.request_key, LineReader(signature.on, among)
    lines.hold({entry.worker_id, *([sent.line.worker] if sent.line else [])})
    line = lines.line(sent.line, "line") if sent.line else None
    entry = TimeEntry.objects.select_for_update(of=("self",)).select_related("worker").get(pk=entry.pk)
    if (before := _sent_before(entry, key, line)) is not None:
        return before
    if entry.reverses_id is not None:
        raise Refused("This reverses an entry of a closed month. Enter the right hours as new.")
    if entry.voided_at is not None or hasattr(entry, "reversed_by"):
        raise GoneAlready(entry)
    if line is not None:
        refuse_too_much([line], is_long_day=sent.is_long_day, adds=sent.adds, without=[entry.pk])
    reversal = _take_back(entry, key, sent.reason, signature, now)
    anew = keep([line], key, signature, now, first=ANEW, corrects=entry)[0] if line is not None else None
    return Corrected(entry, reversal, anew)


def _sent_before(entry: TimeEntry, key: str, line: HourLine | None) -> Corrected | None:
    rows = {row.place: row for row in TimeEntry.objects.filter(request_key=key)}
    if not rows:
        return None
    reversal, anew = rows.get(REVERSAL), rows.get(ANEW)
    about = {row.reverses_id or row.corrects_id for row in rows.values()}
    same = (said_of(anew) if anew else None) == (line.said if line else None)
    refuse_another(about != {entry.pk} or not same, OTHER_HOURS)
    return Corrected(entry, reversal, anew)


def _take_back(entry: TimeEntry, key: str, reason: str, signature: Signature, now: datetime) -> TimeEntry | None:
    month = month_to_post(entry.posted_month)
    if month == entry.posted_month:
        save_if_changed(entry, {"voided_at": now, "voided_by_name": signature.by, "void_reason": reason})
        return None
    stored = ("worker", "job", "step", "elsewhere", "typed_minutes", "tag", "rate", "rate_name", "day")
    return TimeEntry.objects.create(
        **{name: getattr(entry, name) for name in stored},
        minutes=-entry.minutes,
        note=reason,
        posted_month=month,
        request_key=key,
        place=REVERSAL,
        reverses=entry,
        entered_at=now,
        entered_by_name=signature.by,
    )
