"""The pieces a run of trim is bought in, by the maker's rules of length.

A rule nobody stated is not applied, and a greatest piece is asked for wherever the profile does not come as plain
stock.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Annotated

from catalog.core.ground.day_words import with_day_words
from catalog.core.ground.declared import As, Measured, View
from catalog.core.ground.units import TOLERANCE_MM, System, format_both, format_measure
from catalog.core.materials.specs import Material
from jobs.core.measure.bending import overridden, override_of
from jobs.core.measure.curve import Curve
from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import Line
from jobs.core.measure.wall_spec import TrimForm, TrimRun, WallSpec
from jobs.core.trim.trim_bend import Side, TrimArc
from jobs.core.trim.trim_spans import TrimSpan

MADE_FORMS: frozenset[TrimForm] = frozenset({"bendable", "pre_curved", "template"})


@dataclass(frozen=True)
class PieceCurve(View):
    """What a piece of trim follows on one piece of the wall: the radius at its back, 0 on a straight, over a length.

    piece_index: of the wall, from 0. side: which way its back is bent. radius_mm, length_mm: on the finished face.
    """

    piece_index: int
    side: Side
    radius_mm: Annotated[float, Measured(zero_is_null=True)]
    length_mm: float


@dataclass(frozen=True)
class TrimPiece(View):
    """One piece to be made or cut.

    span: index of its span, None for returns. needed_mm: with its share of splices; ordered_mm: after the
    maker's additions and rounding. curves: what it follows, in order from the start of the wall.
    """

    span: Annotated[int | None, As(aside=True)]
    needed_mm: float
    ordered_mm: float
    curves: Annotated[tuple[PieceCurve, ...], As(name="follows")] = ()


def pieces_for(
    span_mm: float,
    *,
    greatest_mm: float | None,
    least_mm: float | None = None,
    add_mm: float | None = None,
    round_to_mm: float | None = None,
    overlap_mm: float | None = None,
) -> tuple[tuple[float, float], ...]:
    """Divide one stretch into equal pieces and round each by the maker's rules.

    Args:
        span_mm: length of profile needed, mm, > 0.
        greatest_mm: longest piece made, mm, > 0, None for one piece whatever its length. It bounds the length
            needed; what the maker adds or rounds up comes on top.
        least_mm: shortest piece sold, mm. add_mm: added to each piece, mm. round_to_mm: each piece is rounded
            up to the next multiple, mm. overlap_mm: length lost at each splice, mm. None: no such rule.

    Returns:
        (needed, ordered) of each piece in mm; the needed lengths add up to the span and its overlaps.

    Raises:
        ValueError: the span is not more than zero, or the greatest piece no longer than a splice's overlap.

    Source: the maker's own rules, as data.

    >>> [ordered for _, ordered in pieces_for(17.6 * 304.8, greatest_mm=9 * 304.8, round_to_mm=2 * 304.8)]
    [3048.0, 3048.0]
    """
    overlap = overlap_mm or 0.0
    if not span_mm > 0:
        raise ValueError(f"a stretch of trim must be longer than zero, not {format_both(span_mm)}")
    count = 1
    if greatest_mm is not None:
        if greatest_mm <= overlap:
            raise ValueError(
                f"the greatest piece, {format_both(greatest_mm)}, must be longer than a splice loses, "
                f"{format_both(overlap)}"
            )
        count = max(1, math.ceil((span_mm - overlap - TOLERANCE_MM) / (greatest_mm - overlap)))
    needed_mm = (span_mm + (count - 1) * overlap) / count
    ordered_mm = needed_mm + (add_mm or 0.0)
    if round_to_mm:
        ordered_mm = math.ceil((ordered_mm - TOLERANCE_MM) / round_to_mm) * round_to_mm
    return ((needed_mm, max(ordered_mm, least_mm or 0.0)),) * count


def cut_to_pieces(
    wall: WallSpec,
    run: TrimRun,
    key: str,
    spans: tuple[TrimSpan, ...],
    material: Material | None,
    findings: list[Finding],
    system: System,
) -> tuple[tuple[TrimPiece, ...], int]:
    if material is None:
        return (), 0
    greatest_mm = _number(material, "greatest_piece_mm")
    if greatest_mm is None and run.form not in MADE_FORMS:
        # A stocked profile with no rule of its own comes no longer than its longest stick.
        greatest_mm = max((pack.length_mm for pack in material.packs if pack.length_mm), default=None)
    if greatest_mm is None and run.form in MADE_FORMS:
        sentence = (
            f"{run.name}: {material.name} ({material.code}) states no greatest piece: fill in "
            "greatest_piece_mm before its pieces can be counted."
        )
        findings.append(Finding(f"{key}/greatest_piece", "gap", sentence))
        return (), 0
    overlap_mm = _number(material, "splice_overlap_mm")
    if greatest_mm is not None and overlap_mm is not None and greatest_mm <= overlap_mm:
        sentence = (
            f"{run.name}: the greatest piece of {material.code} ({format_measure(greatest_mm, system)}) is no longer "
            f"than a splice loses ({format_measure(overlap_mm, system)}): correct one of them."
        )
        findings.append(Finding(f"{key}/greatest_piece", "gap", sentence))
        return (), 0
    stretches: list[tuple[int | None, float]] = [(n, span.length_mm) for n, span in enumerate(spans)]
    if run.returns_mm > TOLERANCE_MM:
        stretches.append((None, run.returns_mm))
    pieces, splices = [], 0
    for span, length_mm in stretches:
        cut = pieces_for(
            length_mm,
            greatest_mm=greatest_mm,
            least_mm=_number(material, "least_piece_mm"),
            add_mm=_number(material, "add_per_piece_mm"),
            round_to_mm=_number(material, "round_piece_to_mm"),
            overlap_mm=overlap_mm,
        )
        splices += len(cut) - 1
        pieces += [TrimPiece(span, needed, ordered) for needed, ordered in cut]
    if splices and run.splices_allowed is False:
        longest = format_measure(greatest_mm or 0.0, system)
        sentence = (
            f"{run.name} is to have no splices, but {material.name} is made at most "
            f"{longest} long: {splices} would be needed."
        )
        findings.append(_splices_decided(wall, f"{key}/splices", sentence, splices))
    return tuple(pieces), splices


def _splices_decided(wall: WallSpec, key: str, sentence: str, splices: int) -> Finding:
    override = override_of(wall.overrides, key)
    if override and (override.original is None or splices <= override.original):
        return Finding(key, "caution", sentence + overridden(override), "", float(splices))
    if override:
        sentence += (
            f" Decided by {override.by} on {with_day_words(override.on)} for {override.original:g}: decide again."
        )
    return Finding(key, "decide", f"{sentence} Allow them, or choose another profile.", "", float(splices))


def _number(material: Material | None, name: str) -> float | None:
    fact = material.fact(name) if material else None
    return fact.number if fact else None


def with_curves(
    pieces: tuple[TrimPiece, ...], spans: tuple[TrimSpan, ...], arcs: tuple[TrimArc, ...], curve: Curve, line: Line
) -> tuple[TrimPiece, ...]:
    """The pieces, each with every radius it follows: on an S-curve a piece has more than one.

    pieces: of the run, those of one span equally long. spans, arcs: of the run. curve, line: the face its back lies
    on. Returns the pieces in the same order; returns follow no curve. The places where pieces meet are those of
    equal division, before any overlap is laid.
    Source: plane geometry; own rule for where pieces meet.

    >>> with_curves((TrimPiece(None, 100.0, 100.0),), (), (), None, "left_finished")[0].curves
    ()
    """
    sentences = []
    for number, piece in enumerate(pieces):
        if piece.span is None:
            sentences.append(piece)
            continue
        of_span = [place for place, other in enumerate(pieces) if other.span == piece.span]
        span, total_mm = spans[piece.span], curve.length_mm(line)
        reach_mm = (span.to_mm - span.from_mm) % total_mm or total_mm
        each_mm = reach_mm / len(of_span)
        start_mm = span.from_mm + of_span.index(number) * each_mm
        sentences.append(replace(piece, curves=_between(start_mm, start_mm + each_mm, arcs, curve, line)))
    return tuple(sentences)


def _between(
    from_mm: float, to_mm: float, arcs: tuple[TrimArc, ...], curve: Curve, line: Line
) -> tuple[PieceCurve, ...]:
    total_mm, findings = curve.length_mm(line), []
    # Past the seam of a closed column the face begins again.
    for turn_mm in (0.0, total_mm):
        at_mm = turn_mm
        for arc in arcs:
            end_mm = at_mm + curve.pieces[arc.piece_index].length_at(curve.offset_mm(line))
            shared_mm = min(end_mm, to_mm) - max(at_mm, from_mm)
            if shared_mm > TOLERANCE_MM:
                findings.append(PieceCurve(arc.piece_index, arc.side, arc.radius_mm, shared_mm))
            at_mm = end_mm
    return tuple(findings)
