"""What a change note keeps of the moment it was issued: the filled paper, and the job where it was worked out."""

import json
from typing import Any

from catalog.core.ground.declared import write
from quoting.changes.models import ChangeNote
from quoting.changes.papers.change_sheet import ChangePaper
from quoting.core.changes.change_document import ChangeSpec
from quoting.core.quotes.job_file import JobFile, write_job_file
from quoting.platform.papers.errors import PaperRefused
from quoting.platform.papers.paper_documents import read_paper, write_paper
from quoting.quotes.services.snapshots import hash_of

FORMAT = "frozen-change/1"
Document = dict[str, Any]


class ChangeSnapshotChanged(PaperRefused):
    def __init__(self, note: ChangeNote) -> None:
        super().__init__(
            f"What was kept of {note} is not what was issued: its content has changed since. "
            "Restore the database from the backup."
        )


def change_snapshot_text(change: ChangeSpec, paper: ChangePaper, job_file: JobFile | None) -> str:
    document = {
        "format": FORMAT,
        "change": write(change),
        "job_file": write_job_file(job_file) if job_file else None,
        "paper": write_paper(paper),
    }
    return json.dumps(document, sort_keys=True, ensure_ascii=False, allow_nan=False)


def change_snapshot_of(note: ChangeNote) -> Document:
    if hash_of(note.snapshot) != note.snapshot_sha256:
        raise ChangeSnapshotChanged(note)
    document: Document = json.loads(note.snapshot)
    return document


def frozen_change_paper(note: ChangeNote) -> ChangePaper:
    return read_paper(ChangePaper, change_snapshot_of(note)["paper"])
