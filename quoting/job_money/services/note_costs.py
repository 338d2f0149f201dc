"""Change notes with what they cost, of many jobs in two queries: what is said, else assumed at the quote's share."""

from collections import defaultdict
from collections.abc import Collection, Iterator
from datetime import date
from decimal import Decimal

from quoting.changes.models import ChangeNote, ChangeState
from quoting.core.money.quoted import NoteCosts, QuotedCost
from quoting.core.money.quoted_document import assumed
from quoting.platform.firm_day import day_at_the_firm
from quoting.quotes.models import QuoteRevision, RevisionState

COUNTED = (ChangeState.SIGNED, ChangeState.ISSUED)


def notes_of(job_ids: Collection[int], until: date = date.max) -> dict[int, tuple[NoteCosts, ...]]:
    """Signed and waiting notes to the accepted quote, by job, by number. until: as they stood at the end of the day."""
    rows = ChangeNote.objects.filter(
        job__in=job_ids, state__in=COUNTED, revision__state=RevisionState.ACCEPTED, issued_on__lte=until
    ).select_related("revision")
    rows = rows.defer("snapshot", "revision__snapshot").prefetch_related("lines", "costs").order_by("job", "number")
    notes: defaultdict[int, list[NoteCosts]] = defaultdict(list)
    for note in rows:
        lines = tuple(_lines(note, note.revision))
        is_signed = note.state == ChangeState.SIGNED and day_at_the_firm(note.state_at) <= until
        notes[note.job_id].append(NoteCosts(note.number, note.title, note.price, is_signed, lines))
    return {job: tuple(notes[job]) for job in job_ids}


def _lines(note: ChangeNote, revision: QuoteRevision) -> Iterator[QuotedCost]:
    """Cost lines where there are some; else each line's cost, and of what nobody said one sum of the note."""
    if costs := list(note.costs.all()):
        for cost in (row.to_core() for row in costs):
            yield QuotedCost(cost.category, cost.item, cost.what or cost.item, cost.quantity, cost.unit_cost)
        return
    unsaid = Decimal("0.00")
    for line in note.lines.all():
        if line.cost is None:
            unsaid += line.price
        elif line.cost:
            yield QuotedCost("other", line.what, line.what, Decimal(1), line.cost, takes_rest=True)
    if unsaid:
        yield assumed(f"note {note.number}", note.title, unsaid, revision.price, revision.cost)
