"""May each layer of board, and the track, be bent to the radius it is given?

A limit is a figure of the material with its source. Where the catalog states none the answer is a gap,
never a pass. A failed check stays failed: an override by a named person stands beside it.

The radius compared: the line the layer is bent against, which is the framing face or the layer before it; on a
concave side the layer's room surface is the tighter of its two, and that one counts. The published table does not say
which line it means: this cautious reading is our own convention, and a bend that fails says so.
Each layer is judged by itself: the thickest single layer governs, not the sum of the layers.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from catalog.core.ground.day_words import with_day_words
from catalog.core.ground.units import TOLERANCE_MM, System, format_measure
from catalog.core.materials.specs import Fact, Material, Sureness
from jobs.core.measure.brought_in import words_of
from jobs.core.measure.curve import FACES, Curve, CurvePiece, Face, curve_of
from jobs.core.measure.findings import Finding, Override
from jobs.core.measure.survey import ArcPiece, HeightProfile, RadiusAngle, Survey, TemplatePiece
from jobs.core.measure.wall_spec import Direction, FaceBuild, Layer, Moisture, WallSpec

Verdict = Literal["passes", "fails", "overridden", "gap", "flat", "not_permitted", "template"]
THIN_LAYER_MM = 6.35
THIN_LAYER_SOURCE = "Common practice: two 1/4 in layers on a curve, never one alone"
DECIDED_TO_MM = 0.5
"""A radius this much tighter than the one decided for is still that one: far below any tape. Our own convention."""
TIGHTER_SURFACE = "compared on the tighter surface of the layer: our own convention"


@dataclass(frozen=True)
class Judgement:
    """The answer for one board at one radius.

    verdict: "passes", "fails", "gap" or "not_permitted". least_radius_mm: the limit compared with, or None.
    sentence: the answer in words. source, sure: of the limit; empty and None when there is none.
    """

    verdict: Verdict
    least_radius_mm: float | None
    sentence: str
    source: str
    sure: Sureness | None


@dataclass(frozen=True, kw_only=True)
class Bend(Judgement):
    """Something bent to one piece of the wall, judged.

    key: ends in "/piece-n/bend"; an override names it. piece_index: from 0. radius_mm: the radius compared, 0 on a
    straight piece or where it cannot be known. override: the decision that stands beside it, None when there is none
    or it was taken for an easier radius; the sentence then says so.
    """

    key: str
    piece_index: int
    radius_mm: float
    override: Override | None = None


@dataclass(frozen=True, kw_only=True)
class BendCheck(Bend):
    """One layer of one face, by its number from 1 against the framing; its key "wall/face/layer-n/piece-n/bend"."""

    face: Face
    layer_number: int
    board: str
    direction: Direction
    moisture: Moisture


@dataclass(frozen=True, kw_only=True)
class TrackCheck(Bend):
    """The track on one arc, at the concave framing radius; its key "wall/track/piece-n/bend"."""

    track: str


@dataclass(frozen=True)
class SpacingLimit:
    """The greatest stud spacing a board asks for on one arc because it stands at, or near, its least radius.

    piece_index: from 0. board: its code. spacing_mm: > 0, or None when the board does not state it (a gap).
    sentence, source, sure: as in BendCheck. kept: the arc is easier than the least radius, and the firm keeps the
    spacing all the same.
    """

    piece_index: int
    board: str
    spacing_mm: float | None
    sentence: str
    source: str
    sure: Sureness | None
    kept: bool = False


def limit_of_board(board: Material, direction: Direction, moisture: Moisture) -> Fact | None:
    """The least radius a board is stated to take; None when none is, or it may not be bent so.

    >>> limit_of_board(Material("B", "Board", "board", "stocked", "sqft", "sheet", None), "lengthwise", "dry") is None
    True
    """
    permitted = board.fact("widthwise_dry_permitted")
    if direction == "widthwise" and moisture == "dry" and permitted is not None and permitted.number == 0:
        return None
    return board.fact(f"{direction}_{moisture}_least_radius_mm")


def judge(
    board: Material, direction: Direction, moisture: Moisture, radius_mm: float, system: System = "imperial"
) -> Judgement:
    """Compare one radius with the board's own limit.

    Args:
        board: the material; its facts `<direction>_<moisture>_least_radius_mm` and, for dry widthwise
            bending, `widthwise_dry_permitted` are read.
        direction: "lengthwise" or "widthwise".
        moisture: "dry" or "damp".
        radius_mm: the radius to compare, mm, > 0. Equal to the limit passes (tolerance 1e-6 mm).
        system: the units of the sentence.

    Returns:
        The judgement; a limit that is recalled and not read says "unverified" and still counts.

    Raises:
        ValueError: the radius is not more than zero.

    Source: the limits are Gypsum Association GA-226-08, Table 1, or the maker's, as each fact states.

    >>> from decimal import Decimal
    >>> fact = Fact(Decimal("3048"), "Gypsum Association GA-226-08, Table 1", "published")
    >>> half = Material("GB12", "1/2 in board", "board", "stocked", "sqft", "sheet", None,
    ...     facts={"lengthwise_dry_least_radius_mm": fact})
    >>> [judge(half, "lengthwise", "dry", radius_in * 25.4).verdict for radius_in in (111, 120)]
    ['fails', 'passes']
    """
    if not radius_mm > 0:
        raise ValueError(f"a radius must be more than zero, not {radius_mm:g} mm")
    way = f"{direction}, {moisture}"
    permitted = board.fact("widthwise_dry_permitted")
    if direction == "widthwise" and moisture == "dry" and permitted is not None and permitted.number == 0:
        sentence = f"{board.name} may not be bent {way}."
        return Judgement("not_permitted", None, sentence, permitted.source, permitted.sure)
    limit = limit_of_board(board, direction, moisture)
    if limit is None:
        name = f"{direction}_{moisture}_least_radius_mm"
        sentence = (
            f"{board.name} ({board.code}) states no least radius bent {way}: "
            f"fill in {name} in the catalog before it can be judged at {format_measure(radius_mm, system)}."
        )
        return Judgement("gap", None, sentence, "", None)
    return compared(f"{board.name} bent {way}: ", radius_mm, limit, system)


def check_layers(
    curve: Curve, wall: WallSpec, materials: Mapping[str, Material], system: System = "imperial"
) -> tuple[BendCheck, ...]:
    """Check every layer of both faces on every piece of the wall.

    Args:
        curve: the wall in plan.
        wall: the layers of each face and the overrides.
        materials: the catalog by code.
        system: the units of the sentences.

    Returns:
        Checks in the order left then right face, layers from the framing outwards, pieces as walked.
        Straight pieces are "flat". A layer whose place is unknown because a thickness is missing is a gap.

    Raises:
        nothing of its own.

    Source: Gypsum Association GA-226-08, Table 1 and its note on two 1/4 in layers; the line compared is our
    convention (see the head of this module).

    >>> curve, wall = _example()
    >>> [c.verdict for c in check_layers(curve, wall, {})]
    ['gap']
    """
    checks: list[BendCheck] = []
    for face in FACES:
        built_mm: float | None = 0.0
        for number, layer in enumerate(wall.face(face).layers, start=1):
            board = materials.get(layer.board)
            thickness = board.fact("thickness_mm") if board else None
            for piece in curve.pieces:
                checks.append(_check(curve, wall, board, face, number, layer, piece, built_mm, thickness, system))
            built_mm = built_mm + thickness.number if built_mm is not None and thickness else None
    return tuple(checks)


def check_track(
    curve: Curve, wall: WallSpec, materials: Mapping[str, Material], system: System = "imperial"
) -> tuple[TrackCheck, ...]:
    """Check the track on every arc against the radius of the concave framing face, its tighter edge.

    Args:
        curve: the wall in plan.
        wall: names the track and holds the overrides.
        materials: the catalog by code.
        system: the units of the sentences.

    Returns:
        One check an arc, as walked; none for straight pieces.

    Raises:
        nothing of its own.

    Source: the track's own stated least radius; that the tighter edge counts is our convention.

    >>> curve, wall = _example()
    >>> check_track(curve, wall, {})[0].radius_mm
    2954.0
    """
    arcs = (piece for piece in curve.pieces if piece.is_arc)
    return tuple(_check_track(curve, wall, materials, piece, system) for piece in arcs)


def spacing_limits(
    curve: Curve,
    wall: WallSpec,
    materials: Mapping[str, Material],
    system: System = "imperial",
    kept_share: Fact | None = None,
) -> tuple[SpacingLimit, ...]:
    """The stud spacing that boards ask for where they are bent to their least radius, or near it.

    Applies where the radius compared is at or under the board's limit, an exact fit or an override, and up to
    `kept_share` above it. Looser than that the firm's step table alone speaks.

    Args:
        curve: the wall in plan.
        wall: the layers of each face.
        materials: the catalog by code.
        system: the units of the sentences.
        kept_share: 0.25 for a quarter above the limit, >= 0; None for nothing above it.

    Returns:
        For each arc and board concerned one limit, the spacing None where the board does not state it.

    Raises:
        nothing of its own.

    Source: Gypsum Association GA-226-08: at the least radius, framing at most 6 in on centre; that it is kept above
    it is practice, as the share states.

    >>> curve, wall = _example()
    >>> spacing_limits(curve, wall, {})
    ()
    """
    limits: dict[tuple[int, str], SpacingLimit] = {}
    # The tightest layer of a board speaks for it.
    for check in sorted(check_layers(curve, wall, materials, system), key=lambda entry: entry.radius_mm):
        least_mm = check.least_radius_mm
        if least_mm is None:
            continue
        stored = check.radius_mm > least_mm + TOLERANCE_MM
        if stored and (kept_share is None or check.radius_mm > least_mm * (1 + kept_share.number) + TOLERANCE_MM):
            continue
        board = materials[check.board]
        limit = _spacing_limit(board, check, system, kept_share if stored else None)
        limits.setdefault((check.piece_index, board.code), limit)
    return tuple(limits[key] for key in sorted(limits))


def practice_notes(
    curve: Curve, wall: WallSpec, materials: Mapping[str, Material], system: System = "imperial"
) -> tuple[Finding, ...]:
    """Warn where an arc is covered by a single thin layer.

    Args:
        curve: the wall in plan.
        wall: the layers of each face.
        materials: the catalog by code.
        system: the units of the sentences.

    Returns:
        One caution a face that has an arc under one layer of 1/4 in or less.

    Raises:
        nothing of its own.

    Source: common practice: two 1/4 in layers on a curve, never one alone. Practice gives no radius from
    which a curve counts, so every arc does.

    >>> curve, wall = _example()
    >>> practice_notes(curve, wall, {})
    ()
    """
    notes = []
    arcs = [piece for piece in curve.pieces if piece.is_arc]
    for face in FACES:
        layers = wall.face(face).layers
        board = materials.get(layers[0].board) if len(layers) == 1 else None
        thickness = board.fact("thickness_mm") if board else None
        if not (board and thickness and arcs) or thickness.number > THIN_LAYER_MM + TOLERANCE_MM:
            continue
        tightest = min(piece.radius_at(_side_offset(curve, face, 0.0)) for piece in arcs)
        notes.append(
            Finding(
                f"{wall.key}/{face}/one-thin-layer",
                "caution",
                f"The {face} face has one layer of {board.name} on an arc of {format_measure(tightest, system)}: "
                "a single thin layer shows every stud; use two.",
                THIN_LAYER_SOURCE,
            )
        )
    return tuple(notes)


def findings(checks: Iterable[Bend]) -> tuple[Finding, ...]:
    """What somebody must read of the checks.

    Args:
        checks: of layers and track.

    Returns:
        A gap for each missing limit; a decision for each failed or not permitted bend; a caution for each
        override and for each pass that rests on an unverified limit; nothing for the rest.

    Raises:
        nothing of its own.

    Source: own rule.

    >>> findings(())
    ()
    """
    result = []
    for check in checks:
        if check.verdict == "gap":
            result.append(Finding(check.key, "gap", check.sentence, check.source))
        elif check.verdict in ("fails", "not_permitted"):
            ask = " Change the build, or a named person must override it with a reason."
            result.append(Finding(check.key, "decide", check.sentence + ask, check.source, check.radius_mm))
        elif check.verdict == "overridden":
            result.append(Finding(check.key, "caution", check.sentence, check.source, check.radius_mm))
        elif check.verdict == "passes" and check.sure == "memory":
            result.append(Finding(check.key, "caution", check.sentence, check.source))
    return tuple(result)


def _example() -> tuple[Curve, WallSpec]:
    # One arc of radius 3 m on the centreline, one layer of a board nobody has described on its concave face.
    pieces, heights = (ArcPiece(RadiusAngle(3000.0, 1.0), "left"),), HeightProfile(((0.0, 2400.0),))
    wall = WallSpec("w", "Wall", "centre", pieces, heights, "T", "S", FaceBuild((Layer("GB14"),)), FaceBuild(()))
    return curve_of(Survey(pieces, heights, "centre", 92.0, 6.35, 0.0)), wall


def _check(
    curve: Curve,
    wall: WallSpec,
    board: Material | None,
    face: Face,
    number: int,
    layer: Layer,
    piece: CurvePiece,
    built_mm: float | None,
    thickness: Fact | None,
    system: System,
) -> BendCheck:
    key = f"{wall.key}/{face}/layer-{number}/piece-{piece.index + 1}/bend"
    radius_mm = 0.0
    if piece.is_template:
        answer = Judgement("template", None, unchecked(piece), "", None)
    elif not piece.is_arc:
        answer = Judgement("flat", None, f"Piece {piece.index + 1} is straight: nothing is bent.", "", None)
    elif board is None:
        sentence = f"{layer.board} is not in the catalog; add it with its thickness and least radius."
        answer = Judgement("gap", None, sentence, "", None)
    elif built_mm is None or thickness is None:
        whose = "the layer under it" if built_mm is None else f"{board.name} ({board.code})"
        sentence = f"fill in thickness_mm of {whose}: without it the radius cannot be known."
        answer = Judgement("gap", None, sentence, "", None)
    else:
        against = piece.radius_at(_side_offset(curve, face, built_mm))
        surface = piece.radius_at(_side_offset(curve, face, built_mm + thickness.number))
        radius_mm = min(against, surface)
        answer = judge(board, layer.direction, layer.moisture, radius_mm, system)
    where = f"{face.capitalize()} face, layer {number}, piece {piece.index + 1}: "
    if answer.verdict not in ("flat", "template"):
        answer = replace(answer, sentence=where + answer.sentence)
    if answer.verdict == "fails":
        answer = replace(answer, source=f"{answer.source}; {TIGHTER_SURFACE}")
    bend = settled(answer, wall.overrides, key, piece, radius_mm, system)
    return BendCheck(
        **bend,
        face=face,
        layer_number=number,
        board=layer.board,
        direction=layer.direction,
        moisture=layer.moisture,
    )


def settled(
    answer: Judgement, overrides: Sequence[Override], key: str, piece: CurvePiece, radius_mm: float, system: System
) -> dict[str, Any]:
    """The fields of a bend judged so, with the decision about it in force.

    >>> piece = CurvePiece(0, 1, 900.0, 1.0, 900.0, 0.0, (0.0, 0.0), 0.0, 0.0)
    >>> settled(Judgement("gap", None, "No limit.", "", None), (), "w/bend", piece, 900.0, "metric")["verdict"]
    'gap'
    """
    # A gap cannot be decided away: with no limit there is nothing to stand beside.
    override, decision = None, ""
    if answer.verdict in ("fails", "not_permitted"):
        override, decision = decision_at(overrides, key, radius_mm, system)
    decided: dict[str, Any] = {"override": override, "sentence": answer.sentence + decision}
    decided |= {"verdict": "overridden"} if override else {}
    return vars(answer) | decided | {"key": key, "piece_index": piece.index, "radius_mm": radius_mm}


def _check_track(
    curve: Curve, wall: WallSpec, materials: Mapping[str, Material], piece: CurvePiece, system: System
) -> TrackCheck:
    key = f"{wall.key}/track/piece-{piece.index + 1}/bend"
    radius_mm = piece.radius_at(curve.offset_mm(curve.line_of(piece, "concave", "framing")))
    track = materials.get(wall.track)
    limit = track.fact("least_radius_mm") if track else None
    if track is None:
        sentence = f"The track {wall.track} is not in the catalog; add it with its least radius."
        answer = Judgement("gap", None, sentence, "", None)
    elif limit is None:
        sentence = f"{track.name} ({track.code}) states no least radius: fill in least_radius_mm in the catalog."
        answer = Judgement("gap", None, sentence, "", None)
    else:
        what = f"Piece {piece.index + 1}, concave framing face: {track.name}: "
        answer = compared(what, radius_mm, limit, system)
    return TrackCheck(**settled(answer, wall.overrides, key, piece, radius_mm, system), track=wall.track)


def _spacing_limit(board: Material, check: BendCheck, system: System, kept_share: Fact | None) -> SpacingLimit:
    """kept_share: by which the arc may stand above the least radius; None where it is at it or tighter."""
    spacing = board.fact("spacing_at_least_radius_mm")
    place = f"piece {check.piece_index + 1} bends {board.name} to its least radius or tighter"
    if kept_share is not None:
        radius, least = (format_measure(mm, system) for mm in (check.radius_mm, check.least_radius_mm or 0.0))
        place = (
            f"piece {check.piece_index + 1} bends {board.name} to {radius}, "
            f"within {kept_share.number * 100:g} % above its least radius of {least}"
        )
    if spacing is None:
        sentence = f"{place}: fill in spacing_at_least_radius_mm of {board.code}, its stud spacing there."
        return SpacingLimit(check.piece_index, board.code, None, sentence, "", None, kept_share is not None)
    sentence = f"{place}: studs at most {format_measure(spacing.number, system)} apart."
    if kept_share is not None:
        source = f"{spacing.source}; above it: {kept_share.source}"
        return SpacingLimit(check.piece_index, board.code, spacing.number, sentence, source, kept_share.sure, True)
    return SpacingLimit(check.piece_index, board.code, spacing.number, sentence, spacing.source, spacing.sure)


def _side_offset(curve: Curve, face: Face, built_mm: float) -> float:
    out_mm = curve.stud_depth_mm / 2 + built_mm
    return out_mm if face == "left" else -out_mm


def compared(before: str, radius_mm: float, limit: Fact, system: System, after: str = "") -> Judgement:
    """A radius (mm) held against a limit (mm); equal passes. before, after: of the sentence, what is bent.

    >>> from decimal import Decimal
    >>> limit = Fact(Decimal("900"), "Its maker's sheet", "maker")
    >>> compared("Base: ", 800.0, limit, "metric").sentence
    'Base: 800 mm is tighter than the least radius of 900 mm.'
    """
    passes = radius_mm >= limit.number - TOLERANCE_MM
    unverified = " (unverified)" if limit.sure == "memory" else ""
    word = "meets" if passes else "is tighter than"
    least = f"{format_measure(limit.number, system)}{unverified}"
    sentence = f"{before}{format_measure(radius_mm, system)} {word} the least radius of {least}{after}."
    return Judgement("passes" if passes else "fails", limit.number, sentence, limit.source, limit.sure)


def unchecked(piece: CurvePiece) -> str:
    """What is said of every line on a piece built to a template only.

    >>> unchecked(CurvePiece(1, 0, 0.0, 0.0, 900.0, 0.0, (0.0, 0.0), 0.0, 0.0, 850.0))
    'Piece 2 is built to a template only: no radius is known on it, and no bend can be checked.'
    """
    return f"Piece {piece.index + 1} is built to a template only: no radius is known on it, and no bend can be checked."


def template_findings(curve: Curve, wall: WallSpec) -> tuple[Finding, ...]:
    """What must be decided where a piece is built to a template only.

    Args:
        curve: the wall in plan.
        wall: its pieces and overrides.

    Returns:
        For each such piece a decision to take, or the caution that it was taken; and a gap while no template is held.

    Raises:
        nothing of its own.

    Source: own rule: no figure is made up where no radius is known.

    >>> curve, wall = _example()
    >>> template_findings(curve, wall)
    ()
    """
    result = []
    for piece, given in zip(curve.pieces, wall.pieces, strict=True):
        if not isinstance(given, TemplatePiece):
            continue
        key = f"{wall.key}/piece-{piece.index + 1}/template"
        message = (
            f"{unchecked(piece)} Its length is as taped, its ends are its chord; boards, track and trim on it must be "
            "proved on the template itself."
        )
        override = override_of(wall.overrides, key)
        ask = overridden(override) if override else " A named person must say so with a reason, or give it as arcs."
        result.append(Finding(key, "caution" if override else "decide", message + ask))
        if not (given.template or "").strip():
            message = (
                f"Piece {piece.index + 1} is built to a template, but no template is named: trace one and name it."
            )
            result.append(Finding(f"{key}/held", "gap", message))
    return tuple(result)


def decision_at(
    overrides: Sequence[Override], key: str, radius_mm: float, system: System
) -> tuple[Override | None, str]:
    """The decision that stands about a check at a radius: one holds only for what was decided.

    Args:
        overrides: in the order they were made.
        key: of the check.
        radius_mm: compared now, mm, > 0.
        system: the units of the sentence.

    Returns:
        The decision and what to say of it. None with a sentence when it was taken for a radius easier than this
        one by more than `DECIDED_TO_MM`; None with "" when nothing was decided. A decision that does not say
        its radius holds, and the sentence says so.

    Raises:
        nothing of its own.

    Source: own rule.

    >>> taken = Override("w/bend", "A mock-up held", "M. Rowe", "2026-11-20", original=1524.0)
    >>> decision_at((taken,), "w/bend", 508.0, "metric")
    (None, ' Decided by M. Rowe on Fri 20 Nov 2026 for R 1524 mm, now R 508 mm: decide again.')
    """
    override = override_of(overrides, key)
    if override is None:
        return None, ""
    if override.original is None:
        return override, f"{overridden(override)} The decision does not say which radius it was taken for."
    if radius_mm < override.original - DECIDED_TO_MM:
        was, now = format_measure(override.original, system), format_measure(radius_mm, system)
        return (
            None,
            f" Decided by {override.by} on {with_day_words(override.on)} for R {was}, now R {now}: decide again.",
        )
    return override, overridden(override)


def override_of(overrides: Sequence[Override], key: str) -> Override | None:
    """The last decision made about a check.

    Args:
        overrides: in the order they were made.
        key: of the check.

    Returns:
        The override, or None.

    Raises:
        nothing of its own.

    Source: own rule.

    >>> override_of((), "w/left/layer-1/piece-1/bend") is None
    True
    """
    return next((override for override in reversed(overrides) if override.key == key), None)


def overridden(override: Override) -> str:
    """What is said of a decision in force, to stand after the sentence of the check.

    >>> overridden(Override("w/bend", "A mock-up held.", "M. Rowe", "2026-11-20"))
    ' Overridden by M. Rowe on Fri 20 Nov 2026: A mock-up held.'
    """
    reason = override.reason.strip()
    text = f"{override.by} on {with_day_words(override.on)}{words_of(override.brought_in)}"
    return f" Overridden by {text}: {reason}{'' if reason[-1] in '.!?' else '.'}"
