"""What was agreed in words and may stand on the walls as well: a difference of the walls would count it twice."""

from collections.abc import Iterable

from quoting.changes.models import ChangeDraft, ChangeNote, ChangeState
from quoting.changes.services.contracts import accepted_revision, agreed_basis
from quoting.core.changes.change_notes import ChangeLine
from quoting.core.changes.swaps import Swap, is_named
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.snapshots import snapshot_of

BY_HAND = ("lines", "substitution")


def typed_since(revision: QuoteRevision) -> list[ChangeNote]:
    """Notes typed by hand, waiting or signed, that the job as agreed knows nothing of."""
    _, basis = agreed_basis(revision)
    rows = ChangeNote.objects.filter(revision=revision, number__gt=basis, kind__in=BY_HAND).select_related("job")
    standing = rows.filter(state__in=(ChangeState.ISSUED, ChangeState.SIGNED)).prefetch_related("lines")
    # One worked out from the walls is a substitution too, and counts already or waits to be the next basis.
    return [note for note in standing.order_by("number") if not _is_from_walls(note)]


def lines_agreed_already(revision: QuoteRevision, swaps: Iterable[Swap]) -> tuple[ChangeLine, ...]:
    """What takes a signed substitution off again, where the walls now have what it named."""
    swapped = tuple(swaps)
    named = (
        note
        for note in typed_since(revision)
        if note.state == ChangeState.SIGNED and any(is_named(swap.replacement, note.replacement) for swap in swapped)
    )
    return tuple(
        ChangeLine(
            f"{_taken_off(note)}{line.what}"[:200],
            -line.price,
            -line.taxed,
            None if line.cost is None else -line.cost,
        )
        for note in named
        for line in note.lines.all()
    )


def overlaps_of(draft: ChangeDraft) -> tuple[str, ...]:
    """What to look at before a draft worked out from the walls is issued."""
    revision = accepted_revision(draft.job) if draft.walls_mark else None
    if revision is None:
        return ()
    lines = [line.what for line in draft.lines.all()]
    return tuple(_caution(note, lines) for note in typed_since(revision))


def _caution(note: ChangeNote, lines: Iterable[str]) -> str:
    about = f'Change note {note.number}, "{note.title}", was typed by hand and {_standing(note)}.'
    if any(line.startswith(_taken_off(note)) for line in lines):
        return f"{about} The walls have it now too, so it is left out here. Keep it if it was about something else."
    return (
        f"{about} If it is on the walls now too, it is in this draft twice. Add a line that takes it out, "
        "or change the walls back."
    )


def _standing(note: ChangeNote) -> str:
    return "is signed" if note.state == ChangeState.SIGNED else "waits for a signature"


def _taken_off(note: ChangeNote) -> str:
    return f"Agreed by change note {note.number}: "


def _is_from_walls(note: ChangeNote) -> bool:
    return snapshot_of(note)["job_file"] is not None
