"""Closed jobs as the record has them, newest first, in a number of queries that does not grow with them."""

from collections import defaultdict
from collections.abc import Collection, Iterable
from decimal import Decimal

from jobs.core.costs.hours import HourRow
from jobs.core.costs.tags import note_number
from jobs.hours.services.hour_rows import hour_rows_of
from quoting.changes.models import ChangeNote, ChangeState
from quoting.core.money.closed_jobs import JobRecord
from quoting.quotes.models import QuoteRevision, RevisionState
from quoting.record.models import LeftOut
from quoting.record.services.agreed import Agreed, agreed_of
from quoting.record.services.used_boards import used_boards

MAX_JOBS = 40
"""So many of the newest closed jobs are looked at: five times what any standard uses."""


def job_records() -> list[JobRecord]:
    rows = QuoteRevision.objects.filter(state=RevisionState.ACCEPTED, quote__job__closed_on__isnull=False)
    rows = rows.select_related("quote__job").defer("snapshot").order_by("-quote__job__closed_on", "-pk")
    revisions = list(rows[:MAX_JOBS])
    notes = _notes(revisions)
    agreed = {
        row.quote.job_id: agreed_of(row.pk, " ".join([row.snapshot_sha256, *(mark for _, mark in notes[row.pk])]))
        for row in revisions
    }
    hours, boards, left_out = hour_rows_of(agreed.keys()), used_boards(agreed), _left_out(agreed.keys())
    records = []
    for row in revisions:
        job = row.quote.job
        spent, uncoded = _spent(hours[job.pk], agreed[job.pk], {number for number, _ in notes[row.pk]})
        steps, materials = agreed[job.pk].steps, boards[job.pk]
        assert job.closed_on is not None, "only closed jobs are asked for"
        records.append(JobRecord(job.key, job.closed_on, steps, spent, uncoded, materials, left_out[job.pk]))
    return records


def _notes(revisions: Iterable[QuoteRevision]) -> dict[int, list[tuple[int, str]]]:
    """Number and hash of the signed notes that were worked out from walls."""
    notes: defaultdict[int, list[tuple[int, str]]] = defaultdict(list)
    rows = ChangeNote.objects.filter(
        revision__in=[entry.pk for entry in revisions], state=ChangeState.SIGNED, kind="walls"
    )
    for revision, number, mark in rows.order_by("number").values_list("revision", "number", "snapshot_sha256"):
        notes[revision].append((number, mark))
    return notes


def _spent(rows: Iterable[HourRow], agreed: Agreed, of_walls: Collection[int]) -> tuple[dict[str, Decimal], int]:
    """Hours by step that count for its standard, and how many entries are on no step."""
    spent: defaultdict[str, Decimal] = defaultdict(Decimal)
    uncoded = 0
    for row in rows:
        note = note_number(row.tag)
        if row.step is None:
            uncoded += 1 if row.minutes > 0 else -1
        elif not row.tag or (note in of_walls and note <= agreed.note):
            spent[row.step] += row.hours
    return dict(spent), uncoded


def _left_out(job_ids: Collection[int]) -> dict[int, dict[str, str]]:
    result: defaultdict[int, dict[str, str]] = defaultdict(dict)
    for row in LeftOut.objects.filter(job__in=job_ids, undone_at=None):
        result[row.job_id][row.standard] = row.reason
    return result
