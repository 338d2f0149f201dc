"""The parts of a pricing beside costs and tax, as forms: overhead, contingency, allowances, options, checklist."""

import json
from decimal import Decimal
from typing import Any

from django import forms

from catalog.core.ground.document_reader import DocumentError
from catalog.pages.words import percent_entry, share_text
from quoting.platform.pages.entry_form import EntryForm, pick
from quoting.platform.pages.entry_form import text as typed
from quoting.pricing.models.checklist import ANSWER_CHOICES
from quoting.pricing.models.costs import CATEGORY_CHOICES

Document = dict[str, Any]


def percent_offered(share: str | None) -> str:
    return percent_entry(Decimal(share)) if share else ""


class OverheadForm(EntryForm):
    share_of_cost = typed("Overhead, % of cost", "Of all other cost. Or by the hour, not both.", longest=20)
    per_labour_hour = typed("Overhead, each labour hour", "An amount on every hour of labour.", longest=20)
    stands_at = {"": "share_of_cost"}

    def document(self) -> Document:
        result = self.entries()
        if "share_of_cost" in result:
            result["share_of_cost"] = share_text(result["share_of_cost"])
        return {"overhead": result or None}

    @staticmethod
    def offered(document: Document) -> Document:
        result = document.get("overhead") or {}
        return {**result, "share_of_cost": percent_offered(result.get("share_of_cost"))}


class ContingencyForm(EntryForm):
    share = typed("Contingency, % of cost", "For what cannot be foreseen. Empty: none.", longest=20)
    shown = forms.BooleanField(label="Shown to the client", help_text="As a line of its own; else it is folded in.")

    def document(self) -> Document:
        result = self.entries()
        if "share" not in result:
            return {"contingency": None}
        return {"contingency": {**result, "share": share_text(result["share"])}}

    @staticmethod
    def offered(document: Document) -> Document:
        result = document.get("contingency") or {}
        return {**result, "share": percent_offered(result.get("share"))}


class AllowanceForm(EntryForm):
    what = typed("For", longest=200)
    amount = typed("Sum in the price", longest=20)
    category = pick("Kind", CATEGORY_CHOICES)
    cost = typed("Expected cost", "Empty: the sum itself.", longest=20)
    over_markup = typed("Markup on what is over, %", longest=20)

    def entries(self) -> Document:
        document = super().entries()
        return document | ({"over_markup": share_text(document["over_markup"])} if "over_markup" in document else {})

    def is_filled(self) -> bool:
        return bool(self.entries().keys() - {"category"})

    @staticmethod
    def offered(entry: Document) -> Document:
        markup = entry.get("over_markup")
        return {**entry, "over_markup": percent_offered(markup) if markup and Decimal(markup) else ""}


class OptionForm(EntryForm):
    """A price, or a build: layers, board and level of every wall. A build that says more is kept as it is."""

    key = forms.CharField(widget=forms.HiddenInput(), max_length=40)
    title = typed("Option", "As the client reads it.", longest=200)
    text = typed("More about it", longest=2000)
    group = typed("Choice", "The same word on two makes them alternates: one is chosen.", longest=60)
    price = typed("Price", "Before tax; with a minus for less.", longest=20)
    cost = typed("Cost", "What it adds to the cost.", longest=20)
    materials_price = typed("Of the price, materials", "Where only materials are taxed.", longest=20)
    special_order_cost = typed("Special orders in it", longest=20)
    layers = typed("Or built with layers", "On every face.", longest=2)
    board = typed("and of the board", "Its code.", longest=60)
    level = typed("and to the level", "0 to 5.", longest=2)
    whole_build = forms.CharField(widget=forms.HiddenInput(), max_length=20_000)
    stands_at = {"build": "layers"}

    def entries(self) -> Document:
        document = super().entries()
        simple = {name: document.pop(name) for name in ("layers", "board", "level") if name in document}
        stored = document.pop("whole_build", "")
        if simple:
            document["build"] = {"faces": [simple]}
        elif stored and "price" not in document:
            document["build"] = _kept(stored)
        return document

    def is_filled(self) -> bool:
        return bool(self.entries().keys() - {"key", "special_order_cost"})

    @staticmethod
    def offered(entry: Document) -> Document:
        build, document = entry.get("build"), {**entry}
        if not Decimal(entry.get("special_order_cost") or 0):
            document["special_order_cost"] = ""
        if build:
            document |= _simple(build) or {"whole_build": json.dumps(build)}
        return document


class ChecklistForm(EntryForm):
    item = typed("Gets forgotten", longest=100)
    answer = pick("Answer", ANSWER_CHOICES, nothing="not answered")
    where = typed("Cost line, or included in", longest=200)
    reason = typed("Why it does not arise", longest=2000)
    stands_at = {"": "answer"}

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        for name, words in (("where", "which cost line, or included in what"), ("reason", "why it does not arise")):
            self.fields[name].widget.attrs["placeholder"] = words

    def is_filled(self) -> bool:
        return "item" in self.entries()

    @staticmethod
    def offered(entry: Document) -> Document:
        return {**entry, "answer": entry.get("answer") or ""}


def _simple(build: Document) -> Document | None:
    """A build that changes every face alike, as the three fields say it; None for one that says more."""
    faces = build.get("faces") or []
    if build.get("trims") or len(faces) != 1 or faces[0].get("wall") or faces[0].get("face"):
        return None
    return {name: faces[0].get(name) for name in ("layers", "board", "level") if faces[0].get(name) is not None}


def _kept(text: str) -> Document:
    try:
        result = json.loads(text)
    except ValueError:
        raise DocumentError.at("options", "the build of an option came back spoilt; open the page anew") from None
    return result if isinstance(result, dict) else {}


ROW_FORMS: dict[str, Any] = {"allowances": AllowanceForm, "options": OptionForm, "checklist": ChecklistForm}
