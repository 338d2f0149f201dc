"""What is entered of a placed order: by the office, from a mail or a call."""

from django import forms

from jobs.deliveries.models import ClaimOutcome
from jobs.deliveries.services.claim_letters import ASKS
from jobs.deliveries.services.ending_orders import NewCallOff, NewEnd
from jobs.deliveries.services.promises import NewPromise
from jobs.deliveries.services.returns import NewCredit, NewReturn
from quoting.platform.pages.declared_fields import form_of
from quoting.platform.pages.entry_form import EntryForm, day, pick, text


class KeyedForm(EntryForm):
    request_key = forms.CharField(widget=forms.HiddenInput, max_length=64)


PromiseForm = form_of(NewPromise, "promised_on", "reason", "told_by", "told_on")
CreditForm = form_of(NewCredit, "credited", "credited_on")
EndForm = form_of(NewEnd, "reason", "ended_on")
CallOffForm = form_of(NewCallOff, "by", "reason")


class ClaimForm(EntryForm):
    claimed_on = day("Claimed on")


class LetterForm(KeyedForm):
    asks = pick("What we ask of the supplier", ASKS.items())
    to_address = text("Mail address", longest=254)
    message = text("Message", rows=3, longest=5000)


class OutcomeForm(EntryForm):
    outcome = pick("Their answer", ClaimOutcome.choices)
    outcome_on = day("On")
    credit = text("Credited", "Money; needed for a credit.", longest=20)
    note = text("Note", rows=2)

    stands_at = {"outcome_note": "note"}


class CorrectionForm(EntryForm):
    good = text("Good", longest=20)
    damaged = text("Damaged", longest=20)
    wrong = text("Wrong", longest=20)
    note = text("Why it is corrected", rows=2)
    seen = forms.CharField(widget=forms.HiddenInput, max_length=100)


class ReplacementForm(KeyedForm):
    quantity = text("How many", longest=20)


class ReturnForm(KeyedForm, form_of(NewReturn, "quantity", "sent_on", "reason", "credit_expected")):
    pass


class UndoForm(EntryForm):
    reason = text("Why", "Such as: entered twice, sent back by the bank.", rows=2)
