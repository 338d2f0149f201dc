"""A first catalog for a firm that has none: the starter's materials, without what only an invented firm could say."""

from dataclasses import replace

from django.db import transaction

from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.facts import Fact
from catalog.core.materials.specs import INVENTED_PRICE, Material, Pack
from catalog.models import Material as MaterialRow
from catalog.services.book import kit_of
from catalog.services.firm import store_kit
from catalog.services.materials import store_materials

INVENTED_FIGURE = "Starter figure, invented: enter your maker's"


@transaction.atomic
def start_catalog(starter: Catalog) -> int:
    """Add the starter's materials that are not known, and fill the roles of the kit that are empty.

    Prices and makers' figures come marked as invented; suppliers and lead times do not come. How many were added:
    a second call adds nothing.
    """
    known = set(MaterialRow.objects.values_list("code", flat=True))
    new = [_unsaid(material) for code, material in starter.materials.items() if code not in known]
    store_materials(new)
    store_kit({**starter.firm.kit, **kit_of()})
    return len(new)


def _unsaid(material: Material) -> Material:
    facts = {name: _figure(fact) for name, fact in material.facts.items()}
    return replace(material, supplier=None, lead_terms=(), packs=tuple(map(_pack, material.packs)), facts=facts)


def _pack(pack: Pack) -> Pack:
    return replace(pack, prices=tuple(replace(price, source=INVENTED_PRICE) for price in pack.prices))


def _figure(fact: Fact) -> Fact:
    invented = fact.source.startswith("Invented")
    return replace(fact, source=INVENTED_FIGURE, sure="memory") if invented else fact
