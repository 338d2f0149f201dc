"""The paper of a request: frozen as it was issued, asked for once, made by errand."""

import json
from datetime import datetime

from quoting.payment_requests.models import PaymentRequest
from quoting.payment_requests.papers.request_sheet import RequestPaper
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import queue_errand
from quoting.platform.papers.paper_documents import read_paper, write_paper
from quoting.platform.papers.papers import RENDER_REQUEST
from quoting.quotes.services.snapshots import snapshot_of


def request_snapshot(paper: RequestPaper) -> str:
    return json.dumps(write_paper(paper), sort_keys=True, ensure_ascii=False, allow_nan=False)


def frozen_request(row: PaymentRequest) -> RequestPaper:
    return read_paper(RequestPaper, snapshot_of(row))


def ask_for_paper(row: PaymentRequest, now: datetime) -> Errand:
    """What it says was frozen with the request."""
    return queue_errand(RENDER_REQUEST, _key(row), {"request": row.pk}, now)


def paper_errand(row: PaymentRequest) -> Errand | None:
    return Errand.objects.filter(kind=RENDER_REQUEST, key=_key(row)).first()


def _key(row: PaymentRequest) -> str:
    return f"request {row.number}"
