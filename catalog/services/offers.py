"""What other suppliers than the preferred one ask for a material."""

from typing import Any

from django.db import transaction

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError
from catalog.core.materials.offers import had_from, sellers_of
from catalog.models import Material
from catalog.services.book import materials_with_parts
from catalog.services.entries import change_material
from catalog.services.materials import store_materials

PRICE = ("pack", "amount", "starts_on")
TERM = ("production", "transit_workdays")


@transaction.atomic
def add_offer(code: str, entered: dict[str, Any]) -> None:
    """A price of a pack, a lead term, or both. Raises DocumentError naming the entry."""
    Material.objects.select_for_update().get(code=code)
    document = write(materials_with_parts().get(code=code).to_core())
    offers: list[dict[str, Any]] = document.get("offers", [])
    supplier, source = entered.get("supplier", ""), entered.get("source", "")
    offer = next((entry for entry in offers if entry["supplier"] == supplier), None)
    if offer is None:
        offer = {"supplier": supplier, "lead_terms": [], "prices": []}
        offers = [*offers, offer]
    price, term = ({name: entered[name] for name in names if name in entered} for names in (PRICE, TERM))
    if "amount" not in price and not term:
        raise DocumentError.at("amount", "enter a price, a lead time, or both")
    if "amount" in price:
        stored = [
            entry
            for entry in offer["prices"]
            if (entry["pack"], entry["starts_on"]) != (price["pack"], price.get("starts_on"))
        ]
        offer["prices"] = [*stored, price | {"source": source}]
    if term:
        offer["lead_terms"] = [*offer["lead_terms"], term | {"source": source, "stated_on": entered.get("starts_on")}]
    change_material(code, {"offers": offers})


@transaction.atomic
def prefer(code: str, supplier: str) -> None:
    """The supplier is the preferred one from now on; who was is one of the others. Raises DocumentError."""
    Material.objects.select_for_update().get(code=code)
    material = materials_with_parts().get(code=code).to_core()
    if supplier not in sellers_of(material):
        raise DocumentError.at("supplier", "they offer no price and no lead time yet; enter these first")
    store_materials([had_from(material, supplier)], "")
