"""How a profile may be had for each piece of a wall, and the cheapest way that is allowed.

Profiles of one shape can replace each other. Each is held against its own limits, in each form its card offers;
from the least asked of a maker to the most: stock, bendable, curved by the maker, to a template.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from catalog.core.ground.day_words import day_words
from catalog.core.ground.money import to_cents
from catalog.core.ground.units import TOLERANCE_MM, System, UnitError, convert, format_measure
from catalog.core.materials.profiles import FORMS
from catalog.core.materials.specs import Material
from jobs.core.measure.findings import Finding
from jobs.core.measure.wall_spec import TrimForm, WallSpec
from jobs.core.trim.trim import TrimPlan
from jobs.core.trim.trim_bend import LIMIT_WORDS, TrimArc, card_findings, limit_of
from jobs.core.trim.trim_pieces import cut_to_pieces

ANSWER_WORDS: Mapping[TrimForm, str] = {
    "stock": "stock bends as it comes",
    "bendable": "bendable profile",
    "pre_curved": "curved by the maker",
    "template": "to a template",
}


@dataclass(frozen=True)
class PieceAnswer:
    """What one piece of the wall asks of a profile.

    piece_index: from 0. form: the least asked of a maker that is allowed there, None while none is. material: the code
    of the profile it is allowed for. reason: why that and nothing less, in words.
    """

    piece_index: int
    form: TrimForm | None
    material: str
    reason: str

    @property
    def verdict(self) -> str:
        return ANSWER_WORDS[self.form] if self.form else "no way that is known to be allowed"


@dataclass(frozen=True)
class TrimWay:
    """One way to have a whole run. why_not: sentences that stand against it, none when it is allowed.

    cost: money for the pieces as ordered, and the template; None while a price is missing, and why_no_cost says which.
    """

    material: str
    name: str
    form: TrimForm
    why_not: tuple[str, ...]
    cost: Decimal | None
    why_no_cost: str = ""
    is_chosen: bool = False

    @property
    def is_allowed(self) -> bool:
        return not self.why_not


@dataclass(frozen=True)
class TrimChoice:
    """All ways to have a run, and what each piece of the wall asks. ways: from the least asked of a maker."""

    key: str
    pieces: tuple[PieceAnswer, ...]
    ways: tuple[TrimWay, ...]

    @property
    def chosen(self) -> TrimWay | None:
        return next((way for way in self.ways if way.is_chosen), None)

    @property
    def cheapest(self) -> TrimWay | None:
        """The allowed way that costs least; None while no allowed way has a price."""
        priced = [way for way in self.ways if way.is_allowed and way.cost is not None]
        return min(priced, key=lambda way: (way.cost, FORMS.index(way.form), way.material)) if priced else None

    @property
    def difference(self) -> Decimal | None:
        """What the cheapest allowed way costs more (positive) or less than the one chosen; None without both prices."""
        cheapest, chosen = self.cheapest, self.chosen
        if cheapest is None or chosen is None or cheapest.cost is None or chosen.cost is None:
            return None
        return cheapest.cost - chosen.cost


def choices_of(
    plan: TrimPlan, wall: WallSpec, materials: Mapping[str, Material], on_day: date, system: System = "imperial"
) -> TrimChoice:
    """Hold every profile that may stand in for a run's own against each piece, and price each way.

    Args:
        plan: the run worked out. wall: it is on. materials: the catalog by code. on_day: whose prices hold. system:
            the units of the sentences.

    Returns:
        The answer of each piece in walking order and the ways. A way is priced by the lengths its pieces are ordered
        in at the lowest price for a length, before waste, packs and what other walls share; a template is charged once.

    Raises:
        nothing of its own.

    Source: own rule; limits and length rules are the makers'.

    >>> from jobs.core.trim.trim import example, plan_trims
    >>> curve, wall, materials = example()
    >>> choice = choices_of(plan_trims(curve, wall, materials)[0], wall, materials, date(2027, 1, 4))
    >>> choice.pieces[0].verdict, choice.ways[0].why_no_cost
    ('bendable profile', 'Bendable base has no price on Mon 4 Jan 2027')
    """
    offered = _offered(plan, materials)
    ways = tuple(_way(plan, wall, material, form, on_day, system) for material, form in offered)
    return TrimChoice(plan.key, tuple(_answer(plan, arc, offered, system) for arc in plan.arcs), ways)


def _offered(plan: TrimPlan, materials: Mapping[str, Material]) -> list[tuple[Material, TrimForm]]:
    own = materials.get(plan.run.material)
    if own is None:
        return []
    shape = own.profile.shape.strip().casefold() if own.profile else ""
    alike = [
        material
        for material in materials.values()
        if material.code != own.code and material.kind == "trim" and shape and material.profile
        if material.profile.shape.strip().casefold() == shape
    ]
    profiles = {(own.code, plan.run.form): own}
    for profile in (own, *alike):
        profiles |= {(profile.code, form): profile for form in (profile.profile.forms if profile.profile else ())}
    ranked = sorted(profiles, key=lambda way: (FORMS.index(way[1]), way[0] != own.code, way[0]))
    return [(profiles[way], way[1]) for way in ranked]


def _answer(plan: TrimPlan, arc: TrimArc, offered: list[tuple[Material, TrimForm]], system: System) -> PieceAnswer:
    if arc.side == "straight":
        first = offered[0] if offered else None
        sentence = "the piece is straight"
        return PieceAnswer(arc.piece_index, first[1] if first else None, first[0].code if first else "", sentence)
    if arc.side == "template":
        to_template = next(((profile, form) for profile, form in offered if form == "template"), None)
        sentence = "the wall is built to a template there: only a profile made to it follows for certain"
        if to_template is None:
            return PieceAnswer(arc.piece_index, None, "", sentence)
        return PieceAnswer(arc.piece_index, "template", to_template[0].code, sentence)
    against: list[str] = []
    for material, form in offered:
        limit = limit_of(material, form, arc.way)
        if limit is not None and arc.radius_mm >= limit.number - TOLERANCE_MM:
            sentence = (
                f"{format_measure(arc.radius_mm, system)} meets the least radius of "
                f"{format_measure(limit.number, system)} of {material.name}"
            )
            return PieceAnswer(arc.piece_index, form, material.code, "; ".join([sentence, *against]))
        against.append(_why_not(material, form, arc, system))
    return PieceAnswer(arc.piece_index, None, "", "; ".join(against) or "the profile is not in the catalog")


def _why_not(material: Material, form: TrimForm, arc: TrimArc, system: System) -> str:
    if arc.side == "template":
        return f"piece {arc.piece_index + 1} is built to a template, and no bend can be checked on it"
    limit = limit_of(material, form, arc.way)
    as_form = f"{material.name} as {form.replace('_', '-')}"
    if limit is None:
        return f"{as_form} states no {LIMIT_WORDS[arc.way if form in ('stock', 'bendable') else 'easy']}"
    return (
        f"{as_form} ends at {format_measure(limit.number, system)}, and piece {arc.piece_index + 1} is "
        f"{format_measure(arc.radius_mm, system)}"
    )


def _way(plan: TrimPlan, wall: WallSpec, material: Material, form: TrimForm, on_day: date, system: System) -> TrimWay:
    run = replace(plan.run, material=material.code, form=form)
    against = [_why_not(material, form, arc, system) for arc in plan.arcs if not _follows(material, form, arc)]
    findings: list[Finding] = card_findings(run, plan.key, material)
    pieces, _ = cut_to_pieces(wall, run, plan.key, plan.spans, material, findings, system)
    against += [finding.sentence.rstrip(".") for finding in findings if finding.weight in ("gap", "decide")]
    cost, missing = _cost(material, form, sum(piece.ordered_mm for piece in pieces), on_day)
    is_chosen = (material.code, form) == (plan.run.material, plan.run.form)
    if not pieces:
        cost, missing = None, missing or f"the pieces of {material.name} are not known"
    return TrimWay(material.code, material.name, form, tuple(against), cost, missing, is_chosen)


def _follows(material: Material, form: TrimForm, arc: TrimArc) -> bool:
    if arc.side == "straight":
        return True
    if arc.side == "template":
        return form == "template"
    limit = limit_of(material, form, arc.way)
    return limit is not None and arc.radius_mm >= limit.number - TOLERANCE_MM


def _cost(material: Material, form: TrimForm, ordered_mm: float, on_day: date) -> tuple[Decimal | None, str]:
    rates = [price.amount / pack.quantity for pack in material.packs if (price := pack.price_on(on_day)) is not None]
    if not rates:
        return None, f"{material.name} has no price on {day_words(on_day)}"
    charge = material.fact("template_charge")
    if form == "template" and charge is None:
        return None, f"{material.name} states no charge for a template; enter one (0 is an answer too)"
    try:
        quantity = convert(Decimal(repr(ordered_mm)), "mm", material.unit_used)
    except UnitError:
        return None, f"{material.name} is not counted by length"
    extra = charge.value if form == "template" and charge is not None else Decimal(0)
    return to_cents(quantity * min(rates) + extra), ""
