from collections.abc import Collection, Iterable
from dataclasses import replace
from typing import TypeVar

from django.db import transaction

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.materials import specs
from catalog.models import LeadTerm, Material, MaterialFact, Pack, Price, Supplier
from catalog.services.book import materials_with_parts
from catalog.services.row_sync import save_if_changed, sync_rows
from quoting.platform.models.bounds import MAX_MONEY
from quoting.platform.models.columns import quantized, quantized_or_none
from quoting.platform.models.core_values import column_values

M = TypeVar("M", bound=specs.Material)


@transaction.atomic
def store_materials(materials: Iterable[specs.Material], path: str = "materials") -> None:
    """Make each of these materials what it is said to be here, and leave every other alone."""
    materials = list(materials)
    _refuse_what_does_not_fit(materials, path)
    codes = [material.code for material in materials]
    present = materials_with_parts().select_for_update().in_bulk(codes, field_name="code")
    for material in materials:
        _store_material(material, present.get(material.code) or Material(code=material.code))


def _store_material(material: specs.Material, row: Material) -> None:
    profile = write(material.profile) if material.profile else None
    offers = [write(offer) for offer in material.offers]
    save_if_changed(row, column_values(material, Material, profile=profile, offers=offers))
    owner = {"material": row}
    pack_figures = [column_values(pack, Pack, order=number) for number, pack in enumerate(material.packs)]
    packs = sync_rows(row.packs.all(), pack_figures, key=("code",), owner=owner)
    for pack, spec in zip(packs, material.packs, strict=True):
        prices = (column_values(price, Price) for price in spec.prices)
        sync_rows(pack.prices.all(), prices, key=("starts_on",), owner={"pack": pack})
    facts = (column_values(fact, MaterialFact, name=name) for name, fact in material.facts.items())
    sync_rows(row.facts.all(), facts, key=("name",), owner=owner)
    sync_rows(row.lead_terms.all(), (column_values(term, LeadTerm) for term in material.lead_terms), owner=owner)


def _refuse_what_does_not_fit(materials: list[specs.Material], path: str) -> None:
    suppliers = set(Supplier.objects.values_list("code", flat=True))
    codes = [material.code for material in materials]
    complaints: list[DocumentProblem] = []
    for place, material in enumerate(materials):
        if material.code in codes[:place]:
            complaints.append(DocumentProblem(f"{path}[{place}].code", f'"{material.code}" is given twice'))
        complaints.extend(material_complaints(material, f"{path}[{place}].", suppliers))
    if complaints:
        raise DocumentError(complaints)


def material_complaints(material: specs.Material, at: str, suppliers: Collection[str]) -> Iterable[DocumentProblem]:
    """What the core lets pass and the catalog cannot keep."""
    if material.supplier is not None and material.supplier not in suppliers:
        reason = f'"{material.supplier}" is not the code of a supplier; add the supplier first'
        yield DocumentProblem(f"{at}supplier", reason)
    for number, offer in enumerate(material.offers):
        if offer.supplier not in suppliers:
            reason = f'"{offer.supplier}" is not the code of a supplier; add the supplier first'
            yield DocumentProblem(f"{at}offers[{number}].supplier", reason)
        if any(price.amount > MAX_MONEY for prices in offer.prices.values() for price in prices):
            yield DocumentProblem(f"{at}offers[{number}].prices", f"a price is at most {MAX_MONEY:,}")
    for number, pack in enumerate(material.packs):
        yield from pack_complaints(pack, f"{at}packs[{number}]")


def as_kept(material: M) -> M:
    """With its figures rounded as the catalog keeps them."""
    packs = tuple(
        replace(
            pack,
            quantity=quantized(pack.quantity),
            length_mm=None if pack.length_mm is None else float(quantized(pack.length_mm)),
            width_mm=None if pack.width_mm is None else float(quantized(pack.width_mm)),
        )
        for pack in material.packs
    )
    facts = {name: replace(fact, value=quantized(fact.value)) for name, fact in material.facts.items()}
    return replace(material, waste=quantized_or_none(material.waste), packs=packs, facts=facts)


def pack_complaints(pack: specs.Pack, at: str) -> Iterable[DocumentProblem]:
    for name, length_mm in (("length", pack.length_mm), ("width", pack.width_mm)):
        if length_mm is not None and quantized(length_mm) <= 0:
            yield DocumentProblem(f"{at}.{name}", "must be more than zero; leave it out for a pack without one")
    days = [price.starts_on for price in pack.prices]
    for number, price in enumerate(pack.prices):
        if price.amount > MAX_MONEY:
            reason = f"{price.amount:,} is too large; a price is at most {MAX_MONEY:,}"
            yield DocumentProblem(f"{at}.prices[{number}].amount", reason)
        if price.starts_on in days[:number]:
            reason = f"two prices start on {day_words(price.starts_on)}; give each its own day"
            yield DocumentProblem(f"{at}.prices[{number}].starts_on", reason)
