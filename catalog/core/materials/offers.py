"""What other suppliers than the preferred one ask for a material, and how long it takes them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from catalog.core.materials.specs import Material, Offer


def sellers_of(material: Material) -> tuple[str, ...]:
    """Codes of all who sell a material, the preferred one first.

    >>> from decimal import Decimal
    >>> sellers_of(Material("GB", "Board", "board", "stocked", "sqft", "sheet", None, supplier="YARD"))
    ('YARD',)
    """
    preferred = (material.supplier,) if material.supplier else ()
    return (*preferred, *(offer.supplier for offer in material.offers))


def had_from(material: Material, supplier: str | None) -> Material:
    """The material as it is had from one of its suppliers; who was preferred stands among the others then.

    Args:
        material: of the catalog. supplier: code of who it is had from; None for the preferred one.

    Returns:
        With that supplier's lead terms and prices. Of one who offers nothing there are none, and each is a gap.

    Source: own rule.

    >>> from decimal import Decimal
    >>> board = Material("GB", "Board", "board", "stocked", "sqft", "sheet", None, supplier="YARD")
    >>> there = had_from(board, "MILL")
    >>> there.supplier, there.offers[0].supplier, had_from(there, "YARD").supplier
    ('MILL', 'YARD', 'YARD')
    """
    if supplier is None or supplier == material.supplier:
        return material
    offer = next((entry for entry in material.offers if entry.supplier == supplier), Offer(supplier))
    packs = tuple(replace(pack, prices=offer.prices.get(pack.code, ())) for pack in material.packs)
    others = tuple(entry for entry in material.offers if entry.supplier != supplier)
    before = (_as_offer(material, material.supplier),) if material.supplier else ()
    return replace(material, supplier=supplier, lead_terms=offer.lead_terms, packs=packs, offers=(*before, *others))


def _as_offer(material: Material, supplier: str) -> Offer:
    return Offer(supplier, material.lead_terms, {pack.code: pack.prices for pack in material.packs if pack.prices})


def offers_by(material: Material, day: date) -> Material:
    """The material without what other suppliers asked or said only after a day.

    material: of the catalog. day: the last that counts. Returns it with each offer as it stood then.

    >>> from decimal import Decimal
    >>> offers_by(Material("GB", "Board", "board", "stocked", "sqft", "sheet", None), date(2026, 5, 4)).offers
    ()
    """
    return replace(material, offers=tuple(_by(offer, day) for offer in material.offers))


def _by(offer: Offer, day: date) -> Offer:
    terms = tuple(term for term in offer.lead_terms if term.stated_on <= day)
    prices = {pack: tuple(price for price in prices if price.starts_on <= day) for pack, prices in offer.prices.items()}
    return replace(offer, lead_terms=terms, prices=prices)
