"""The page of one order: a draft with what keeps it from being placed; placed, what was agreed and what is open."""

import uuid
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from catalog.core.ground.refusal import Refused
from catalog.models import Supplier
from catalog.pages.firm_first import firm_first
from catalog.services.book import firm_of
from jobs.buying.pages.placed import placed_context
from jobs.core.ordering.order_by import days_in_hand
from jobs.deleted.models import Deleted, DeletedKind
from jobs.deleted.pages.undo import say_deleted
from jobs.orders.models import Order, OrderLine, OrderState, Release
from jobs.orders.pages.acting import order_or_404, version_seen
from jobs.orders.pages.choosing import Choice, choice_of, more_typed, pieces_typed
from jobs.orders.pages.shown import shown_runs
from jobs.orders.services.drafting import bring_up_to_date, change_draft, order_more, take_off_line, throw_away
from jobs.orders.services.line_statement import statement_of_line
from jobs.orders.services.mailing import mails_of, queue_mail
from jobs.orders.services.order_totals import OrderSums
from jobs.orders.services.other_supplier import others_for, put_to
from jobs.orders.services.placing import OrderLineState, place_order, standing_of_order
from jobs.orders.services.sheets import request_sheet, sheet_errand
from quoting.platform import clock
from quoting.platform.firm_day import moment_at_the_firm
from quoting.platform.formatting import money_words
from quoting.platform.mail_way import mail_stays, on_its_way
from quoting.platform.pages.step import step
from quoting.platform.papers.papers import paper_of


@firm_first
def order(request: HttpRequest, order_id: int) -> HttpResponse:
    row = order_or_404(order_id)
    moment = moment_at_the_firm(clock.now())
    errand, mails = sheet_errand(row), mails_of(row)
    context: dict[str, Any] = {
        "order": row,
        "today": moment.date(),
        "is_draft": row.state == OrderState.DRAFT,
        "jobs": list(dict.fromkeys(line.job for line in row.lines.select_related("job"))),
        "currency": firm_of().currency,
        "errand": errand,
        "errand_paper": paper_of(errand) if errand else None,
        "mails": mails,
        "mail_was_kept": any(mail.is_kept_here for mail, _ in mails) and not any(mail.left_at for mail, _ in mails),
        "mail_stays_here": mail_stays(),
        "request_key": uuid.uuid4().hex,
    }
    if row.state == OrderState.DRAFT:
        return render(request, "buying/draft.html", context | _draft(row, moment))
    return render(request, "buying/order.html", context | placed_context(row, moment))


def _draft(row: Order, moment: datetime) -> dict[str, Any]:
    status, firm = standing_of_order(row, moment), firm_of()
    lines = [
        DraftLine(
            line,
            line.standing.release if line.standing else line.line.release,
            choice_of(line.line, firm.display_units),
            _runs(line.line, firm.display_units),
            by := _order_by(line),
            days_in_hand(moment.date(), by, firm.calendar) if by else None,
        )
        for line in status.lines
    ]
    dated = [line for line in lines if line.in_hand is not None]
    return {
        "found": status,
        "other_suppliers": others_for(row),
        "lines": lines,
        "first": min(dated, key=lambda line: line.in_hand, default=None),
        "late": max((line.state.late_workdays or 0 for line in lines), default=0),
        "sums": list(_sums(status.sums, firm.currency)),
    }


def _order_by(line: OrderLineState) -> date | None:
    """As its job stands now; of what is ordered again the line itself knows no day."""
    dates = line.standing.item.need.dates if line.standing else None
    return dates.order_by if dates else line.line.order_by


@dataclass(frozen=True)
class DraftLine:
    """One line of a draft. choice: boxes for which pieces, where that is open. order_by: its last day in time, in_hand
    working days away, negative when past."""

    state: OrderLineState
    release: Release | None
    choice: Choice | None
    runs: list[Any]
    order_by: date | None
    in_hand: int | None

    @property
    def line(self) -> OrderLine:
        return self.state.line

    @property
    def days(self) -> int | None:
        return None if self.in_hand is None else abs(self.in_hand)


def _runs(line: Any, system: Any) -> list[Any]:
    statement = statement_of_line(line)
    return shown_runs(statement, system) if statement else []


def _sums(sums: OrderSums, currency: str) -> Any:
    def words(amount: Decimal | None) -> str:
        return "not known" if amount is None else money_words(amount, currency)

    yield "Goods, today's prices", words(sums.goods)
    if sums.unpriced:
        yield "No price, in no sum", ", ".join(sums.unpriced)
    yield "Freight", words(sums.freight)
    if sums.top_up:
        yield "Short of the least order", words(sums.top_up)
    if sums.rush_fee != 0:
        yield "Rush", words(sums.rush_fee)
    yield "Total", words(sums.total)


def order_change(request: HttpRequest, order_id: int) -> HttpResponse:
    row, posted = order_or_404(order_id), request.POST
    to = reverse("order", args=[row.pk])

    def act() -> str:
        if "take_off" in posted:
            take_off_line(row, _place(posted["take_off"]), seen_version=version_seen(request))
            return "Removed from the order."
        if "renew" in posted:
            moment = moment_at_the_firm(clock.now())
            bring_up_to_date(row, seen_version=version_seen(request), moment=moment)
            return "Every line now states what its item states today."
        if "put_to" in posted:
            supplier = Supplier.objects.filter(code=posted.get("supplier", "")).first()
            if supplier is None:
                raise Refused("Choose the supplier.")
            put_to(row, supplier, seen_version=version_seen(request), moment=moment_at_the_firm(clock.now()))
            return f"The order goes to {supplier}, at their prices."
        if "more" in posted:
            place = _place(posted["more"])
            more = more_typed(posted.get(f"extra-{place}", ""), posted.get(f"reason-{place}", ""))
            moment = moment_at_the_firm(clock.now())
            order_more(row, place, more, seen_version=version_seen(request), moment=moment)
            return "Saved. The job needs less than is ordered." if more else "Saved. The order now matches the job."
        _change(request, row)
        return "Saved."

    return step(request, act, to)


def _place(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) <= 5 else -1


def order_drop(request: HttpRequest, order_id: int) -> HttpResponse:
    row, now = order_or_404(order_id), clock.now()
    try:
        throw_away(row, reason=request.POST.get("reason", ""), by=request.user.full_name, now=now)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("order", row.pk)
    stored = Deleted.objects.filter(kind=DeletedKind.ORDER, key=row.number, deleted_at=now).first()
    say_deleted(request, f"{row} is deleted; its items are free for another order.", stored)
    return redirect("on_the_way")


@firm_first
def order_place(request: HttpRequest, order_id: int) -> HttpResponse:
    row, posted, now = order_or_404(order_id), request.POST, clock.now()

    def act() -> str:
        placed = place_order(
            row,
            way=posted.get("way", ""),
            seen_version=_version_to_place(request, row),
            to_address=posted.get("to_address", ""),
            message=posted.get("message", ""),
            unsigned_reason=posted.get("unsigned_reason", ""),
            request_key=posted.get("request_key", ""),
            by=request.user.full_name,
            now=now,
            moment=moment_at_the_firm(now),
        )
        then = (mail_stays() or "Then it is sent.") if placed.way == "mail" else ""
        return f"Order {placed} is placed; its sheet is being made. {then}".rstrip()

    return step(request, act, reverse("order", args=[row.pk]))


def _version_to_place(request: HttpRequest, row: Order) -> int:
    """What was changed on the page is saved before the order is placed, so that it goes out as it was seen."""
    seen = version_seen(request)
    if "deliver_to" not in request.POST:
        return seen
    if row.state == OrderState.DRAFT and _was_changed(request, row):
        _change(request, row)
        return seen + 1
    # Sent again: it was placed, and perhaps changed just before.
    return row.version - 1 if row.state == OrderState.PLACED and row.version - seen == 2 else seen


def _was_changed(request: HttpRequest, row: Order) -> bool:
    posted = request.POST
    rush = {str(line.place) for line in row.lines.filter(rush=True)}
    stands = (row.deliver_to, " ".join(row.note.split()), rush)
    typed = (posted["deliver_to"], " ".join(posted.get("note", "").split()), set(posted.getlist("rush")))
    return stands != typed or bool(pieces_typed(row, posted))


def _change(request: HttpRequest, row: Order) -> None:
    posted = request.POST
    rush, pieces = [_place(entry) for entry in posted.getlist("rush")], pieces_typed(row, posted)
    seen, note, where = version_seen(request), posted.get("note", ""), posted.get("deliver_to", "")
    change_draft(row, seen_version=seen, note=note, rush=rush, deliver_to=where, pieces=pieces)


@firm_first
def order_sheet_make(request: HttpRequest, order_id: int) -> HttpResponse:
    row, now = order_or_404(order_id), clock.now()
    if row.lines.exists():
        request_sheet(row, request.user.full_name, now, moment_at_the_firm(now))
    return redirect("order", row.pk)


def order_send(request: HttpRequest, order_id: int) -> HttpResponse:
    row, posted = order_or_404(order_id), request.POST

    def act() -> str:
        mail = queue_mail(
            row,
            to_address=posted.get("to_address", ""),
            message=posted.get("message", ""),
            request_key=posted.get("request_key", ""),
            by=request.user.full_name,
            now=clock.now(),
        )
        return on_its_way(f"Order {row}", mail.to_address)

    return step(request, act, reverse("order", args=[row.pk]))
