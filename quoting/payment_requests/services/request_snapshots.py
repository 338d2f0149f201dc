"""What a request keeps of the moment it was issued: its filled paper, under its hash."""

import json
from typing import Any

from quoting.payment_requests.models import PaymentRequest
from quoting.payment_requests.papers.request_sheet import RequestPaper
from quoting.platform.papers.errors import PaperRefused
from quoting.platform.papers.paper_documents import read_paper, write_paper
from quoting.quotes.services.snapshots import hash_of

Document = dict[str, Any]


class RequestSnapshotChanged(PaperRefused):
    def __init__(self, row: PaymentRequest) -> None:
        super().__init__(
            f"What was kept of {row} is not what was issued: its content has changed since. "
            "Restore the database from the backup."
        )


def request_snapshot(paper: RequestPaper) -> str:
    return json.dumps(write_paper(paper), sort_keys=True, ensure_ascii=False, allow_nan=False)


def snapshot_of(row: PaymentRequest) -> Document:
    if hash_of(row.snapshot) != row.snapshot_sha256:
        raise RequestSnapshotChanged(row)
    document: Document = json.loads(row.snapshot)
    return document


def frozen_request(row: PaymentRequest) -> RequestPaper:
    return read_paper(RequestPaper, snapshot_of(row))
