"""Invariants of payment requests; loaded with the other audit checks."""

from collections.abc import Iterable, Iterator
from datetime import datetime
from decimal import Decimal

from quoting.payment_requests.models import PaymentRequest, RequestMail
from quoting.payment_requests.models.requests import FIGURES
from quoting.payment_requests.services.mailing import mail_errand
from quoting.payment_requests.services.request_papers import frozen_request, paper_errand
from quoting.platform.papers.paper_documents import PaperUnreadable
from quoting.quotes.services.snapshots import SnapshotChanged
from quoting.service.audit.services.audit import audit_check


@audit_check("payment requests")
def requests_are_in_order(now: datetime) -> Iterable[str]:
    expected = 1
    for row in PaymentRequest.objects.select_related("credits").order_by("number").iterator(chunk_size=50):
        if row.number != expected:
            yield f"{row} follows number {expected - 1}; numbers have no gap."
        expected = row.number + 1
        yield from _figures(row)
        try:
            frozen_request(row)
        except (SnapshotChanged, PaperUnreadable, ValueError) as error:
            yield f"{row}: {error}"
        if paper_errand(row) is None:
            yield f"{row} has no paper, and nobody is asked to make it."
    for mail in RequestMail.objects.select_related("request").filter(sent_at=None):
        if mail_errand(mail) is None:
            yield f"{mail} is asked for, and nobody is told to send it."


def _figures(row: PaymentRequest) -> Iterator[str]:
    part, noted, credited, held = (row.parts(figure) for figure in FIGURES)
    together = part + noted - credited - held
    if together != row.to_pay:
        yield f"{row}: its parts come to {together.total}, but {row.total} is to pay."
    if row.credits is not None and row.total + row.credits.total != Decimal(0):
        yield f"{row} takes back {row.credits}, and the two do not come to nought."
