"""A client's statement: the requests and payments of all their jobs by day, what is open, overdue and held."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import Amount
from catalog.services.book import firm_of
from catalog.services.firm_on_paper import firm_party, sheet_size
from jobs.jobs.models import Client, Job
from jobs.jobs.services.client_on_paper import client_party
from quoting.core.money.request_parts import NOTHING
from quoting.core.money.settling import Asked
from quoting.payment_requests.models import PaymentReceived, PaymentRequest
from quoting.payment_requests.papers.statement_sheet import StatementJob, StatementLine, StatementPaper
from quoting.payment_requests.services.asked import asked_of
from quoting.payment_requests.services.terms import terms_of_requests
from quoting.platform.errands.models import Errand
from quoting.platform.formatting import amount_words, day_words, money_words
from quoting.platform.papers.papers import RENDER_STATEMENT, last_asked, queue_paper


@dataclass(frozen=True)
class Entry:
    """A request or credit (asked), or a payment (paid). balance: of the job, after it; under 0: paid ahead."""

    document_name = "statement_entry"

    day: date
    what: str
    asked: Annotated[Decimal | None, Amount()]
    paid: Annotated[Decimal | None, Amount()]
    balance: Annotated[Decimal, Amount()]
    due: date | None = None


@dataclass(frozen=True)
class JobStatement:
    job: Job
    entries: tuple[Entry, ...]
    asked: Asked


@dataclass(frozen=True)
class Statement:
    client: Client
    jobs: tuple[JobStatement, ...]
    today: date

    @property
    def open(self) -> Decimal:
        return sum((job.asked.open for job in self.jobs), NOTHING)

    @property
    def overdue(self) -> Decimal:
        return sum((late.open for job in self.jobs for late in job.asked.overdue(self.today)), NOTHING)

    @property
    def ahead(self) -> Decimal:
        return sum((job.asked.ahead for job in self.jobs), NOTHING)


def statement_of(client: Client, today: date) -> Statement:
    """Of jobs that were asked for something, or paid something; in a number of queries that does not grow with them."""
    jobs = {job.pk: job for job in Job.objects.filter(client=client).order_by("key")}
    requests = list(PaymentRequest.objects.filter(job__in=jobs).defer("snapshot"))
    payments = list(PaymentReceived.objects.filter(job__in=jobs, undone_at=None))
    wanted = asked_of(list(jobs))
    statement = [
        JobStatement(
            job,
            tuple(_entries([r for r in requests if r.job_id == pk], [p for p in payments if p.job_id == pk])),
            wanted[pk],
        )
        for pk, job in jobs.items()
    ]
    return Statement(client, tuple(entry for entry in statement if entry.entries), today)


def _entries(requests: Iterable[PaymentRequest], payments: Iterable[PaymentReceived]) -> Iterator[Entry]:
    """By day; on one day requests stand before payments."""
    rows = [(row.day, 0, row.number, _words(row), row.total, None, row.due) for row in requests]
    rows += [
        (payment.received_on, 1, payment.pk, _paid_words(payment), None, payment.amount, None) for payment in payments
    ]
    balance = NOTHING
    for day, _, _, what, wanted, paid, due in sorted(rows, key=lambda row: row[:3]):
        balance += (wanted or NOTHING) - (paid or NOTHING)
        yield Entry(day, what, wanted, paid, balance, due)


def _words(row: PaymentRequest) -> str:
    return f"Credit {row.number}: {row.what}" if row.credits_id else f"Request {row.number}: {row.what}"


def _paid_words(received: PaymentReceived) -> str:
    return f"Reversed: {received.what_for}" if received.undoes_id else f"Payment: {received.what_for}"


def ask_for_statement(client: Client, today: date, now: datetime) -> Errand:
    """The same statement asked for twice is one paper."""
    paper = statement_paper(statement_of(client, today))
    return queue_paper(RENDER_STATEMENT, f"client {client.pk}", paper, now, client=client.pk)


def last_statement(client: Client) -> Errand | None:
    return last_asked(RENDER_STATEMENT, client=client.pk)


def statement_paper(statement: Statement) -> StatementPaper:
    firm, terms = firm_of(), terms_of_requests()
    return StatementPaper(
        made_on=day_words(statement.today),
        firm=firm_party(firm),
        client=client_party(statement.client),
        currency=firm.currency,
        jobs=tuple(_job(job) for job in statement.jobs),
        open=money_words(statement.open, firm.currency),
        overdue=money_words(statement.overdue, firm.currency) if statement.overdue else "",
        how_to_pay=terms.how_to_pay if terms else "",
        tax_number=terms.tax_number if terms else "",
        sheet_size=sheet_size(firm),
    )


def _job(statement: JobStatement) -> StatementJob:
    held = statement.asked.held.total
    return StatementJob(
        statement.job.title,
        tuple(_line(entry) for entry in statement.entries),
        amount_words(statement.asked.open),
        amount_words(held) if held else "",
    )


def _line(entry: Entry) -> StatementLine:
    return StatementLine(
        day_words(entry.day),
        entry.what,
        "" if entry.asked is None else amount_words(entry.asked),
        "" if entry.paid is None else amount_words(entry.paid),
        amount_words(entry.balance),
        day_words(entry.due) if entry.due else "",
    )
