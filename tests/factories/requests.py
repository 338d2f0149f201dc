"""Payment requests as rows, without working them out."""

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from quoting.payment_requests.models import PaymentRequest
from quoting.payment_requests.models.requests import FIGURES
from quoting.quotes.models import QuoteRevision
from tests.support.worked import NOW, TODAY

NOTHING = dict.fromkeys((f"{figure}_{part}" for figure in FIGURES for part in ("price", "tax")), Decimal(0))


def request_row(revision: QuoteRevision, number: int = 1, price: str = "100.00", **more: Any) -> PaymentRequest:
    day: date = more.pop("day", TODAY)
    row: dict[str, Any] = {
        "job": revision.quote.job, "revision": revision, "number": number, "request_key": f"request {number}",
        "part": f"instalment {number - 1}", "turn": 0, "what": "Boards up", "event_on": day, "day": day,
        "due": day + timedelta(days=14), "posted_month": day.replace(day=1), "currency": "USD", **NOTHING,
        "asked_price": Decimal(price), "price": Decimal(price), "tax": 0, "total": Decimal(price), "snapshot": "{}",
        "snapshot_sha256": "0" * 64, "issued_at": NOW, "issued_by_name": "I. Quarrell",
    }  # fmt: skip
    return PaymentRequest.objects.create(**row | more)
