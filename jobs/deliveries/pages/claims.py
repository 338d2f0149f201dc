"""Claims by the days left, and one receipt: claimed, settled, corrected, ordered again."""

from dataclasses import asdict
from decimal import Decimal, InvalidOperation
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.plain_text import plain
from catalog.pages.firm_first import firm_first
from catalog.services.book import firm_of
from jobs.deliveries.models import ReceiptLine
from jobs.deliveries.pages.acting import form_page, request_key
from jobs.deliveries.pages.lines import order_page
from jobs.deliveries.pages.order_events_forms import (
    ClaimForm,
    CorrectionForm,
    LetterForm,
    OutcomeForm,
    ReplacementForm,
)
from jobs.deliveries.pages.receiving_forms import PIECE, add_piece_fields, take_pieces
from jobs.deliveries.services.claim_letters import letter_errand
from jobs.deliveries.services.claim_mailing import mails_of
from jobs.deliveries.services.claims import (
    claim,
    claim_count,
    correct_receipt,
    days_left,
    is_excess_alone,
    needs_claim,
    receipts_with_parts,
    settle_claim,
    standing_words,
)
from jobs.deliveries.services.order_events import MAX_QUANTITY
from jobs.deliveries.services.received_pieces import STATES
from jobs.deliveries.services.receiving import state_of
from jobs.deliveries.services.replacements import (
    NewReplacement,
    check_of_receipt,
    draft_replacement,
    left_to_replace,
    pieces_to_replace,
)
from jobs.orders.pages.shown import piece_place, piece_words
from jobs.orders.services.pieces import how_pieces_came
from quoting.platform import clock
from quoting.platform.firm_day import moment_at_the_firm, signature_of
from quoting.platform.mail_way import mail_stays
from quoting.platform.pages.step import step
from quoting.platform.pages.stored_values import Stored, hold
from quoting.platform.papers.papers import paper_of
from quoting.platform.screen_days import day_words

MOST = Decimal(MAX_QUANTITY)


def claims(request: HttpRequest) -> HttpResponse:
    """Claims are rows of their orders."""
    return redirect("on_the_way")


@firm_first
def receipt(request: HttpRequest, receipt_id: int) -> HttpResponse:
    row, moment = receipt_or_404(receipt_id), moment_at_the_firm(clock.now())
    left = left_to_replace(row)
    initial = {"request_key": request_key(request), "quantity": format(left, "f")}
    context = {
        "row": row,
        "order": row.delivery.order,
        "order_page": order_page(row.delivery.order),
        "state": state_of(row.line),
        "standing": standing_words(row),
        "needs_claim": needs_claim(row),
        "is_excess": is_excess_alone(row),
        "days_left": days_left(row, moment.date(), firm_of().calendar),
        "left": left,
        "check": check_of_receipt(row, order_day=moment.date(), placed_at=moment.time()) if left else None,
        "claim_form": ClaimForm(None, {"claimed_on": moment.date().isoformat()}),
        "replacement_form": ReplacementForm(None, initial),
        "bad_pieces": [piece for piece in _pieces(row) if piece[0] != "good"],
        "count": claim_count(row),
        "again": [piece.number for piece in pieces_to_replace(row)],
        "replacements": row.line.replaced_by.all(),
        **_letter(row, initial["request_key"]),
    }
    return render(request, "deliveries/receipt.html", context)


def _letter(row: ReceiptLine, key: str) -> dict[str, Any]:
    errand = letter_errand(row)
    return {
        "letter_form": LetterForm(None, {"request_key": key, "to_address": row.delivery.order.supplier.email}),
        "errand": errand,
        "letter": paper_of(errand) if errand else None,
        "mails": mails_of(row),
        "mail_stays_here": mail_stays(),
    }


def _pieces(row: ReceiptLine) -> list[tuple[str, str]]:
    """How each piece came, and which it is."""
    known, system = {came.piece.number: came.piece for came in how_pieces_came(row.line)}, firm_of().display_units
    came = [(piece.state, known.get(piece.number)) for piece in row.pieces.all()]
    return [(state, f"{piece_words(piece, system)} ({piece_place(piece)})") for state, piece in came if piece]


def receipt_claim(request: HttpRequest, receipt_id: int) -> HttpResponse:
    row, form = receipt_or_404(receipt_id), ClaimForm(request.POST)

    def act() -> str:
        form.is_valid()
        claimed = claim(row, form.entries(), signature_of(request.user, clock.now()))
        return f"Claimed on {day_words(claimed.claimed_on)}: {row.line.what}."

    return step(request, act, receipt_page(row))


def receipt_outcome(request: HttpRequest, receipt_id: int) -> HttpResponse:
    hold(ReceiptLine.objects.filter(pk=receipt_id))
    row, signature = receipt_or_404(receipt_id), signature_of(request.user, clock.now())
    answer = {
        "outcome": row.outcome,
        "credit": row.credit,
        "note": row.outcome_note,
        "outcome_on": row.outcome_on or "",
    }
    initial = answer | {"outcome_on": (row.outcome_on or signature.on).isoformat()}

    def act(entries: dict[str, Any]) -> str:
        return f"{settle_claim(row, entries, signature).get_outcome_display()}: {row.line.what}."

    form = OutcomeForm(request.POST or None, initial, stored=Stored(answer, row, request.path))
    about = {"heading": f"Answer to the claim for {row.line.what}", "back_label": str(row.delivery)}
    return form_page(request, form, act, receipt_page(row), **about)


def receipt_correct(request: HttpRequest, receipt_id: int) -> HttpResponse:
    row = receipt_or_404(receipt_id)
    standing = {name: plain(getattr(row, name)) or "0" for name in STATES}
    initial = {**standing, "note": row.note, "seen": " ".join(standing.values())}
    known = how_pieces_came(row.line)
    pieces = {f"{PIECE}{piece.number}": piece.state for piece in row.pieces.all()} if known else {}

    def act(entries: dict[str, Any]) -> str:
        named = take_pieces(entries)
        document = {**entries, "pieces": named} if named else entries
        correct_receipt(row, document | {"seen": _seen(entries.get("seen", ""))})
        return f"Corrected: {row.line.what}."

    form = CorrectionForm(request.POST or None, initial | pieces)
    if pieces:
        for name in STATES:
            del form.fields[name]
        add_piece_fields(form, known, firm_of().display_units, with_run=True)
    says = ["What was checked in before stays in the history."]
    return form_page(
        request, form, act, receipt_page(row), heading=f"Correct the receipt of {row.line.what}", says=says
    )


def _seen(typed: str) -> list[Decimal]:
    try:
        counts = [Decimal(word) for word in typed.split()[: len(STATES)]]
        counts = [count for count in counts if count.is_finite()]
    except InvalidOperation:
        counts = []
    # What nobody has seen differs from whatever stands: of nothing there is no receipt.
    return counts if len(counts) == len(STATES) and all(0 <= count <= MOST for count in counts) else [Decimal(0)] * 3


def receipt_replace(request: HttpRequest, receipt_id: int) -> HttpResponse:
    row, form, now = receipt_or_404(receipt_id), ReplacementForm(request.POST), clock.now()
    made: list[str] = []

    def act() -> str:
        form.is_valid()
        asked = read(NewReplacement, Reader(form.entries() | {"request_key": request_key(request)}))
        order, _ = draft_replacement(row, **asdict(asked), by=request.user.full_name, now=now)
        made.append(order_page(order))
        return f"Draft {order}: check it, then place it."

    response = step(request, act, receipt_page(row))
    if made:
        response["Location"] = made[0]
    return response


def receipt_page(row: ReceiptLine) -> str:
    return reverse("receipt", args=[row.pk])


def receipt_or_404(receipt_id: int) -> ReceiptLine:
    row: ReceiptLine = get_object_or_404(receipts_with_parts(), pk=receipt_id)
    return row
