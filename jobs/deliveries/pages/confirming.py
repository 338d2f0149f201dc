"""A confirmation entered line by line, and its differences settled by name."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.ground.plain_text import plain
from catalog.core.ground.refusal import Refused
from catalog.core.ground.units import BareLengthUnit, System, format_length
from catalog.pages.firm_first import firm_first
from catalog.services.book import firm_of
from jobs.core.ordering.confirmation import FACES
from jobs.core.ordering.order_lines import count_in_words
from jobs.deliveries.pages.acting import request_key
from jobs.deliveries.pages.lines import order_page
from jobs.deliveries.services.confirming_orders import enter_confirmation
from jobs.orders.models import Order, OrderLine
from jobs.orders.services.line_statement import statement_of_line
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.pages.entry_form import EntryForm, day, pick, sentence, text
from quoting.platform.screen_days import day_words

YES, DIFFERS = "yes", "differs"
SAYS = [(YES, "Yes, as ordered"), (DIFFERS, "Their figures differ"), ("", "Not mentioned")]


class ConfirmationForm(EntryForm):
    reference = text("Supplier's order number", longest=100)
    received_on = day("Came on")
    promised_on = day("All at our dock on")
    note = text("Note", rows=2)


class ConfirmedForm(EntryForm):
    """One line: as ordered, or their figures where they differ; what is left empty then is as ordered."""

    says = forms.ChoiceField(label="Confirmed", choices=SAYS, widget=forms.RadioSelect)
    quantity = text("Quantity", longest=20)
    amount = text("Amount of the line", longest=20)
    promised_on = day("At our dock on")

    def __init__(self, data: Any, line: OrderLine, system: System) -> None:
        super().__init__(data, {"says": YES}, prefix=f"line-{line.place}")
        statement = statement_of_line(line)
        self.line, self.system = line, system
        self.lengths = statement.piece_lengths_mm if statement else ()
        self.radii = statement.radii if statement else ()
        self.fields["quantity"].help_text = f"Ordered: {count_in_words(line.quantity, line.unit)}"
        self.fields["amount"].help_text = "" if line.amount is None else f"Ordered at {line.amount}"
        quoted = line.quoted_dock_on
        self.fields["promised_on"].help_text = f"Quoted for {day_words(quoted)}" if quoted else ""
        for nth, length_mm in enumerate(self.lengths, start=1):
            self.fields[f"length-{nth}"] = text(f"Piece {nth}: {format_length(length_mm, system)}", longest=60)
        for nth, radius in enumerate(self.radii, start=1):
            self.fields[f"radius-{nth}"] = text(
                f"R {format_length(radius.radius_mm, system)}, {radius.side}", longest=60
            )
        if self.radii:
            among = [(face, words[:1].upper() + words[1:]) for face, words in FACES.items()]
            faces = "; ".join(dict.fromkeys(radius.measured_at for radius in self.radii))
            self.fields["radius_face"] = pick("Radius measured at", among, f"Ordered: {faces}", nothing="as ordered")
        for field in self.fields.values():
            field.required = False

    def clean(self) -> dict[str, Any]:
        if self.cleaned_data.get("says") == YES and len(self.entries()) > 1 + ("promised_on" in self.entries()):
            self.add_error("says", "You typed other figures: choose “Their figures differ”, or empty them.")
        return self.cleaned_data

    def _field_at(self, path: str) -> str | None:
        name, _, nth = path.partition("[")
        part = {"lengths": "length", "radii": "radius"}.get(name)
        number = nth.rstrip("]")
        return f"{part}-{int(number) + 1}" if part and number.isdigit() else super()._field_at(path)

    @property
    def figures(self) -> list[Any]:
        return [self[name] for name in self.fields if name != "says"]

    def entered(self) -> dict[str, Any] | None:
        """What the line was confirmed as; None where it was not mentioned and nothing was typed."""
        typed = self.entries()
        says = typed.pop("says", "")
        if not says and not typed:
            return None
        as_ordered = self._asked() if says else {}
        given = {name: typed[name] for name in ("quantity", "amount", "radius_face", "promised_on") if name in typed}
        for name, part, ordered in (
            ("lengths", "length", self.lengths),
            ("radii", "radius", tuple(radius.radius_mm for radius in self.radii)),
        ):
            theirs = [typed.get(f"{part}-{nth}") for nth, _ in enumerate(ordered, start=1)]
            if any(theirs):
                given[name] = [new or f"{old} mm" for new, old in zip(theirs, ordered, strict=True)]
        return {"place": self.line.place, **as_ordered, **given}

    def _asked(self) -> dict[str, Any]:
        """As it was ordered, as a document of a confirmation says it."""
        document: dict[str, Any] = {"quantity": plain(self.line.quantity)}
        if self.line.amount is not None:
            document["amount"] = str(self.line.amount)
        if self.lengths:
            document["lengths"] = [f"{length} mm" for length in self.lengths]
        faces = {radius.measured_at for radius in self.radii}
        if self.radii:
            document["radii"] = [f"{radius.radius_mm} mm" for radius in self.radii]
        named = [face for face, words in FACES.items() if words in faces]
        if len(faces) == 1 and named:
            document["radius_face"] = named[0]
        return document


@firm_first
def confirmation_add(request: HttpRequest, order_id: int) -> HttpResponse:
    order = get_object_or_404(Order.objects.select_related("supplier").exclude(placed_on=None), pk=order_id)
    now, system, data = clock.now(), firm_of().display_units, request.POST or None
    unit: BareLengthUnit = "in" if system == "imperial" else "mm"
    signature, key = signature_of(request.user, now), request_key(request)
    head = ConfirmationForm(data, {"received_on": signature.on.isoformat()})
    rows = list(order.lines.select_related("material"))
    lines = [ConfirmedForm(data, line, system) for line in rows]
    quoted = max((line.quoted_dock_on for line in rows if line.quoted_dock_on), default=None)
    head.fields["promised_on"].help_text = f"Quoted for {day_words(quoted)}" if quoted else ""
    unplaced, status = list[str](), 200
    if request.method == "POST" and all([head.is_valid(), *[line.is_valid() for line in lines]]):
        sent = [line for line in lines if line.entered()]
        entries = head.entries()
        promised = entries.pop("promised_on", None)
        entries_of_lines = [line for form in sent if (line := form.entered())]
        if promised:
            entries_of_lines = [{"promised_on": promised} | line for line in entries_of_lines]
        document = {**entries, "request_key": key, "lines": entries_of_lines}
        try:
            enter_confirmation(order, document, signature, now=now, bare_unit=unit)
        except DocumentError as error:
            unplaced, status = _complain(error, head, sent), 422
        except Refused as refusal:
            unplaced, status = [str(refusal)], 409
        else:
            messages.success(request, f"Saved: what {order.supplier.name} confirmed.")
            return redirect(order_page(order))
    context = {
        "order": order,
        "head": head,
        "lines": lines,
        "told": unplaced,
        "request_key": key,
        "back": order_page(order),
        "bare_unit": "inches" if unit == "in" else "millimetres",
    }
    if status == 200 and request.method == "POST":
        status = 422
    return render(request, "deliveries/confirmation.html", context, status=status)


def _complain(error: DocumentError, head: ConfirmationForm, sent: list[ConfirmedForm]) -> list[str]:
    messages = []
    for complaint in error.complaints:
        first, _, leaf = complaint.path.partition(".")
        place = first.removeprefix("lines[").removesuffix("]")
        if first.startswith("lines[") and place.isdigit():
            sent[int(place)].complain(DocumentError([DocumentProblem(leaf, complaint.reason)]))
        elif complaint.path in head.fields:
            head.complain(DocumentError([complaint]))
        else:
            messages.append(sentence("", complaint))
    return messages
