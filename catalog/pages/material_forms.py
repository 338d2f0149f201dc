from typing import Any

from django import forms
from django.http import HttpRequest

from catalog.core.ground.units import UNITS
from catalog.core.materials import specs
from catalog.core.materials.entries import MaterialEntry
from catalog.core.materials.specs import KINDS
from catalog.models import Firm, Material, MaterialFact, Pack, Standard, Supplier
from catalog.models.materials import SUPPLY_LABELS
from catalog.pages.words import (
    SURENESS_CHOICES,
    UNITS_USED,
    bare_unit_words,
    figure_entry,
    system_of,
)
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.document_fields import percent_entry, share_text
from quoting.platform.pages.entry_form import EntryForm, day, pick, text
from quoting.platform.pages.stored_values import Stored


class MaterialForm(EntryForm):
    """A material of any kind. Its packs, figures and lead times are entered on its page, each with its source."""

    declares = MaterialEntry
    code = text("Code", "Short and lasting: it stands in jobs and papers and cannot change later.")
    name = text("Name")
    kind = pick("Kind", KINDS.items(), nothing="Choose a kind")
    own_kind = text("Its name", "Of a kind of the firm's own alone: adhesive, door set, hire, by others.")
    supply = pick("How it is had", SUPPLY_LABELS.items())
    unit_used = pick("Counted in", [(unit, UNITS_USED.get(unit, unit)) for unit in UNITS], "The unit of the takeoff.")
    unit_bought = text("Bought as", "The word for one: stick, sheet, box, pail.")
    waste = text(
        "Waste, %", "Added to what the wall needs. Left empty it is a gap, named in every takeoff.", longest=20
    )
    supplier = pick("Supplier", (), nothing="Nobody yet")
    cushion_workdays = text(
        "Cushion, working days", "On site this long before it is needed; empty takes the firm's usual.", longest=10
    )
    sign_off_workdays = text(
        "Sign-off, working days", "For the client to decide; empty takes the firm's usual.", longest=10
    )
    note = text("Note", rows=3)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        suppliers = Supplier.objects.values_list("code", "name")
        self.fields["supplier"].choices = [("", "Nobody yet"), *suppliers]  # type: ignore[attr-defined]

    def entries(self) -> dict[str, Any]:
        document = super().entries()
        return document | ({"waste": share_text(document["waste"])} if "waste" in document else {})


class MaterialChangeForm(MaterialForm):
    code = None  # type: ignore[assignment]
    kind = None  # type: ignore[assignment]
    own_kind = None  # type: ignore[assignment]


def material_entry(row: Material) -> dict[str, Any]:
    document = {name: getattr(row, name) for name in MaterialChangeForm.base_fields if name != "supplier"}
    return document | {"waste": percent_entry(row.waste), "supplier": row.supplier_id or ""}


class FigureForm(EntryForm):
    """One figure with its source; of a material or of the firm's standards."""

    value = text("Figure", longest=40)
    source = text("Source", "Who says so: a standard and its table, a maker's sheet, the firm's own record.", rows=2)
    sure = pick("How sure", SURENESS_CHOICES, nothing="Choose one")
    stated_on = day("Stated on", "The day it was said or written down.")

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
        names = ("source", "sure", "stated_on")
        words = {"value": "", **{name: getattr(row, name, "") for name in names}}
        if row is not None:
            words["value"] = figure_entry(row.value, unit, system_of(firm))
        initial = words if row is not None else {"stated_on": day_at_the_firm(clock.now())}
        stored = Stored(words, row, request.path)
        return cls(request.POST or None, initial=initial, stored=stored, unit=unit, firm=firm)


class PackForm(EntryForm):
    declares = specs.Pack
    code = text("Code of the pack", "As the supplier's list or the firm's own says it.")
    label = text("What it is", "Such as: 10 ft stick, 4 x 8 ft sheet, box of 1,000.")
    quantity = text("Holds", longest=20)
    length = text("Length", "Of a stick or sheet; else leave it empty.", longest=40)
    width = text("Width", "Of a sheet; else leave it empty.", longest=40)
    amount = text("Price", longest=20)
    starts_on = day("In force from")
    price_source = text("Source of the price", "Such as: price list of March, quotation by e-mail.")
    stands_at = {
        "prices[0].amount": "amount",
        "prices[0].starts_on": "starts_on",
        "prices[0].source": "price_source",
        "prices": "amount",
    }

    def __init__(self, *args: Any, unit: str, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["quantity"].help_text = f"How many {UNITS_USED.get(unit, unit)} are in one."

    def entries(self) -> dict[str, Any]:
        document = super().entries()
        price = {
            name: document.pop(field)
            for name, field in (("amount", "amount"), ("starts_on", "starts_on"), ("source", "price_source"))
            if field in document
        }
        # The day stands in the form from the start, and alone does not mean a price.
        return document | ({"prices": [price]} if price.keys() - {"starts_on"} else {})


class PriceForm(EntryForm):
    amount = text("Price", longest=20)
    starts_on = day("In force from", "A price stays in force until a later one starts; past quotes keep theirs.")
    held_until = day("Held until", "The last day the supplier holds it, if they said so.")
    source = text("Source", "Such as: price list of March, quotation by e-mail.")

    def __init__(self, *args: Any, pack: Pack, currency: str, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["amount"].help_text = f"For one {pack.label}, in {currency}, without tax."


class LeadTermForm(EntryForm):
    production = text(
        "What they said",
        "From the order to the day it leaves: 3 weeks, 15 working days or 10 calendar days. "
        "A week is 5 working days unless they count calendar days.",
        longest=40,
    )
    transit_workdays = text(
        "In transit, working days", "From there to the dock, by the supplier's calendar.", longest=10
    )
    source = text("How it was said", "Such as: telephone, e-mail, price list.")
    stated_by = text("Who said it", longest=200)
    stated_on = day("When they said it", "In force from that day on.")


class OfferForm(EntryForm):
    """What another supplier asks for one pack, how long it takes, or both."""

    supplier = pick("Supplier", ())
    pack = pick("Price of", ())
    amount = text("Price", longest=20)
    starts_on = day("In force from")
    production = text("From the order to the day it leaves", "Such as 3 weeks or 10 calendar days.", longest=40)
    transit_workdays = text("In transit, working days", longest=10)
    source = text("How it was said", "Such as: telephone, e-mail, price list.")
    stands_at = {"offers": "supplier"}

    def __init__(self, *args: Any, material: Material, **options: Any) -> None:
        super().__init__(*args, **options)
        sellers = Supplier.objects.exclude(code=material.supplier_id).values_list("code", "name")
        self.fields["supplier"].choices = list(sellers)  # type: ignore[attr-defined]
        self.fields["pack"].choices = [(entry.code, entry.label) for entry in material.packs.all()]  # type: ignore[attr-defined]

    def _field_at(self, path: str) -> str | None:
        return super()._field_at(path.rpartition(".")[2]) or super()._field_at(path)


class SetAsideForm(forms.Form):
    active = forms.ChoiceField(choices=(("yes", "yes"), ("no", "no")))
