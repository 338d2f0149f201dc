"""What a screen changes of the catalog, one entry at a time. Every entry is read and checked by the core;
what is wrong is a DocumentError whose complaints name the field."""

from collections.abc import Sequence
from typing import Any

from django.db import transaction

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.units import BareLengthUnit
from catalog.core.leads import lead_times
from catalog.core.materials import specs
from catalog.core.materials.entries import MaterialEntry
from catalog.core.materials.facts import read_fact
from catalog.core.materials.specs import PROPERTIES, SpecError, check_property
from catalog.models import LeadTerm, Material, MaterialFact, Pack, Price
from catalog.services.book import materials_with_parts
from catalog.services.materials import pack_complaints, store_materials
from catalog.services.row_sync import remove_first, save_if_changed
from catalog.services.typed_money import entry_reader
from quoting.platform.models.core_values import column_values


@transaction.atomic
def add_material(document: dict[str, Any], bare_unit: BareLengthUnit = "in") -> Material:
    """A new material, written as in a catalog file, and with `active` and `note`."""
    code = document.get("code")
    if isinstance(code, str) and Material.objects.filter(code=code).exists():
        raise DocumentError.at("code", f'"{code}" is another material\'s code; give a new one')
    _refuse_planned(document, ())
    return _save(document, bare_unit)


@transaction.atomic
def change_material(code: str, changes: dict[str, Any], bare_unit: BareLengthUnit = "in") -> Material:
    """Change some entries of a material; what is not named stays. The code itself never changes."""
    # What is not named is written as it was read, so nobody may state a price or a term in between.
    Material.objects.select_for_update().get(code=code)
    row = materials_with_parts().get(code=code)
    if changes.get("code", code) != code:
        raise DocumentError.at("code", "a code stands in jobs and papers and cannot change; add a new material")
    document = write(row.entry())
    _refuse_planned(changes, document.get("planned_leads", ()))
    return _save(document | changes, bare_unit)


def _refuse_planned(given: dict[str, Any], stored: Sequence[Any]) -> None:
    if list(given.get("planned_leads") or stored) != list(stored):
        message = "are accepted by somebody from the lead-time record, and cannot be entered with the material"
        raise DocumentError.at("planned_leads", message)


def _save(document: dict[str, Any], bare_unit: BareLengthUnit) -> Material:
    material = read(MaterialEntry, entry_reader(document, bare_unit=bare_unit))
    try:
        store_materials([material], "")
    except DocumentError as error:
        raise error.within("[0]") from error
    return Material.objects.get(code=material.code)


@transaction.atomic
def set_fact(code: str, name: str, document: dict[str, Any], bare_unit: BareLengthUnit = "in") -> MaterialFact:
    """State one figure of a material: value, source, sure, stated_on."""
    material = Material.objects.select_for_update().get(code=code)
    if name not in PROPERTIES:
        raise DocumentError.at("name", f'"{name}" is not a property known here')
    fact = read_fact(entry_reader(document, bare_unit=bare_unit), PROPERTIES[name].unit)
    try:
        check_property(code, material.kind, name, fact.value)
    except SpecError as error:
        raise DocumentError.at("value", str(error)) from error
    row = material.facts.filter(name=name).first() or MaterialFact(material=material, name=name)
    save_if_changed(row, column_values(fact, MaterialFact))
    return row


def remove_fact(code: str, name: str) -> bool:
    """From then on the figure is a gap, named where it is needed."""
    return remove_first(MaterialFact.objects.filter(material__code=code, name=name))


@transaction.atomic
def set_price(code: str, pack_code: str, document: dict[str, Any]) -> Price:
    """State what a pack costs from a day on: amount, starts_on, source, held_until."""
    Material.objects.select_for_update().get(code=code)
    pack = Pack.objects.select_for_update().get(material__code=code, code=pack_code)
    price = read(specs.Price, entry_reader(document))
    probe = specs.Pack(pack.code, pack.label, pack.quantity, (price,))
    if complaints := list(pack_complaints(probe, "")):
        raise DocumentError(complaints).within(".prices[0]")
    row = pack.prices.filter(starts_on=price.starts_on).first() or Price(pack=pack)
    save_if_changed(row, column_values(price, Price))
    return row


@transaction.atomic
def add_lead_term(code: str, document: dict[str, Any]) -> LeadTerm:
    """What the supplier said: production ("3 weeks"), transit_workdays, source, stated_on, stated_by."""
    material = Material.objects.select_for_update().get(code=code)
    term = read(lead_times.LeadTerm, entry_reader(document))
    return LeadTerm.objects.create(material=material, **column_values(term, LeadTerm))


@transaction.atomic
def add_pack(code: str, document: dict[str, Any], bare_unit: BareLengthUnit = "in") -> Pack:
    """A further size: code, label, quantity, length, width, prices."""
    pack = read(specs.Pack, entry_reader(document, bare_unit=bare_unit))
    row = materials_with_parts().get(code=code)
    packs = write(row.to_core())["packs"]
    if any(entry["code"] == pack.code for entry in packs):
        raise DocumentError.at("code", f'"{pack.code}" is another pack\'s code; give a new one')
    try:
        change_material(code, {"packs": [*packs, document]}, bare_unit)
    except DocumentError as error:
        raise error.within(f"packs[{len(packs)}]") from error
    return Pack.objects.get(material__code=code, code=pack.code)


def set_active(code: str, active: bool) -> Material:
    row = Material.objects.get(code=code)
    save_if_changed(row, {"active": active})
    return row


def list_materials(kind: str = "", *, active_only: bool = False) -> list[Material]:
    rows = materials_with_parts().select_related("supplier")
    rows = rows.filter(kind=kind) if kind else rows
    return list(rows.filter(active=True) if active_only else rows)
