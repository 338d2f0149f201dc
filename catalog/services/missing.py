"""What nobody has stated of a material yet. Each of these becomes a gap in the job that needs it."""

from collections.abc import Iterator
from datetime import date

from catalog.core.leads.lead_times import term_in_force
from catalog.core.materials.specs import PROPERTIES, Material

# What the takeoff asks of every material of a kind; further figures are asked only in some uses.
ALWAYS_ASKED = {
    "track": ("least_radius_mm",),
    "stud": ("depth_mm", "steel_mil"),
    "board": ("thickness_mm", "lengthwise_dry_least_radius_mm"),
    "compound": ("gal_per_1000sqft",),
    "primer": ("sqft_per_gal",),
    "paint": ("sqft_per_gal",),
    "trim": ("width_mm", "thickness_mm", "least_radius_mm"),
}


def missing_of(material: Material, today: date) -> tuple[str, ...]:
    """Short words for each thing missing on that day, none when nothing is."""
    return tuple(_missing(material, today))


def _missing(material: Material, today: date) -> Iterator[str]:
    if not material.packs:
        yield "what it is bought in"
    for pack in material.packs:
        if pack.price_on(today) is None:
            yield f"a price in force for {pack.label}"
    if material.waste is None:
        yield "waste"
    if material.supplier is None:
        yield "a supplier"
    if term_in_force(material.lead_terms, today) is None:
        yield "a lead time in force"
    for name in ALWAYS_ASKED.get(material.kind, ()):
        if name not in material.facts:
            yield _in_a_sentence(PROPERTIES[name].label)


def _in_a_sentence(label: str) -> str:
    return f"{label[0].lower()}{label[1:]}"
