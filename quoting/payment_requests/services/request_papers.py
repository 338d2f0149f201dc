"""The paper of a request: asked for once, made by errand."""

from datetime import datetime

from quoting.payment_requests.models import PaymentRequest
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import queue_errand
from quoting.platform.papers.papers import RENDER_REQUEST


def ask_for_paper(row: PaymentRequest, now: datetime) -> Errand:
    """What it says was frozen with the request."""
    return queue_errand(RENDER_REQUEST, _key(row), {"request": row.pk}, now)


def paper_errand(row: PaymentRequest) -> Errand | None:
    return Errand.objects.filter(kind=RENDER_REQUEST, key=_key(row)).first()


def _key(row: PaymentRequest) -> str:
    return f"request {row.number}"
