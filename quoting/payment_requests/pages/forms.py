from typing import Any

from django import forms

from catalog.pages.words import share_text
from jobs.deliveries.pages.order_events_forms import KeyedForm
from quoting.platform.pages.entry_form import EntryForm, day, text


class EventForm(KeyedForm):
    happened_on = day("It happened on")


class IssueForm(KeyedForm):
    due = day("To pay by")
    shown = forms.CharField(widget=forms.HiddenInput, max_length=30)


class CreditForm(KeyedForm):
    reason = text("Why", "The client reads it.", longest=300)


class MarkUndoForm(EntryForm):
    reason = text("Why", longest=300)


class RetentionForm(EntryForm):
    share = text("Held back, %", "0 for nothing.", longest=20)
    event = text("Until", "Such as: a year after the work is done.", longest=200)
    holds_tax = forms.BooleanField(label="Tax is held back too", help_text="Else the tax is due at once.")

    def entries(self) -> dict[str, Any]:
        document = super().entries()
        document["holds_tax"] = bool(self.cleaned_data.get("holds_tax"))
        return document | ({"share": share_text(document["share"])} if "share" in document else {})


class TermsForm(EntryForm):
    how_to_pay = text("How to pay", "Printed on each request.", rows=4, longest=1000)
    days_to_pay = text("Days to pay", longest=3)
    tax_number = text("Our tax number", "Empty if the firm has none.", longest=60)
