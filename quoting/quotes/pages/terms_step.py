"""The third step of a price: options, tax, what is paid when, and what the quotation says."""

import json
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.text import Truncator

from catalog.core.ground.document_reader import DocumentError
from quoting.core.prices.allowances import Allowance
from quoting.core.prices.options import OptionSpec
from quoting.core.prices.payments import DepositRule, Instalment
from quoting.core.prices.tax import TaxRule
from quoting.core.quotes.firm_texts import BLOCKS, HEADINGS, NoticeChoice, QuoteTexts
from quoting.core.quotes.job_file import PricingSpec
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.declared_fields import form_of
from quoting.platform.pages.document_form import Document, document_form, fields_of
from quoting.platform.pages.entry_form import NOT_ONE, pick, text
from quoting.quotes.pages.pricing_part import Group, PricingPart
from quoting.texts.models import NoticePlace
from quoting.texts.services.firm_texts import firm_texts_of

TAX = fields_of(TaxRule, "name", "rate", "applies_to", "basis", at="tax-")
DEPOSIT = {
    **fields_of(DepositRule, "share", "at_most", "covers_special_orders", "legal_share", "legal_amount", at="deposit-"),
    **fields_of(PricingSpec, "special_order_cost"),
}
VALID = fields_of(PricingSpec, "valid_days")
TEXTS = fields_of(QuoteTexts, *BLOCKS)
NOTICE = {"notice-place": pick("Notice of the place", ()), **fields_of(NoticeChoice, "language", at="notice-")}
LEFT_OUT = {
    "left_out": forms.MultipleChoiceField(
        label="Leave out", widget=forms.CheckboxSelectMultiple, error_messages={"invalid_choice": NOT_ONE}
    )
}


class UsualTermsForm(document_form(TAX, DEPOSIT, VALID)):  # type: ignore[misc]
    def document(self) -> Document:
        result: Document = super().document()
        tax = result.get("tax", {})
        if "rate" in tax:
            return result
        # Without a rate the name alone counts: what it is charged on comes with the rate of the day.
        return result | {"tax": {"name": tax["name"]} if "name" in tax else None}


class TermsForm(document_form(TAX, DEPOSIT, VALID, TEXTS, LEFT_OUT, NOTICE), UsualTermsForm):  # type: ignore[misc]
    def __init__(self, data: Any, document: Document, **options: Any) -> None:
        super().__init__(data, document, **options)
        standing = firm_texts_of().in_force(day_at_the_firm(clock.now()))
        known = {entry.key: f"{HEADINGS[entry.block]}: {Truncator(entry.text).words(5)}" for entry in standing}
        gone = {key: f"{key} (not in force today)" for key in document.get("left_out") or () if key not in known}
        self.fields["left_out"].choices = [*known.items(), *gone.items()]
        places = NoticePlace.objects.values_list("name", flat=True)
        chosen = (document.get("notice") or {}).get("place")
        names = dict.fromkeys([*places, *filter(None, [chosen])])
        self.fields["notice-place"].choices = [("", "no notice"), *((name, name) for name in names)]

    def document(self) -> Document:
        result: Document = super().document()
        notice = result.get("notice", {})
        return result | {"notice": {"language": "en"} | notice if "place" in notice else None}


class InstalmentRow(form_of(Instalment, "event", "share")):  # type: ignore[misc]
    label, says = "Instalment", ("event", "share")


class AllowanceRow(form_of(Allowance, "what", "amount", "category", "cost", "over_markup")):  # type: ignore[misc]
    label, says = "Allowance", ("what", "amount")

    def is_filled(self) -> bool:
        return bool(self.entries().keys() - {"category"})


class OptionRow(
    form_of(OptionSpec, "title", "text", "group", "price", "cost", "materials_price", "special_order_cost")  # type: ignore[misc]
):
    """A price, or a build: layers, board and level of every wall. A build that says more is kept as it is."""

    label, says = "Option", ("title",)
    key = forms.CharField(widget=forms.HiddenInput, max_length=40)
    layers = text("Or built with layers", "On every face.", longest=2)
    board = text("and of the board", "Its code.", longest=60)
    level = text("and to the level", "0 to 5.", longest=2)
    whole_build = forms.CharField(widget=forms.HiddenInput, max_length=20_000)
    stands_at = {"build": "layers"}

    def entries(self) -> Document:
        document: Document = super().entries()
        simple = {name: document.pop(name) for name in ("layers", "board", "level") if name in document}
        stored = document.pop("whole_build", "")
        if simple:
            document["build"] = {"faces": [simple]}
        elif stored and "price" not in document:
            document["build"] = _kept(stored)
        return document

    def is_filled(self) -> bool:
        return bool(self.entries().keys() - {"key", "special_order_cost"})


def _option_offered(entry: Document) -> Document:
    build = entry.get("build")
    special = entry.get("special_order_cost")
    document = entry | {"special_order_cost": special if Decimal(special or 0) else ""}
    return document | (_simple(build) or {"whole_build": json.dumps(build)}) if build else document


def _simple(build: Document) -> Document | None:
    """A build that changes every face alike, as the three fields say it; None for one that says more."""
    faces = build.get("faces") or []
    if build.get("trims") or len(faces) != 1 or faces[0].get("wall") or faces[0].get("face"):
        return None
    return {name: faces[0].get(name) for name in ("layers", "board", "level") if faces[0].get(name) is not None}


def _kept(stored: str) -> Document:
    try:
        result = json.loads(stored)
    except ValueError:
        raise DocumentError.at("options", "the build of an option came back spoilt; open the page again") from None
    return result if isinstance(result, dict) else {}


class UsualTermsPart(PricingPart):
    head_of = UsualTermsForm
    rows_of: dict[str, Any] = {"instalments": InstalmentRow}
    groups = (
        Group("Tax", tuple(TAX)),
        Group("Instalments", rows="instalments", hint="In %, or 1/3; together the whole."),
        Group("Deposit", tuple(DEPOSIT), hint="Part of the price, taken off the instalments. Ask your adviser."),
        Group("Valid", tuple(VALID), says="{} days"),
    )

    def shown(self, document: Document) -> Document:
        tax = {"applies_to": "price", "basis": "document"} | (document.get("tax") or {})
        allowances = [
            row | {"over_markup": row["over_markup"] if Decimal(row.get("over_markup") or 0) else None}
            for row in document.get("allowances") or ()
        ]
        options = [_option_offered(row) for row in document.get("options") or ()]
        return document | {"tax": tax, "allowances": allowances, "options": options}


class TermsPart(UsualTermsPart):
    head_of = TermsForm
    rows_of = {"options": OptionRow, "allowances": AllowanceRow, "instalments": InstalmentRow}
    groups = (
        Group("Options", rows="options"),
        Group("Allowances", rows="allowances", hint="Sums for what is not chosen yet."),
        *UsualTermsPart.groups,
        Group("Included and not", tuple(TEXTS)[:2], hint="A sentence a line."),
        Group("Other words", tuple(TEXTS)[2:], hint="A sentence a line, after the firm's standing ones."),
        Group("Standing sentences", (*LEFT_OUT, *NOTICE), nothing="all"),
    )
