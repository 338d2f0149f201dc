"""How a profile follows each piece of a wall: the radius at its back against the limit the catalog states.

The back of the piece lies on the finished face, so radii are those of the finished face and never of the framing.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from catalog.core.ground.units import TOLERANCE_MM, System, format_both, format_measure
from catalog.core.materials.specs import Fact, Material
from jobs.core.measure.bending import Bend, Judgement, Verdict, compared, settled, unchecked
from jobs.core.measure.curve import Curve, CurvePiece, Face
from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import Line
from jobs.core.measure.wall_spec import ON_TOP, BendWay, TrimForm, TrimRun, WallSpec

Side = Literal["concave", "convex", "straight", "template"]
STRIP_SOURCE = "Bending of a strip, strain t/(2R); E/MOR about 100 for MDF grades, ANSI A208.2. Advice only"


@dataclass(frozen=True)
class StripAdvice:
    """What bending theory says of a rigid strip: strain as a share; radii in mm. Advice, never a limit."""

    strain: float
    breaks_near_mm: float
    easy_from_mm: float
    sentence: str


@dataclass(frozen=True, kw_only=True)
class TrimArc(Bend):
    """The profile on one piece of the wall; its key "wall/trim-n/piece-n/bend".

    side: which way the back of the piece is bent. Its radius is that of the finished face, at the back of the piece, of
    a cap its inner edge. sweep_rad: 0 on a straight and to a template. advice: for plain stock of known thickness. way:
    "easy" flat against the wall or "hard" on edge. flex_inside_mm, flex_outside_mm: how much tighter and easier a piece
    made to the radius may be flexed, mm, None where nobody has said, or the piece may not be made.
    """

    side: Side
    sweep_rad: float = 0.0
    advice: StripAdvice | None = None
    way: BendWay = "easy"
    flex_inside_mm: float | None = None
    flex_outside_mm: float | None = None


WAY_WORDS: dict[BendWay, str] = {"easy": "flat against the wall", "hard": "on edge, the hard way"}
LIMIT_NAMES: dict[BendWay, str] = {"easy": "least_radius_mm", "hard": "hard_least_radius_mm"}
LIMIT_WORDS: dict[BendWay, str] = {"easy": "least radius", "hard": "least radius on edge"}


def limit_of(material: Material, form: TrimForm, way: BendWay) -> Fact | None:
    """The least radius that counts for a profile had in one form and bent one way; None when nobody has stated it.

    Args:
        material: the profile. form: how it is had. way: how it is bent, which matters only where it is bent on site.

    Returns:
        For stock and bendable profiles the limit of that way. For what the maker curves the limit of that, or without
        one the profile's own least radius: what bends so far by hand can be made so.

    Raises:
        nothing.

    Source: own rule; the figures are the maker's.

    >>> from decimal import Decimal
    >>> own = Fact(Decimal("900"), "Its maker's sheet", "maker")
    >>> base = Material("B", "Base", "trim", "stocked", "ft", "stick", None, facts={"least_radius_mm": own})
    >>> limit_of(base, "stock", "easy").number, limit_of(base, "stock", "hard") is None
    (900.0, True)
    """
    if form in ("stock", "bendable"):
        return material.trim_limit(LIMIT_NAMES[way])
    return material.fact("pre_curved_least_radius_mm") or material.trim_limit("least_radius_mm")


def strip_advice(thickness_mm: float, radius_mm: float, system: System = "imperial") -> StripAdvice:
    """What to expect of a rigid strip bent to a radius.

    Args:
        thickness_mm: measured along the radius, mm, > 0.
        radius_mm: of the bend, mm, > 0.
        system: the units of the sentence.

    Returns:
        The strain t/(2R), the radius near which MDF breaks (50 t) and the one with a safety of 2.5 (125 t).

    Raises:
        ValueError: a figure not more than zero.

    Source: bending of a strip; E/MOR about 100 from the grades of ANSI A208.2. Advice only: the catalog's own
    limit for the profile wins.

    >>> strip_advice(12.7, 3368.04).easy_from_mm
    1587.5
    """
    if not (thickness_mm > 0 and radius_mm > 0):
        raise ValueError(
            "a strip needs a thickness and a radius over zero, "
            f"not {format_both(thickness_mm)} and {format_both(radius_mm)}"
        )
    strain = thickness_mm / (2 * radius_mm)
    breaks_mm, easy_mm = 50 * thickness_mm, 125 * thickness_mm
    if radius_mm >= easy_mm - TOLERANCE_MM:
        verdict = "should follow it with a safety of 2.5 or more"
    elif radius_mm > breaks_mm + TOLERANCE_MM:
        verdict = "may follow it, with less than the safety of 2.5"
    else:
        verdict = "would be expected to break"
    thick, bend, breaks, easy = (
        format_measure(figure, system) for figure in (thickness_mm, radius_mm, breaks_mm, easy_mm)
    )
    sentence = f"Advice only: an MDF strip {thick} thick on {bend} {verdict} (breaks near {breaks}, easy from {easy})."
    return StripAdvice(strain, breaks_mm, easy_mm, sentence)


def bend_of(
    curve: Curve,
    wall: WallSpec,
    run: TrimRun,
    plan_key: str,
    piece: CurvePiece,
    line: Line,
    material: Material | None,
    system: System,
) -> TrimArc:
    key = f"{plan_key}/piece-{piece.index + 1}/bend"
    side = "concave" if run.position == ON_TOP and piece.is_arc else _side(curve, piece, run.face)
    if side in ("straight", "template"):
        words = f"piece {piece.index + 1} is straight." if side == "straight" else unchecked(piece)
        verdict: Verdict = "flat" if side == "straight" else "template"
        unbent = Judgement(verdict, None, f"{run.name}: {words}", "", None)
        return TrimArc(**settled(unbent, (), key, piece, 0.0, system), side=side)
    radius_mm = piece.radius_at(curve.offset_mm(line))
    answer, advice = _judged(run, material, radius_mm, system), _advice(run, material, radius_mm, system)
    edge = f", bent {WAY_WORDS['hard']}" if run.form in ("stock", "bendable") and run.way == "hard" else ""
    sentence = f"{run.name}, piece {piece.index + 1}, {side}, {measured_at(run)}{edge}: {answer.sentence}"
    answer = replace(answer, sentence=f"{sentence} {advice.sentence}" if advice else sentence)
    bend = settled(answer, wall.overrides, key, piece, radius_mm, system)
    is_made = bend["verdict"] in ("passes", "overridden")
    if material is not None and is_made:
        bend["sentence"] += _flex_words(material, radius_mm, system)
    return TrimArc(
        **bend,
        side=side,
        sweep_rad=piece.sweep_rad,
        advice=advice,
        way=run.way,
        flex_inside_mm=_flex(material, "flex_inside_mm") if is_made else None,
        flex_outside_mm=_flex(material, "flex_outside_mm") if is_made else None,
    )


def _judged(run: TrimRun, material: Material | None, radius_mm: float, system: System) -> Judgement:
    limit = limit_of(material, run.form, run.way) if material else None
    if material is None:
        sentence = f"the profile {run.material} is not in the catalog; add it with its least radius."
        return Judgement("gap", None, sentence, "", None)
    if limit is None:
        way = run.way if run.form in ("stock", "bendable") else "easy"
        sentence = (
            f"{material.name} ({material.code}) states no {LIMIT_WORDS[way]}{_past_table(material, system)}: fill in "
            f"{LIMIT_NAMES[way]} before {format_measure(radius_mm, system)} can be judged."
        )
        return Judgement("gap", None, sentence, "", None)
    return compared("", radius_mm, limit, system, f" of {material.name}")


def bend_findings(arc: TrimArc) -> list[Finding]:
    if arc.verdict == "gap":
        return [Finding(arc.key, "gap", arc.sentence, arc.source)]
    if arc.verdict == "fails":
        ask = " Choose another profile or form, or a named person must override it with a reason."
        return [Finding(arc.key, "decide", arc.sentence + ask, arc.source, arc.radius_mm)]
    if arc.verdict == "overridden" or (arc.verdict == "passes" and arc.sure == "memory"):
        return [Finding(arc.key, "caution", arc.sentence, arc.source)]
    if arc.advice and arc.radius_mm < arc.advice.easy_from_mm - TOLERANCE_MM:
        return [Finding(f"{arc.key}/strip", "note", arc.advice.sentence, STRIP_SOURCE)]
    return []


def card_findings(run: TrimRun, key: str, material: Material | None) -> list[Finding]:
    """What asks for a decision because the profile card does not offer what the run asks for.

    run: the trim. key: of the run. material: the profile. Returns findings keyed under the run; none while the card
    does not say. Source: own rule.

    >>> from catalog.core.materials.profiles import ProfileCard
    >>> card = ProfileCard(forms=("stock",), grades=("paint",))
    >>> base = Material("B", "Base", "trim", "stocked", "ft", "stick", None, profile=card)
    >>> [one.key for one in card_findings(TrimRun("Base", "left", "base", "B", "template", "paint"), "w/trim-1", base)]
    ['w/trim-1/form']
    """
    card = material.profile if material else None
    if material is None or card is None:
        return []
    findings = []
    choices: list[tuple[str, str, tuple[str, ...]]] = [("form", run.form, card.forms)]
    choices += [("grade", run.grade, card.grades)] if run.grade else []
    for what, value, offered in choices:
        if offered and value not in offered:
            sentence = (
                f"{run.name} asks for the {what} {value.replace('_', '-')}, but the card of {material.name} offers "
                f"{', '.join(name.replace('_', '-') for name in offered)}: choose one of them, or another profile."
            )
            findings.append(Finding(f"{key}/{what}", "decide", sentence, "The profile card"))
    return findings


def measured_at(run: TrimRun) -> str:
    """Where the radii of a run are measured, in words.

    >>> measured_at(TrimRun("Base", "left", "base", "B"))
    'back of the piece on the left finished face'
    """
    if run.position == ON_TOP:
        return "inner edge, flat on top of the wall"
    return f"back of the piece on the {run.face} finished face"


def _side(curve: Curve, piece: CurvePiece, face: Face) -> Side:
    if piece.is_template:
        return "template"
    if not piece.is_arc:
        return "straight"
    return "concave" if (piece.turn > 0) == (face == "left") else "convex"


def _flex(material: Material | None, name: str) -> float | None:
    fact = material.trim_limit(name) if material else None
    return fact.number if fact else None


def _past_table(material: Material, system: System) -> str:
    """Said where the maker's table ends before the profile's width."""
    card, width = material.profile, material.fact("width_mm")
    if card is None or not card.limits:
        return ""
    if width is None:
        return ", and without its width its row of the table is not known"
    if card.row_for(width.value) is None:
        last = format_measure(float(card.limits[-1].to_width_mm), system)
        return f", and its table ends at {last}, short of its width of {format_measure(width.number, system)}"
    return ""


def _flex_words(material: Material, radius_mm: float, system: System) -> str:
    inside, outside = material.trim_limit("flex_inside_mm"), material.trim_limit("flex_outside_mm")
    sentences = []
    if inside is not None:
        to = format_measure(max(radius_mm - inside.number, 0.0), system)
        sentences.append(f"{format_measure(inside.number, system)} tighter (to {to})")
    if outside is not None:
        to = format_measure(radius_mm + outside.number, system)
        sentences.append(f"{format_measure(outside.number, system)} easier (to {to})")
    return f" A piece made to this radius may be flexed {' or '.join(sentences)}." if sentences else ""


def _advice(run: TrimRun, material: Material | None, radius_mm: float, system: System) -> StripAdvice | None:
    """Of plain stock: along the radius lies its thickness, or on edge its width."""
    along = material.fact("thickness_mm" if run.way == "easy" else "width_mm") if material else None
    return strip_advice(along.number, radius_mm, system) if along and run.form == "stock" else None
