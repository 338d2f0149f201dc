"""The profile card of a trim: its section drawn, how it may be had, and its limits by width, with their source."""

from typing import Any

from django.utils.safestring import mark_safe

from catalog.core.ground.declared import entries_of
from catalog.core.ground.units import System, format_length
from catalog.core.materials import specs
from catalog.core.materials.profiles import ProfileCard
from catalog.drawings.profile import material_profile_svg
from catalog.drawings.svg import DrawingInputError
from catalog.models.facts import SURENESS_LABELS
from catalog.pages.words import FORM_WORDS, POSITION_WORDS

SAME_MM = 0.5
GRADE_WORDS = {"paint": "paint grade", "stain": "stain grade"}


def card_sheet(material: specs.Material, system: System) -> dict[str, Any]:
    """As the page shows it. says: how the drawing came about, or why there is none."""
    card = material.profile or ProfileCard()
    sure = f", {SURENESS_LABELS[card.limits_sure].lower()}" if card.limits_sure else ""
    lines = {
        "Shape": card.shape,
        "Available as": ", ".join(FORM_WORDS[form] for form in card.forms),
        "Grades": ", ".join(GRADE_WORDS[grade] for grade in card.grades),
        "Used as": ", ".join(POSITION_WORDS.get(position, position) for position in card.positions),
        "Splices": card.splice,
    }
    limits = {"limits": [_row(row, system) for row in card.limits], "limits_source": f"{card.limits_source}{sure}"}
    return {"lines": lines.items(), **limits, **_drawing(material, card, system)}


def _drawing(material: specs.Material, card: ProfileCard, system: System) -> dict[str, str]:
    try:
        picture = material_profile_svg(material, system=system)
    except DrawingInputError as error:
        return {"says": f"Not drawn: {error}."}
    says = _disagreement(material, card, system)
    if not card.section:
        says = "Nobody has entered its section: this is the plain rectangle of its two sizes."
    return {"drawing": mark_safe(picture.svg), "scale": picture.scale, "says": says}


def _disagreement(material: specs.Material, card: ProfileCard, system: System) -> str:
    """Said where the section and the figures beside it cannot both be right."""
    drawn = (
        ("thick", card.thickness_mm, material.fact("thickness_mm")),
        ("high", card.width_mm, material.fact("width_mm")),
    )
    sentences = [
        f"{format_length(size_mm, system)} {what} where {format_length(fact.number, system)} is stated"
        for what, size_mm, fact in drawn
        if size_mm is not None and fact is not None and abs(size_mm - fact.number) > SAME_MM
    ]
    return f"Drawn {' and '.join(sentences)}: correct one of them." if sentences else ""


def _row(row: specs.WidthLimit, system: System) -> list[str]:
    values = (getattr(row, entry.field) for entry in entries_of(specs.WidthLimit))
    return ["" if value is None else format_length(float(value), system) for value in values]
