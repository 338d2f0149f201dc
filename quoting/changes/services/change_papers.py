"""The paper of a change note: asked for once, made by errand."""

from datetime import datetime

from quoting.changes.models import ChangeNote
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import queue_errand
from quoting.platform.papers.papers import RENDER_CHANGE_NOTE


def request_change_note(note: ChangeNote, now: datetime) -> Errand:
    """What it says was frozen with the note."""
    return queue_errand(RENDER_CHANGE_NOTE, f"{note.job.key} {note.number}", {"change_note": note.pk}, now)


def change_note_errand(note: ChangeNote) -> Errand | None:
    return Errand.objects.filter(kind=RENDER_CHANGE_NOTE, key=f"{note.job.key} {note.number}").first()
