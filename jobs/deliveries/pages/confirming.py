"""A confirmation entered line by line, and its differences settled by name."""

import re
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.ground.plain_text import plain
from catalog.core.ground.refusal import Refused
from catalog.core.ground.units import BareLengthUnit, format_measure
from catalog.pages.firm_first import firm_first
from catalog.services.book import firm_of
from jobs.core.ordering.confirmation import FACES
from jobs.deliveries.models import ConfirmedLine
from jobs.deliveries.pages.acting import form_page, request_key
from jobs.deliveries.pages.lines import order_page
from jobs.deliveries.pages.order_events_forms import SettleForm
from jobs.deliveries.services.comparing_orders import settle_differences
from jobs.deliveries.services.confirming_orders import enter_confirmation
from jobs.orders.models import Order, OrderLine
from jobs.orders.services.line_statement import statement_of_line
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.pages.entry_form import EntryForm, day, pick, sentence, text
from quoting.platform.screen_days import day_words

LISTS = ("lengths", "radii")


class ConfirmationForm(EntryForm):
    reference = text("Their number of the order", longest=100)
    received_on = day("Came on")
    note = text("Note", rows=2)


class ConfirmedForm(EntryForm):
    quantity = text("Quantity", longest=20)
    lengths = text(
        "Lengths of the pieces", "One after the other, with ; or a new line between them.", longest=4000, rows=2
    )
    radii = text("Radii", "In the order of the pieces, parted as lengths are.", longest=1000, rows=2)
    radius_face = text("Radius measured at", longest=200)
    amount = text("Amount of the line", longest=20)
    promised_on = day("At the dock on")

    def __init__(self, data: Any, line: OrderLine, system: Any) -> None:
        super().__init__(data, prefix=f"line-{line.place}")
        self.line, statement = line, statement_of_line(line)
        self.asked = {
            "quantity": f"Ordered: {plain(line.quantity)} {line.unit}.",
            "amount": "" if line.amount is None else f"Ordered at {line.amount}.",
            "promised_on": f"Quoted for {day_words(line.quoted_dock_on)}." if line.quoted_dock_on else "",
        }
        lengths = statement.piece_lengths_mm if statement else ()
        radii = statement.radii if statement else ()
        for name, figures in (("lengths", lengths), ("radii", tuple(one.radius_mm for one in radii))):
            if figures:
                self.asked[name] = "Ordered: " + "; ".join(format_measure(one, system) for one in figures) + "."
            else:
                del self.fields[name]
        if radii:
            faces = dict.fromkeys(one.measured_at for one in radii)
            self.asked["radius_face"] = "Ordered: " + "; ".join(faces) + "."
            among = [(face, words[:1].upper() + words[1:]) for face, words in FACES.items()]
            self.fields["radius_face"] = pick("Radius measured at", among, nothing="not said")
        else:
            del self.fields["radius_face"]
        for name, told in self.asked.items():
            self.fields[name].help_text = f"{told} {self.fields[name].help_text}".strip()

    def said(self) -> dict[str, Any] | None:
        entries = self.entries()
        for name in LISTS:
            if name in entries:
                entries[name] = [one.strip() for one in re.split(r"[;\n]", entries[name]) if one.strip()]
        return {"place": self.line.place, **entries} if entries else None


@firm_first
def confirmation_add(request: HttpRequest, order_id: int) -> HttpResponse:
    order = get_object_or_404(Order.objects.select_related("supplier").exclude(placed_on=None), pk=order_id)
    now, system, data = clock.now(), firm_of().display_units, request.POST or None
    unit: BareLengthUnit = "in" if system == "imperial" else "mm"
    signature, key = signature_of(request.user, now), request_key(request)
    head = ConfirmationForm(data, {"received_on": signature.on.isoformat()})
    lines = [ConfirmedForm(data, line, system) for line in order.lines.select_related("material")]
    told, status = list[str](), 200
    if request.method == "POST" and all([head.is_valid(), *[one.is_valid() for one in lines]]):
        sent = [one for one in lines if one.said()]
        document = {**head.entries(), "request_key": key, "lines": [one.said() for one in sent]}
        try:
            enter_confirmation(order, document, signature, now=now, bare_unit=unit)
        except DocumentError as error:
            told, status = _complain(error, head, sent), 422
        except Refused as refusal:
            told, status = [str(refusal)], 409
        else:
            told_so = f"Entered what {order.supplier.name} confirmed. What differs from the order stands below."
            messages.success(request, told_so)
            return redirect(order_page(order))
    context = {
        "order": order,
        "head": head,
        "lines": lines,
        "told": told,
        "request_key": key,
        "back": order_page(order),
        "bare_unit": "inches" if unit == "in" else "millimetres",
    }
    if status == 200 and request.method == "POST":
        status = 422
    return render(request, "deliveries/confirmation.html", context, status=status)


def _complain(error: DocumentError, head: ConfirmationForm, sent: list[ConfirmedForm]) -> list[str]:
    told = []
    for one in error.complaints:
        first, _, leaf = one.path.partition(".")
        place = first.removeprefix("lines[").removesuffix("]")
        if first.startswith("lines[") and place.isdigit():
            sent[int(place)].complain(DocumentError([DocumentProblem(leaf, one.reason)]))
        elif one.path in head.fields:
            head.complain(DocumentError([one]))
        else:
            told.append(sentence("", one))
    return told


@firm_first
def confirmed_settle(request: HttpRequest, confirmed_id: int) -> HttpResponse:
    rows = ConfirmedLine.objects.select_related("confirmation__order", "line")
    row, now = get_object_or_404(rows, pk=confirmed_id), clock.now()
    system = firm_of().display_units

    def act(entries: dict[str, Any]) -> str:
        kept = settle_differences(row, entries, signature_of(request.user, now), now=now, system=system)
        return f"{kept.settled_by_name} stands for it: {row.line.what}."

    says = ["You say by your name that it may stand as confirmed. If not, have the supplier confirm it anew."]
    form = SettleForm(request.POST or None)
    to, heading = order_page(row.confirmation.order), f"{row.line.what}: confirmed otherwise than ordered"
    return form_page(request, form, act, to, heading=heading, says=says, button="It may stand so")
