"""What is entered of a placed order: by the office, from a mail or a call."""

from django import forms

from jobs.deliveries.models import ClaimOutcome
from jobs.deliveries.services.claim_letters import ASKS
from quoting.platform.pages.entry_form import EntryForm, day, pick, text


class KeyedForm(EntryForm):
    request_key = forms.CharField(widget=forms.HiddenInput, max_length=64)


class PromiseForm(EntryForm):
    promised_on = day("At the dock on")
    reason = text("Why it moves", "If another day was promised before.", rows=2)
    told_by = text("Who said so", "And how: by phone, by mail.", longest=200)
    told_on = day("Said on")


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


class ReturnForm(KeyedForm):
    quantity = text("How many", longest=20)
    sent_on = day("Sent back on")
    reason = text("Why", rows=2)
    credit_expected = text("Credit expected", "Blank = not known.", longest=20)


class CreditForm(EntryForm):
    credited = text("Credited", longest=20)
    credited_on = day("On")


class EndForm(EntryForm):
    reason = text("Why no more comes", rows=2)
    ended_on = day("From")


class CallOffForm(EntryForm):
    by = pick("Called off by", (("supplier", "the supplier"), ("us", "us")))
    reason = text("Why", rows=2)


class PaymentForm(KeyedForm):
    amount = text("Amount", longest=20)
    received_on = day("Came in on")
    what_for = text("For", "Deposit, or the event of the instalment.", longest=200)
    paid_ahead = forms.BooleanField(label="Paid more than we asked for")


class UndoForm(EntryForm):
    reason = text("Why", "Such as: entered twice, sent back by the bank.", rows=2)
