"""Months to be closed, and costs of the firm to count in them."""

from datetime import date
from decimal import Decimal

from quoting.month.models import OverheadActual
from quoting.month.services.closing import close_month
from quoting.month.services.overhead import enter_overhead
from quoting.platform.people.signatures import Signature
from tests.support.worked import NOW

TODAY = date(2026, 10, 5)
OWNER = Signature("O. Owner", TODAY)


def overhead(day: str, amount: str = "12.50", key: str = "", signature: Signature = OWNER) -> OverheadActual:
    entries = {"request_key": key or f"{day} {amount}", "what": "Rent", "amount": amount, "day": day}
    return enter_overhead(entries, signature, now=NOW)[0]


def close(month: str, signature: Signature = OWNER):
    return close_month(date.fromisoformat(f"{month}-01"), signature, now=NOW)


def cents(amount: str) -> Decimal:
    return Decimal(amount)
