"""The page of one order: its lines with what holds them, its sheet, its way to the supplier, and what became of it."""

import uuid
from decimal import Decimal
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from catalog.core.ground.refusal import Refused
from catalog.models import Supplier
from catalog.pages.firm_first import firm_first
from catalog.services.book import firm_of
from jobs.deliveries.pages.shown import events_of
from jobs.orders.models import OrderState
from jobs.orders.pages.acting import order_or_404, version_seen
from jobs.orders.pages.choosing import choice_of, more_typed, pieces_typed
from jobs.orders.pages.shown import shown_runs
from jobs.orders.services.drafting import bring_up_to_date, change_draft, order_more, take_off_line, throw_away
from jobs.orders.services.line_statement import statement_of_line
from jobs.orders.services.mailing import mails_of, queue_mail
from jobs.orders.services.order_totals import OrderSums
from jobs.orders.services.other_supplier import others_for, put_to
from jobs.orders.services.placing import place_order, standing_of_order
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
    errand, firm, mails = sheet_errand(row), firm_of(), mails_of(row)
    context: dict[str, Any] = {
        "order": row,
        "today": moment.date(),
        "is_draft": row.state == OrderState.DRAFT,
        "lines": [
            (line, _runs(line, firm.display_units), line.release, None)
            for line in row.lines.select_related("job", "material", "release")
        ],
        "currency": firm.currency,
        "errand": errand,
        "errand_paper": paper_of(errand) if errand else None,
        "mails": mails,
        "mail_was_kept": any(mail.is_kept_here for mail, _ in mails) and not any(mail.left_at for mail, _ in mails),
        "mail_stays_here": mail_stays(),
        "request_key": uuid.uuid4().hex,
        **events_of(row, moment),
    }
    if row.state == OrderState.DRAFT:
        found = standing_of_order(row, moment)
        context |= {
            "found": found,
            "other_suppliers": others_for(row),
            "lines": [
                (
                    one.line,
                    _runs(one.line, firm.display_units),
                    one.standing.release if one.standing else one.line.release,
                    choice_of(one.line, firm.display_units),
                )
                for one in found.lines
            ],
            "sums": list(_sums(found.sums, firm.currency)),
        }
    return render(request, "buying/order.html", context)


def _runs(line: Any, system: Any) -> list[Any]:
    statement = statement_of_line(line)
    return shown_runs(statement, system) if statement else []


def _sums(sums: OrderSums, currency: str) -> Any:
    def words(amount: Decimal | None) -> str:
        return "not known" if amount is None else money_words(amount, currency)

    yield "Goods at today's prices", words(sums.goods)
    if sums.unpriced:
        yield "Without a price, and in no sum", ", ".join(sums.unpriced)
    yield "Freight by the supplier's terms", words(sums.freight)
    if sums.top_up:
        yield "Missing to the least order", words(sums.top_up)
    if sums.rush_fee != 0:
        yield "Rush", words(sums.rush_fee)
    yield "Total", words(sums.total)


def order_change(request: HttpRequest, order_id: int) -> HttpResponse:
    row, posted = order_or_404(order_id), request.POST
    to = reverse("order", args=[row.pk])

    def act() -> str:
        if "take_off" in posted:
            take_off_line(row, _place(posted["take_off"]), seen_version=version_seen(request))
            return "Taken off the order."
        if "renew" in posted:
            moment = moment_at_the_firm(clock.now())
            bring_up_to_date(row, seen_version=version_seen(request), moment=moment)
            return "Every line now states what its item states today."
        if "put_to" in posted:
            supplier = Supplier.objects.filter(code=posted.get("supplier", "")).first()
            if supplier is None:
                raise Refused("Choose whom to put it to.")
            put_to(row, supplier, seen_version=version_seen(request), moment=moment_at_the_firm(clock.now()))
            return f"The order goes to {supplier}, at their prices."
        if "more" in posted:
            place = _place(posted["more"])
            more = more_typed(posted.get(f"extra-{place}", ""), posted.get(f"reason-{place}", ""))
            moment = moment_at_the_firm(clock.now())
            order_more(row, place, more, seen_version=version_seen(request), moment=moment)
            return "Saved. The job wants less than is ordered." if more else "Saved. No more is ordered than wanted."
        rush = [_place(one) for one in posted.getlist("rush")]
        pieces = pieces_typed(row, posted)
        seen, note, where = version_seen(request), posted.get("note", ""), posted.get("deliver_to", "")
        change_draft(row, seen_version=seen, note=note, rush=rush, deliver_to=where, pieces=pieces)
        return "Saved."

    return step(request, act, to)


def _place(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) <= 5 else -1


def order_drop(request: HttpRequest, order_id: int) -> HttpResponse:
    row = order_or_404(order_id)

    def act() -> str:
        throw_away(row, reason=request.POST.get("reason", ""), by=request.user.full_name, now=clock.now())
        return f"{row} is thrown away; its items may be put on another order."

    return step(request, act, reverse("order_list"))


@firm_first
def order_place(request: HttpRequest, order_id: int) -> HttpResponse:
    row, posted, now = order_or_404(order_id), request.POST, clock.now()

    def act() -> str:
        placed = place_order(
            row,
            way=posted.get("way", ""),
            seen_version=version_seen(request),
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
