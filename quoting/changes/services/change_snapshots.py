"""What a change note keeps of the moment it was issued: the filled paper, and the job where it was worked out."""

import json

from catalog.core.ground.declared import write
from quoting.changes.models import ChangeNote
from quoting.changes.papers.change_sheet import ChangePaper
from quoting.core.changes.change_document import ChangeSpec
from quoting.core.quotes.job_file import JobFile, write_job_file
from quoting.platform.papers.paper_documents import read_paper, write_paper
from quoting.quotes.services.snapshots import snapshot_of

FORMAT = "frozen-change/1"


def change_snapshot_text(change: ChangeSpec, paper: ChangePaper, job_file: JobFile | None) -> str:
    document = {
        "format": FORMAT,
        "change": write(change),
        "job_file": write_job_file(job_file) if job_file else None,
        "paper": write_paper(paper),
    }
    return json.dumps(document, sort_keys=True, ensure_ascii=False, allow_nan=False)


def frozen_change_paper(note: ChangeNote) -> ChangePaper:
    return read_paper(ChangePaper, snapshot_of(note)["paper"])
