"""How a job is priced, as a form: read into the pricing part of a job file and back."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django import forms
from django.http import QueryDict

from catalog.core.ground.document_reader import DocumentError
from catalog.pages.words import percent_entry, share_text
from quoting.core.prices.costs import CATEGORIES
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.entry_form import EntryForm, pick, sentence, text
from quoting.platform.pages.entry_rows import EntryRows
from quoting.platform.pages.error_summary import NotSaved, WrongField, in_focus, wrong_of_form, wrong_of_rows
from quoting.pricing.models.costs import CATEGORY_CHOICES
from quoting.pricing.models.pricing import MODE_CHOICES
from quoting.pricing.models.tax import TAX_BASIS_CHOICES, TAXED_PART_CHOICES
from quoting.pricing.services.least_margin import checklist_offered
from quoting.quotes.pages.terms_form import ROW_FORMS, ContingencyForm, OverheadForm
from quoting.quotes.pages.texts_form import LeftOutForm, NoticeForm, TextsForm
from quoting.texts.models import NoticePlace
from quoting.texts.services.firm_texts import firm_texts_of

Document = dict[str, Any]
SOURCES = (("takeoff", "From the takeoff"), ("entered", "Entered here instead"))
LISTS = ("labour", "subcontract", "other", "instalments", "allowances", "options", "checklist")
USUAL_LISTS = ("instalments", "checklist")
ROW_WORDS = {
    "labour": "Labour",
    "subcontract": "Subcontract",
    "other": "Other cost",
    "allowances": "Allowance",
    "options": "Option",
    "checklist": "Item",
    "instalments": "Instalment",
}
PAGE_ORDER = ("policy", "materials", "labour_from_hours", "overhead", "contingency", "tax", "deposit", "rest")
LISTS_BELOW = {
    "labour_from_hours": ("labour", "subcontract", "other"),
    "contingency": ("allowances", "options", "checklist"),
    "tax": ("instalments",),
}


def share_typed(typed: str) -> str:
    """A percentage, or a fraction such as 1/3, as the document holds a share."""
    return typed.replace(" ", "") if "/" in typed else share_text(typed)


def share_offered(share: str | None) -> str:
    return share if share and "/" in share else percent_entry(Decimal(share)) if share else ""


def with_rate_name(document: Document) -> Document:
    """A rate that is typed with letters is the name of one."""
    named = any(letter.isalpha() for letter in str(document.get("rate", "")))
    return {**_without(document, "rate"), "rate_of": document["rate"]} if named else document


def rate_offered(document: Document) -> Document:
    return (
        {**_without(document, "rate_of"), "rate": document.get("rate") or document.get("rate_of")} if document else {}
    )


class PolicyForm(EntryForm):
    mode = pick("Way of pricing", MODE_CHOICES)
    target_margin = text("Target margin, %", "Of the price.", longest=20)
    markup_materials = text("Markup on materials, %", longest=20)
    markup_labour = text("Markup on labour, %", longest=20)
    markup_subcontract = text("Markup on subcontract, %", longest=20)
    markup_other = text("Markup on other costs, %", longest=20)
    minimum_margin = text("Least margin, %", "Below it a second person approves.", longest=20)
    stands_at = {
        "policy.markup": "mode",
        **{f"markup.{category}": f"markup_{category}" for category in CATEGORIES},
        "markup": "mode",
    }

    def document(self) -> Document:
        result = self.entries()
        policy: Document = {"mode": result.get("mode")}
        if "minimum_margin" in result:
            policy["minimum_margin"] = share_text(result["minimum_margin"])
        if result.get("mode") == "margin" and "target_margin" in result:
            policy["target_margin"] = share_text(result["target_margin"])
        if result.get("mode") == "markup":
            policy["markup"] = {
                category: share_text(result[f"markup_{category}"])
                for category in CATEGORIES
                if f"markup_{category}" in result
            }
        return policy

    @staticmethod
    def offered(policy: Document) -> Document:
        markups = policy.get("markup") or {}
        shares = {"target_margin": policy.get("target_margin"), "minimum_margin": policy.get("minimum_margin")}
        shares |= {f"markup_{category}": markups.get(category) for category in CATEGORIES}
        return {"mode": policy.get("mode") or "margin"} | {name: share_offered(entry) for name, entry in shares.items()}


class MaterialsForm(EntryForm):
    source = pick("Cost of materials", SOURCES)
    amount = text("Amount, if entered", longest=20)
    note = text("What it stands for", longest=200)
    stands_at = {"materials": "source"}

    def document(self) -> Any:
        result = self.entries()
        return result.get("source") if result.get("source") != "entered" else _without(result, "source")

    @staticmethod
    def offered(materials: Any) -> Document:
        return {"source": "entered", **materials} if isinstance(materials, dict) else {"source": "takeoff"}


class HoursForm(EntryForm):
    taken = forms.BooleanField(
        label="Labour from the walls' hours", help_text="Every step's hours, the firm's curve factor in them."
    )
    rate = text(
        "Cost of one such hour",
        "What it costs the firm, burden included; or the name of a rate, for that of the day.",
        longest=100,
    )
    stands_at = {"labour_from_hours": "rate", "rate_of": "rate"}

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        # The page that shows the form lists the rates in force under this id.
        self.fields["rate"].widget.attrs["list"] = "labour-rates"

    def document(self) -> Document | None:
        result = self.entries()
        return with_rate_name(_without(result, "taken")) if result.get("taken") else None

    @staticmethod
    def offered(hours: Document | None) -> Document:
        return {"taken": hours is not None, **rate_offered(hours or {})}


class TaxForm(EntryForm):
    name = text("Tax", "As the paper calls it.", longest=60)
    rate = text("Rate, %", "0 where none is charged. Empty: the rate in force on the day of the quote.", longest=20)
    applies_to = pick("Charged on", TAXED_PART_CHOICES)
    basis = pick("Rounding", TAX_BASIS_CHOICES)

    def document(self) -> Document:
        result = self.entries()
        # Without a rate the name alone counts: what it is charged on comes with the rate of the day.
        return result | {"rate": share_text(result["rate"])} if "rate" in result else {"name": result.get("name")}

    @staticmethod
    def offered(tax: Document) -> Document:
        return {"applies_to": "price", "basis": "document", **tax, "rate": share_offered(tax.get("rate"))}


class DepositForm(EntryForm):
    share = text("Deposit", "Of the price, in % or as a fraction such as 1/3. Empty: no deposit.", longest=20)
    at_most = text("At most", "An amount, where one is set.", longest=20)
    covers_special_orders = forms.BooleanField(
        label="At least the special orders", help_text="Raised to what special orders cost."
    )
    legal_share = text("The law's limit, share", "As your adviser says; a warning, not legal advice.", longest=20)
    legal_amount = text("The law's limit, amount", longest=20)

    def is_filled(self) -> bool:
        return bool(_without(self.entries(), "covers_special_orders"))

    def document(self) -> Document | None:
        result = self.entries()
        shares = {name: share_typed(result[name]) for name in ("share", "legal_share") if name in result}
        return result | shares if self.is_filled() else None

    @staticmethod
    def offered(deposit: Document | None) -> Document:
        result = dict(deposit or {})
        return result | {name: share_offered(result.get(name)) for name in ("share", "legal_share")}


class OtherForm(EntryForm):
    special_order_cost = text("Cost of special orders", "For the deposit rule.", longest=20)
    valid_days = text("Valid for, days", "Calendar days from the day of issue.", longest=5)


class LabourForm(EntryForm):
    what = text("Work", longest=200)
    hours = text("Hours", longest=20)
    rate = text("Cost an hour, or a rate's name", longest=100)
    stands_at = {"rate_of": "rate"}

    def entries(self) -> Document:
        return with_rate_name(super().entries())

    def __init__(self, *args: Any, walls: Iterable[str] = (), **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["wall"] = wall_field(walls, self.initial.get("wall", ""))


class CostForm(EntryForm):
    what = text("What", longest=200)
    amount = text("Cost", longest=20)

    def __init__(self, *args: Any, walls: Iterable[str] = (), **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["wall"] = wall_field(walls, self.initial.get("wall", ""))


class InstalmentForm(EntryForm):
    event = text("Falls due", longest=200)
    share = text("Share", longest=20)

    def entries(self) -> Document:
        document = super().entries()
        return document | ({"share": share_typed(document["share"])} if "share" in document else {})


def wall_field(walls: Iterable[str], chosen: str) -> forms.ChoiceField:
    names = list(dict.fromkeys([*walls, *([chosen] if chosen else [])]))
    field = pick("For", [(name, name) for name in names], nothing="The whole job")
    field.required = False
    return field


class PricingForm:
    """All of it together. document: what is stored at present; data: what was typed, if anything was."""

    def __init__(
        self,
        data: QueryDict | None,
        document: Document,
        walls: Iterable[str],
        *,
        more: str = "",
        with_costs: bool = True,
    ) -> None:
        self.data, self.others, self.conflict = data, list[str](), ""
        self.policy = PolicyForm(data, PolicyForm.offered(document.get("policy") or {}), prefix="policy")
        self.materials = MaterialsForm(data, MaterialsForm.offered(document.get("materials")), prefix="materials")
        self.hours = HoursForm(data, HoursForm.offered(document.get("labour_from_hours")), prefix="hours")
        self.tax = TaxForm(data, TaxForm.offered(document.get("tax") or {}), prefix="tax")
        self.deposit = DepositForm(data, DepositForm.offered(document.get("deposit")), prefix="deposit")
        self.rest = OtherForm(data, _only(document, OtherForm), prefix="rest")
        self.overhead = OverheadForm(data, OverheadForm.offered(document), prefix="overhead")
        self.contingency = ContingencyForm(data, ContingencyForm.offered(document), prefix="contingency")
        self.with_costs = with_costs
        self.wording = _wording_forms(data, document) if with_costs else {}
        self.lists = {name: self._rows(name, document, list(walls), more) for name in self._list_names()}

    def _list_names(self) -> tuple[str, ...]:
        return LISTS if self.with_costs else USUAL_LISTS

    def _rows(self, name: str, document: Document, walls: list[str], more: str) -> EntryRows:
        offered = list(document.get(name) or ())
        if name == "instalments":
            offered = [{**entry, "share": share_offered(entry["share"])} for entry in offered]
        if name == "checklist":
            offered = checklist_offered(offered)
        if name == "labour":
            offered = [rate_offered(entry) for entry in offered]
        if name in ROW_FORMS:
            offered = [ROW_FORMS[name].offered(entry) for entry in offered]
        form = {"labour": LabourForm, "instalments": InstalmentForm, **ROW_FORMS}.get(name, CostForm)
        options = {"walls": walls} if name in ("labour", "subcontract", "other") else {}
        return EntryRows(form, name, self.data, offered, spare=1, more=more == name, options=options)

    @property
    def forms(self) -> dict[str, EntryForm]:
        named = {"policy": self.policy, "materials": self.materials, "tax": self.tax, "deposit": self.deposit}
        named |= {"overhead": self.overhead, "contingency": self.contingency}
        return {**named, "labour_from_hours": self.hours, "rest": self.rest, **self.wording}

    @property
    def on_costs(self) -> tuple[EntryForm, ...]:
        return self.overhead, self.contingency

    def is_valid(self) -> bool:
        answers = [form.is_valid() for form in self.forms.values()]
        answers += [rows.is_valid() for rows in self.lists.values()]
        return all(answers)

    def document(self) -> Document:
        result: Document = {
            "policy": self.policy.document(),
            # The firm's usual pricing holds no sums of its own: its page does not ask where they come from.
            "materials": self.materials.document() if self.with_costs else "takeoff",
            "labour_from_hours": self.hours.document(),
            "deposit": self.deposit.document(),
            **self.overhead.document(),
            **self.contingency.document(),
            **self.rest.entries(),
            **{name: rows.entries() for name, rows in self.lists.items()},
        }
        for form in self.wording.values():
            result |= form.document()  # type: ignore[attr-defined]
        tax = self.tax.document()
        return result | ({"tax": tax} if tax.get("name") else {})

    def complain(self, error: DocumentError) -> None:
        for complaint in error.complaints:
            head, _, leaf = complaint.path.partition(".")
            if any(rows.takes(complaint) for rows in self.lists.values()):
                continue
            owner = self.forms.get(head) or self._owner_of(head)
            if owner is None:
                self.others.append(sentence("", complaint))
            else:
                path = leaf if head in self.forms else complaint.path
                owner.complain(DocumentError([type(complaint)(path, complaint.reason)]))

    def _owner_of(self, head: str) -> EntryForm | None:
        name = head.partition("[")[0]
        return next((form for form in (self.rest, *self.wording.values()) if name in form.fields), None)

    @property
    def sentences(self) -> list[str]:
        """Everything wrong, for where the form itself is not shown."""
        result = [*self.others, *(fault for rows in self.lists.values() for fault in rows.faults)]
        shown = [*self.forms.values(), *(form for rows in self.lists.values() for form in rows.forms)]
        return result + [str(error) for form in shown for errors in form.errors.values() for error in errors]

    def status(self) -> int:
        return 422 if self.data is not None and self.sentences else 200

    def not_saved(self) -> NotSaved | None:
        """What keeps it from being saved, in the order of the page; None where nothing does."""
        if self.data is None or not (self.conflict or self.sentences):
            return None
        fields = [WrongField(message) for message in (self.conflict, *self.others) if message]
        forms, shown = self.forms, list[EntryForm]()
        for name in (*PAGE_ORDER, *self.wording):
            shown.append(forms[name])
            fields += wrong_of_form(forms[name])
            for rows in (self.lists[entry] for entry in LISTS_BELOW.get(name, ()) if entry in self.lists):
                shown += rows.forms
                fields += wrong_of_rows(rows, ROW_WORDS[rows.name])
        return in_focus(shown, NotSaved(tuple(fields)))


def _wording_forms(data: QueryDict | None, document: Document) -> dict[str, EntryForm]:
    texts, left_out = firm_texts_of(), document.get("left_out") or []
    places = NoticePlace.objects.values_list("name", flat=True)
    return {
        "texts": TextsForm(data, TextsForm.offered(document), prefix="texts"),
        "left": LeftOutForm(
            data,
            {"left_out": left_out},
            prefix="left",
            texts=texts,
            today=day_at_the_firm(clock.now()),
            left_out=left_out,
        ),
        "notice": NoticeForm(data, NoticeForm.offered(document), prefix="notice", places=places),
    }


def _names(form: type[EntryForm]) -> list[str]:
    return list(form.base_fields)


def _only(document: Document, form: type[EntryForm]) -> Document:
    return {name: document.get(name) for name in _names(form) if document.get(name) is not None}


def _without(document: Document, name: str) -> Document:
    return {key: entry for key, entry in document.items() if key != name}


__all__ = ["CATEGORY_CHOICES", "PricingForm"]
