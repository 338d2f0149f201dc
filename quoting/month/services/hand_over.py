"""What the bookkeeper gets of a month, a sheet each. Every row stands in one file of one month, and in no other.

A row that counts in a month and happened in an earlier one, closed by then, stands in the file "after close".
"""

from collections.abc import Iterator, Sequence
from datetime import date

from django.db.models import Model, QuerySet

from catalog.services.book import firm_of
from catalog.services.csv_writing import Cell
from jobs.bills.models import Bill
from jobs.hours.models import TimeEntry
from quoting.month.models import Account
from quoting.month.services.account_codes import codes
from quoting.month.services.posted_rows import entries_of, is_counted, overhead_rows
from quoting.month.services.sheets import NOTHING, Sheet
from quoting.payment_requests.models import PaymentReceived, PaymentRequest

Row = Sequence[Cell]
# credited, held: taken off what is to pay.
SALES_AMOUNTS = ("price", "tax", "total", "credited_price", "credited_tax", "held_price", "held_tax")


def counted(rows: QuerySet[Model], month: date, later: bool | None, day: str = "day") -> QuerySet[Model]:
    """Those that count in the month: of its own days, or of earlier ones, or for None of both."""
    days = {} if later is None else {f"{day}__{'lt' if later else 'gte'}": month}
    return rows.filter(posted_month=month, **days).order_by(day, "pk")


def _sales(month: date, later: bool | None) -> Iterator[Row]:
    """What was asked of clients, to pay; a request that credits another counts less."""
    accounts = codes()
    requests = PaymentRequest.objects.defer("snapshot").select_related("job__client")
    for row in counted(requests, month, later):
        about = (row.day, row.number, row.job.key, row.job.client.name, row.what)
        amounts = (
            row.price,
            row.tax,
            row.total,
            -row.credited_price,
            -row.credited_tax,
            -row.held_price,
            -row.held_tax,
        )
        yield (f"request-{row.pk}", *about, *amounts, row.currency, accounts[Account.SALES], accounts[Account.TAX])


def _payments(month: date, later: bool | None) -> Iterator[Row]:
    currency, account = firm_of().currency, codes()[Account.PAYMENTS]
    rows = PaymentReceived.objects.filter(undone_at=None).select_related("job__client")
    for row in counted(rows, month, later, "received_on"):
        about = (row.received_on, row.job.key, row.job.client.name, row.what_for)
        yield (f"payment-{row.pk}", *about, row.amount, currency, account)


def _entries(month: date, later: bool | None) -> list[TimeEntry]:
    return [row for row in entries_of(month) if is_counted(row.day, month, later)]


def _hours(month: date, later: bool | None) -> Iterator[Row]:
    for row in _entries(month, later):
        yield (f"hours-{row.pk}", row.day, row.worker.name, *_of_job(row), row.minutes)


def _labour(month: date, later: bool | None) -> Iterator[Row]:
    currency, account = firm_of().currency, codes()[Account.LABOUR]
    for row in _entries(month, later):
        cost = None if row.rate is None else row.to_core(row.worker.name).cost
        yield (
            f"hours-{row.pk}",
            row.day,
            row.worker.name,
            *_of_job(row),
            row.minutes,
            row.rate,
            cost,
            currency,
            account,
        )


def _of_job(row: TimeEntry) -> tuple[str, str, str]:
    return (row.job.key if row.job else "", row.step or row.elsewhere, row.tag)


def _bills(month: date, later: bool | None) -> Iterator[Row]:
    """A row a line with the tax that is cost, and a row for the tax that is not: each bill adds up to its total."""
    currency, accounts = firm_of().currency, codes()
    bills = Bill.objects.filter(voided_at=None, entered_at__isnull=False).select_related("supplier")
    for bill in counted(bills.prefetch_related("lines__job"), month, later):
        about = (bill.day, bill.get_kind_display(), bill.number, bill.seller)
        lines = list(bill.lines.all())
        for line in lines:
            of_job = (line.job.key if line.job else "", line.category, line.item, line.what)
            amounts = (line.amount + line.tax, currency, accounts[line.category])
            yield (f"bill-{bill.pk}/{line.place}", *about, *of_job, *amounts)
        if tax := bill.sign * bill.tax - sum((line.tax for line in lines), NOTHING):
            yield (f"bill-{bill.pk}/tax", *about, "", "tax", "", "Tax", tax, currency, accounts[Account.TAX_PAID])


def _overhead(month: date, later: bool | None) -> Iterator[Row]:
    currency, account = firm_of().currency, codes()[Account.OVERHEAD]
    for row in overhead_rows(month):
        if is_counted(row.day, month, later):
            yield (f"overhead-{row.pk}", row.day, row.what, row.bill, row.amount, currency, account)


SALES = Sheet(
    "sales",
    "Sales",
    ("row", "day", "request", "job", "client", "what", *SALES_AMOUNTS, "currency", "account", "tax_account"),
    SALES_AMOUNTS,
    _sales,
)
PAYMENTS = Sheet(
    "payments",
    "Payments received",
    ("row", "day", "job", "client", "for", "amount", "currency", "account"),
    ("amount",),
    _payments,
)
WORK = ("row", "day", "worker", "job", "work", "tag", "minutes")
HOURS = Sheet("hours", "Hours", WORK, ("minutes",), _hours)
LABOUR = Sheet(
    "labour-cost", "Labour cost", (*WORK, "rate", "cost", "currency", "account"), ("minutes", "cost"), _labour
)
BILLS = Sheet(
    "bills",
    "Bills and credits",
    ("row", "day", "kind", "number", "of", "job", "category", "item", "what", "amount", "currency", "account"),
    ("amount",),
    _bills,
)
OVERHEAD = Sheet(
    "overhead", "Overhead", ("row", "day", "what", "bill", "amount", "currency", "account"), ("amount",), _overhead
)
OF_THE_OFFICE = {sheet.name: sheet for sheet in (SALES, PAYMENTS, BILLS, HOURS, OVERHEAD)}
OF_THE_OWNER = {LABOUR.name: LABOUR}
