from collections.abc import Iterable
from typing import Any

from django import forms
from django.http import HttpRequest

from catalog.core.ground.units import UNITS
from catalog.core.leads.lead_times import LeadTerm
from catalog.core.materials import specs
from catalog.core.materials.entries import MaterialEntry
from catalog.core.materials.facts import Fact
from catalog.core.materials.specs import KINDS
from catalog.models import Firm, Material, MaterialFact, Pack, Standard, Supplier
from catalog.models.materials import SUPPLY_LABELS
from catalog.pages.words import SURENESS_CHOICES, UNITS_USED, bare_unit_words, figure_entry, system_of
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.declared_fields import form_field, form_of
from quoting.platform.pages.document_fields import percent_entry, share_text
from quoting.platform.pages.entry_form import EntryForm, pick, text
from quoting.platform.pages.stored_values import Stored

SAID = "From the order to the day it leaves: 3 weeks, 15 working days or 10 calendar days. A week is 5 working days."
CHANGED = ("name", "supply", "unit_used", "unit_bought", "waste", "cushion_workdays", "sign_off_workdays", "note")
WORDS = {"supply": SUPPLY_LABELS, "unit_used": {unit: UNITS_USED.get(unit, unit) for unit in UNITS}}


class MaterialChangeForm(form_of(MaterialEntry, *CHANGED, words=WORDS)):
    """A material of any kind. Its packs, figures and lead times are entered on its page, each with its source."""

    supplier = pick("Supplier", (), nothing="Nobody yet")

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        _offer(self, "supplier", [("", "Nobody yet"), *Supplier.objects.values_list("code", "name")])

    def entries(self) -> dict[str, Any]:
        document: dict[str, Any] = super().entries()
        return document | ({"waste": share_text(document["waste"])} if "waste" in document else {})


class MaterialForm(MaterialChangeForm):
    code = form_field(MaterialEntry, "code")
    kind = pick("Kind", KINDS.items(), nothing="Choose a kind")
    own_kind = form_field(MaterialEntry, "own_kind")
    field_order = ("code", "name", "kind", "own_kind")


def _offer(form: forms.BaseForm, name: str, among: Iterable[tuple[str, str]]) -> None:
    form.fields[name].choices = list(among)  # type: ignore[attr-defined]


def material_entry(row: Material) -> dict[str, Any]:
    document = {name: getattr(row, name) for name in CHANGED}
    return document | {"waste": percent_entry(row.waste), "supplier": row.supplier_id or ""}


class FigureForm(form_of(Fact, "source", "stated_on")):
    """One figure with its source; of a material or of the firm's standards."""

    value = text("Figure", longest=40)
    sure = pick("How sure", SURENESS_CHOICES, nothing="Choose one")
    field_order = ("value", "source", "sure", "stated_on")

    def __init__(self, *args: Any, unit: str, firm: Firm | None, **options: Any) -> None:
        super().__init__(*args, **options)
        value = self.fields["value"]
        if unit == "mm":
            value.help_text = f"Such as 3-5/8 in, 12' 6\" or 120 mm; a bare number is in {bare_unit_words(firm)}."
        elif unit == "yes/no":
            self.fields["value"] = pick("Figure", (("1", "yes"), ("0", "no")), nothing="Choose one")
            self.fields["value"].required = False
        elif unit != "each":
            value.help_text = f"In {unit}."

    @classmethod
    def of(
        cls, request: HttpRequest, row: MaterialFact | Standard | None, unit: str, firm: Firm | None
    ) -> "FigureForm":
        """Of what is stated, or of nothing yet: somebody else may state it first."""
        words = {"value": "", **{name: getattr(row, name, "") for name in ("source", "sure", "stated_on")}}
        if row is not None:
            words["value"] = figure_entry(row.value, unit, system_of(firm))
        initial = words if row is not None else {"stated_on": day_at_the_firm(clock.now())}
        return cls(request.POST or None, initial, stored=Stored(words, row, request.path), unit=unit, firm=firm)


class PackForm(form_of(specs.Pack, "code", "label", "quantity", "length", "width")):
    amount = form_field(specs.Price, "amount")
    starts_on = form_field(specs.Price, "starts_on")
    price_source = form_field(specs.Price, "source")
    PRICE = {"amount": "amount", "starts_on": "starts_on", "source": "price_source"}
    stands_at = {f"prices[0].{name}": field for name, field in PRICE.items()} | {"prices": "amount"}

    def __init__(self, *args: Any, unit: str, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["quantity"].help_text = f"How many {UNITS_USED.get(unit, unit)} are in one."

    def entries(self) -> dict[str, Any]:
        document: dict[str, Any] = super().entries()
        price = {name: document.pop(field) for name, field in self.PRICE.items() if field in document}
        # The day stands in the form from the start, and alone does not mean a price.
        return document | ({"prices": [price]} if price.keys() - {"starts_on"} else {})


class PriceForm(form_of(specs.Price, "amount", "starts_on", "held_until", "source")):
    def __init__(self, *args: Any, pack: Pack, currency: str, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["amount"].help_text = f"For one {pack.label}, in {currency}, without tax."


class LeadTermForm(form_of(LeadTerm, "transit_workdays", "source", "stated_by", "stated_on")):
    production = text("What they said", SAID, longest=40)
    field_order = ("production",)


class OfferForm(EntryForm):
    """What another supplier asks for one pack, how long it takes, or both."""

    supplier = pick("Supplier", ())
    pack = pick("Price of", ())
    amount = form_field(specs.Price, "amount")
    starts_on = form_field(specs.Price, "starts_on")
    production = text("Order to leaving the works", "Such as 3 weeks or 10 calendar days.", longest=40)
    transit_workdays = form_field(LeadTerm, "transit_workdays")
    source = form_field(LeadTerm, "source")
    stands_at = {"offers": "supplier"}

    def __init__(self, *args: Any, material: Material, **options: Any) -> None:
        super().__init__(*args, **options)
        _offer(self, "supplier", Supplier.objects.exclude(code=material.supplier_id).values_list("code", "name"))
        _offer(self, "pack", ((entry.code, entry.label) for entry in material.packs.all()))

    def _field_at(self, path: str) -> str | None:
        return super()._field_at(path.rpartition(".")[2]) or super()._field_at(path)
