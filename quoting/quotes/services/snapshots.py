"""What a revision keeps of the moment it was issued: inputs, results and the filled paper, as one text."""

import hashlib
import json
from typing import Any

from jobs.core.measure.explanation import RULE_VERSION
from jobs.core.results.result_documents import schedule_document, takeoff_document
from quoting.core.quotes.job_file import write_job_file
from quoting.core.quotes.quote_document import quote_document
from quoting.core.quotes.work_up import WorkUp
from quoting.platform.papers.errors import PaperRefused
from quoting.platform.papers.paper_documents import read_paper, write_paper
from quoting.quotes.models import QuoteRevision
from quoting.quotes.papers.sheets import QuotePaper

FORMAT = "frozen-quote/1"
Document = dict[str, Any]


class SnapshotChanged(PaperRefused):
    """row: a revision, a change note, a payment request."""

    def __init__(self, row: Any) -> None:
        super().__init__(f"What is stored of {row} is not what was issued. Restore the database from the backup.")


def snapshot_text(work_up: WorkUp, paper: QuotePaper, **more: Any) -> str:
    """more: further parts of the document, such as what the client may choose among."""
    document = {
        "format": FORMAT,
        "rules": RULE_VERSION,
        "today": work_up.today.isoformat(),
        "job_file": write_job_file(work_up.read),
        "takeoff": takeoff_document(work_up),
        "schedule": schedule_document(work_up),
        "quote": quote_document(work_up),
        "paper": write_paper(paper),
        **more,
    }
    return json.dumps(document, sort_keys=True, ensure_ascii=False, allow_nan=False)


def hash_of(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def snapshot_of(row: Any) -> Document:
    """Read back what was frozen; refused when it no longer has its hash."""
    if hash_of(row.snapshot) != row.snapshot_sha256:
        raise SnapshotChanged(row)
    document: Document = json.loads(row.snapshot)
    return document


def frozen_paper(revision: QuoteRevision) -> QuotePaper:
    return read_paper(QuotePaper, snapshot_of(revision)["paper"])
