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
    rows: list[PaymentRequest], found: JobRequests | None, asked: Asked, marks: list[EventMark], today: date
) -> Document:
    return {
        "requests": [of_request(row, asked) for row in rows],
        "parts": [_part(one) for one in (found.parts() if found else ())],
        "events": [of_event(mark) for mark in marks],
        "requested": of_parts(asked.requested),
        "billed": money(asked.billed),
        "held": of_parts(asked.held),
        "paid": money(asked.paid),
        "open": money(asked.open),
        "overdue": money(sum((one.open for one in asked.overdue(today)), NOTHING)),
        "ahead": money(asked.ahead),
    }


def _part(one: PartAsked) -> Document:
    return {
        "part": one.part,
        "what": one.what,
        "event_on": day(one.event_on),
        "request": one.live.number if one.live else None,
        "to_pay": of_parts(one.next.to_pay) if one.next else None,
        "why": one.why,
    }


def of_request(row: PaymentRequest, asked: Asked) -> Document:
    standing: Standing | None = next((one for one in asked.requests if one.request.number == row.number), None)
    return {
        "number": row.number,
        "part": row.part,
        "what": row.what,
        **{name: day(getattr(row, name)) for name in ("day", "event_on", "due")},
        "currency": row.currency,
        **{name: of_parts(row.parts(name)) for name in ("asked", "noted", "credited", "held")},
        "notes": [one.note.number for one in row.notes.all()],
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


def of_statement(found: Statement) -> Document:
    return {
        "client": found.client.name,
        "day": day(found.today),
        "open": money(found.open),
        "overdue": money(found.overdue),
        "ahead": money(found.ahead),
        "jobs": [_job(one) for one in found.jobs],
    }


def _job(one: JobStatement) -> Document:
    return {
        "job": one.job.key,
        "open": money(one.asked.open),
        "held": money(one.asked.held.total),
        "entries": [
            {
                "day": day(entry.day),
                "what": entry.what,
                "asked": None if entry.asked is None else money(entry.asked),
                "paid": None if entry.paid is None else money(entry.paid),
                "balance": money(entry.balance),
                "due": day(entry.due),
            }
            for entry in one.entries
        ],
    }
