from typing import Any

from django import forms

from catalog.core.ground.reasons import WhyTakenBack
from jobs.deliveries.pages.order_events_forms import KeyedForm
from quoting.payment_requests.services.issuing import NewCreditOfRequest
from quoting.payment_requests.services.payments_received import NewPayment
from quoting.payment_requests.services.terms import NewRequestTerms, NewRetention
from quoting.platform.pages.declared_fields import form_field, form_of
from quoting.platform.pages.document_fields import share_text
from quoting.platform.pages.entry_form import EntryForm, day, text


class PaymentForm(KeyedForm, form_of(NewPayment, "amount", "received_on", "what_for", "paid_ahead")):
    pass


class EventForm(KeyedForm):
    happened_on = day("It happened on")


class IssueForm(KeyedForm):
    due = day("To pay by")
    shown = forms.CharField(widget=forms.HiddenInput, max_length=30)


class CreditForm(KeyedForm):
    reason = form_field(NewCreditOfRequest, "reason")


class MarkUndoForm(EntryForm):
    reason = form_field(WhyTakenBack, "reason")


class RetentionForm(EntryForm):
    share = text("Held back, %", "0 for nothing.", longest=20)
    event = form_field(NewRetention, "event")
    holds_tax = forms.BooleanField(label="Tax is held back too", help_text="Else the tax is due at once.")

    def entries(self) -> dict[str, Any]:
        document = super().entries()
        document["holds_tax"] = bool(self.cleaned_data.get("holds_tax"))
        return document | ({"share": share_text(document["share"])} if "share" in document else {})


class TermsForm(EntryForm):
    how_to_pay = form_field(NewRequestTerms, "how_to_pay")
    days_to_pay = text("Days to pay", longest=3)
    tax_number = form_field(NewRequestTerms, "tax_number")
