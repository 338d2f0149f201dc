"""The second step of a price: what gets forgotten. A yes with an amount is a line of cost of its own."""

import re
from typing import Any

from django import forms
from django.forms.boundfield import BoundField

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from quoting.core.prices.checklist import ChecklistEntry
from quoting.platform.pages.declared_fields import form_of
from quoting.platform.pages.document_form import Document, document_form
from quoting.platform.pages.entry_form import NOT_ONE, sentence, text
from quoting.pricing.services.least_margin import checklist_offered
from quoting.quotes.pages.pricing_part import Group, PricingPart

ANSWERS = (("cost", "Yes"), ("included", "Included"), ("dismissed", "Not needed"))
NO_AMOUNT = "is missing; write what it costs, or choose another answer"


class ItemRow(form_of(ChecklistEntry, "item")):  # type: ignore[misc]
    label, says = "Item", ("item",)


class ExtraRow(form_of(ChecklistEntry, "item", "where", "reason")):  # type: ignore[misc]
    """amount: of the line of cost it makes. line: the one that stands for it at present."""

    label = "Item"
    answer = forms.ChoiceField(
        label="Answer", choices=ANSWERS, widget=forms.RadioSelect, error_messages={"invalid_choice": NOT_ONE}
    )
    amount = text("Amount", longest=20)
    line = forms.CharField(widget=forms.HiddenInput, max_length=200)

    def is_filled(self) -> bool:
        return "item" in self.entries()

    def complain(self, error: DocumentError) -> None:
        """What is wrong with the item as a whole is said where its answer wants more."""
        wants = {"included": "where", "dismissed": "reason"}.get(self.cleaned_data.get("answer"), "item")
        for complaint in error.complaints:
            if complaint.path:
                super().complain(DocumentError([complaint]))
            else:
                self.add_error(wants, sentence("", DocumentProblem("", complaint.reason.rpartition(": ")[2])))

    @property
    def wanted(self) -> list[tuple[str, BoundField]]:
        """What each answer asks for."""
        return [("cost", self["amount"]), ("included", self["where"]), ("dismissed", self["reason"])]

    @property
    def answered(self) -> str:
        """What was answered, in words; empty while nothing was."""
        entry, answer = {name: self[name].value() or "" for name in self.fields}, self["answer"].value()
        if answer == "cost":
            return entry["amount"] or f"in {entry['line']}"
        return {"included": f"in {entry['where']}", "dismissed": f"not needed: {entry['reason']}"}.get(answer, "")


class ItemsPart(PricingPart):
    """The firm's own list, as every price is asked it."""

    head_of = document_form()
    rows_of: dict[str, Any] = {"checklist": ItemRow}
    groups = (Group("Usual extras", rows="checklist", hint="Asked of every price."),)

    def shown(self, document: Document) -> Document:
        return {"checklist": checklist_offered(document.get("checklist") or [])}


class ExtrasPart(PricingPart):
    head_of = document_form({"rest_reason": text("Why the rest isn't needed", longest=2000)})
    rows_of = {"checklist": ExtraRow}
    groups = ()
    read: Document = {}

    def shown(self, document: Document) -> Document:
        costs = {row["what"].casefold(): row["amount"] for row in document.get("other") or ()}
        return {"checklist": [_offered(row, costs) for row in checklist_offered(document.get("checklist") or [])]}

    @property
    def waits(self) -> bool:
        """Whether an item is not answered."""
        return any(not form.answered for form in self.rows["checklist"].forms)

    def document(self) -> Document:
        entries = self.rows["checklist"].entries()
        if self.data is not None and "rest" in self.data:
            reason = self.head.entries().get("rest_reason")
            if not reason:
                raise DocumentError.at("rest_reason", "is missing; one reason for all that is not answered")
            entries = [entry if "answer" in entry else entry | _dismissed(reason) for entry in entries]
        self.read = with_amounts(entries, self.stored.get("other") or [])
        return self.read

    def complain(self, error: DocumentError) -> None:
        """What is wrong with an amount is said where it was typed."""
        names = [row["what"] for row in self.read.get("other", ())]
        items = [str(form["item"].value()).casefold() for form in self.rows["checklist"].filled]
        for complaint in error.complaints:
            other = re.fullmatch(r"other\[(\d+)\]\.amount", complaint.path)
            if other and names[int(other[1])].casefold() in items:
                place = items.index(names[int(other[1])].casefold())
                complaint = DocumentProblem(f"checklist[{place}].amount", complaint.reason)
            super().complain(DocumentError([complaint]))


def with_amounts(entries: list[Document], costs: list[Document]) -> Document:
    """The checklist and the other costs, as the answers of its rows state both.

    Raises DocumentError for a yes without an amount that no other line of cost stands for.
    """
    lines, checklist = {row["what"].casefold(): row for row in costs}, []
    for place, row in enumerate(entries):
        entry = {name: row[name] for name in ("item", "answer", "where", "reason") if name in row}
        item, amount, line = row["item"], row.get("amount"), row.get("line", "")
        is_own = line.casefold() == item.casefold()
        if row.get("answer") == "cost" and amount:
            lines[item.casefold()] = lines.get(item.casefold(), {"what": item}) | {"amount": amount}
            entry["where"] = item
        elif row.get("answer") == "cost":
            if is_own or not line:
                raise DocumentError.at(f"checklist[{place}].amount", NO_AMOUNT)
            entry["where"] = line
        elif is_own:
            lines.pop(item.casefold(), None)
        checklist.append(entry)
    return {"checklist": checklist, "other": list(lines.values())}


def _offered(row: Document, costs: dict[str, str]) -> Document:
    if row.get("answer") != "cost":
        return row
    is_own = row["where"].casefold() == row["item"].casefold()
    return row | {"line": row["where"], "where": "", "amount": costs.get(row["item"].casefold(), "") if is_own else ""}


def _dismissed(reason: str) -> Document:
    return {"answer": "dismissed", "reason": reason}
