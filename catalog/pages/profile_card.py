"""The profile card of a trim: its section drawn, how it may be had, and its limits, each with its source."""

from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from catalog.core.ground.declared import entries_of
from catalog.core.ground.units import System, format_length
from catalog.core.materials import specs
from catalog.core.materials.facts import Fact
from catalog.core.materials.profiles import ProfileCard
from catalog.drawings.profile import material_profile_svg
from catalog.drawings.svg import DrawingInputError
from catalog.models.facts import SURENESS_LABELS
from catalog.pages.words import FORM_WORDS, POSITION_WORDS, figure_words

SAME_MM = 0.5
GRADE_WORDS = {"paint": "paint grade", "stain": "stain grade"}
# What a card shows of the figures beside it, in the order a maker's sheet has them.
FIGURES = (
    "thickness_mm", "width_mm", "least_radius_mm", "hard_least_radius_mm", "pre_curved_least_radius_mm",
    "flex_inside_mm", "flex_outside_mm", "add_per_piece_mm", "round_piece_to_mm", "least_piece_mm",
    "greatest_piece_mm", "splice_overlap_mm", "template_charge",
)  # fmt: skip


@dataclass(frozen=True)
class CardFigure:
    label: str
    value: str
    source: str
    unverified: bool


@dataclass(frozen=True)
class CardSheet:
    """A profile card as a page shows it. says: how the drawing came about, or why there is none."""

    drawing: SafeString | None
    scale: str
    says: str
    shape: str
    forms: tuple[str, ...]
    grades: tuple[str, ...]
    positions: tuple[str, ...]
    splice: str
    figures: tuple[CardFigure, ...]
    limits: tuple[tuple[str, ...], ...]
    limits_source: str


def card_sheet(material: specs.Material, system: System) -> CardSheet:
    card = material.profile or ProfileCard()
    drawing, scale, says = _drawing(material, card, system)
    sure = f", {SURENESS_LABELS[card.limits_sure].lower()}" if card.limits_sure else ""
    return CardSheet(
        drawing,
        scale,
        says,
        card.shape,
        tuple(FORM_WORDS[form] for form in card.forms),
        tuple(GRADE_WORDS[grade] for grade in card.grades),
        tuple(POSITION_WORDS.get(position, position) for position in card.positions),
        card.splice,
        tuple(_figure(material, name, system) for name in FIGURES),
        tuple(_row(row, system) for row in card.limits),
        f"{card.limits_source}{sure}" if card.limits else "",
    )


def _drawing(material: specs.Material, card: ProfileCard, system: System) -> tuple[SafeString | None, str, str]:
    try:
        picture = material_profile_svg(material, system=system)
    except DrawingInputError as error:
        return None, "", f"Not drawn: {error}."
    says = _disagreement(card, material.fact("thickness_mm"), material.fact("width_mm"), system)
    if not card.section:
        says = "Nobody has entered its section: this is the plain rectangle of its two sizes."
    return mark_safe(picture.svg), picture.scale, says


def _disagreement(card: ProfileCard, thickness: Fact | None, width: Fact | None, system: System) -> str:
    """Said where the section and the figures beside it cannot both be right."""
    drawn = (("thick", card.thickness_mm, thickness), ("high", card.width_mm, width))
    sentences = [
        f"{format_length(size_mm, system)} {what} where {format_length(fact.number, system)} is stated"
        for what, size_mm, fact in drawn
        if size_mm is not None and fact is not None and abs(size_mm - fact.number) > SAME_MM
    ]
    return f"Drawn {' and '.join(sentences)}: correct one of them." if sentences else ""


def _figure(material: specs.Material, name: str, system: System) -> CardFigure:
    known = specs.PROPERTIES[name]
    fact = material.trim_limit(name)
    if fact is None:
        return CardFigure(known.label, "", "", False)
    return CardFigure(known.label, figure_words(fact.value, known.unit, system), fact.source, fact.sure == "memory")


def _row(row: specs.WidthLimit, system: System) -> tuple[str, ...]:
    values = (getattr(row, entry.field) for entry in entries_of(specs.WidthLimit))
    return tuple("" if value is None else format_length(float(value), system) for value in values)
