"""Requests, events and statements as JSON values."""

from datetime import date

from catalog.core.ground.plain_text import money
from quoting.core.money.request_parts import NOTHING, Parts
from quoting.core.money.settling import Asked, Standing
from quoting.payment_requests.models import EventMark, PaymentRequest, RequestMail
from quoting.payment_requests.services.standing import JobRequests, PartAsked
from quoting.payment_requests.services.statements import JobStatement, Statement
from quoting.platform.api.base import Document, day
from quoting.platform.errands.models import Errand


def of_parts(parts: Parts) -> Document:
    return {"price": money(parts.price), "tax": money(parts.tax), "total": money(parts.total)}


def of_requests(
    rows: list[PaymentRequest], request: JobRequests | None, wanted: Asked, marks: list[EventMark], today: date
) -> Document:
    return {
        "requests": [of_request(row, wanted) for row in rows],
        "parts": [_part(part) for part in (request.parts() if request else ())],
        "events": [of_event(mark) for mark in marks],
        "requested": of_parts(wanted.requested),
        "billed": money(wanted.billed),
        "held": of_parts(wanted.held),
        "paid": money(wanted.paid),
        "open": money(wanted.open),
        "overdue": money(sum((status.open for status in wanted.overdue(today)), NOTHING)),
        "ahead": money(wanted.ahead),
    }


def _part(part: PartAsked) -> Document:
    return {
        "part": part.part,
        "what": part.what,
        "event_on": day(part.event_on),
        "request": part.live.number if part.live else None,
        "to_pay": of_parts(part.next.to_pay) if part.next else None,
        "why": part.why,
    }


def of_request(row: PaymentRequest, request: Asked) -> Document:
    standing: Standing | None = next(
        (status for status in request.requests if status.request.number == row.number), None
    )
    return {
        "number": row.number,
        "part": row.part,
        "what": row.what,
        **{name: day(getattr(row, name)) for name in ("day", "event_on", "due")},
        "currency": row.currency,
        **{name: of_parts(row.parts(name)) for name in ("asked", "noted", "credited", "held")},
        "notes": [note.note.number for note in row.notes.all()],
        "to_pay": of_parts(row.to_pay),
        "open": money(standing.open if standing else NOTHING),
        "paid": money(standing.paid if standing else NOTHING),
        "state": standing.state if standing else "credit",
        "credits": row.credits.number if row.credits else None,
        "credited_by": standing.request.credited_by if standing else None,
        "reason": row.reason,
        "issued_by": row.issued_by_name,
        "sha256": row.snapshot_sha256,
    }


def of_event(mark: EventMark) -> Document:
    return {
        "id": mark.pk,
        "part": mark.part,
        "event": mark.event,
        "happened_on": day(mark.happened_on),
        "marked_by": mark.marked_by_name,
        "taken_back_by": mark.voided_by_name,
        "reason": mark.void_reason,
    }


def of_mail(mail: RequestMail, errand: Errand | None) -> Document:
    return {
        "to_address": mail.to_address,
        "message": mail.message,
        "asked_at": mail.asked_at.isoformat(),
        "asked_by": mail.asked_by_name,
        "sent_at": mail.left_at.isoformat() if mail.left_at else None,
        "went_by": mail.went_by,
        "state": errand.state if errand else "none",
        "error": errand.error if errand else "",
    }


def of_statement(statement: Statement) -> Document:
    return {
        "client": statement.client.name,
        "day": day(statement.today),
        "open": money(statement.open),
        "overdue": money(statement.overdue),
        "ahead": money(statement.ahead),
        "jobs": [_job(job) for job in statement.jobs],
    }


def _job(statement: JobStatement) -> Document:
    return {
        "job": statement.job.key,
        "open": money(statement.asked.open),
        "held": money(statement.asked.held.total),
        "entries": [
            {
                "day": day(entry.day),
                "what": entry.what,
                "asked": None if entry.asked is None else money(entry.asked),
                "paid": None if entry.paid is None else money(entry.paid),
                "balance": money(entry.balance),
                "due": day(entry.due),
            }
            for entry in statement.entries
        ],
    }
