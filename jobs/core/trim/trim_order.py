"""What an order for curved trim states, and what of it nobody has said yet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal

from catalog.core.ground.units import TOLERANCE_MM, System, format_measure
from catalog.core.materials.specs import Material
from jobs.core.measure.curve import Curve, Face
from jobs.core.measure.survey import Line
from jobs.core.measure.wall_spec import TrimRun
from jobs.core.trim.trim_bend import TrimArc
from jobs.core.trim.trim_pieces import TrimPiece
from jobs.core.trim.trim_spans import Mitre, TrimSpan


@dataclass(frozen=True)
class OrderRadius:
    """A radius a maker is told, with the face it is measured at."""

    piece_index: int
    side: Literal["concave", "convex"]
    radius_mm: float
    measured_at: str
    arc_length_mm: float


@dataclass(frozen=True)
class OrderData:
    """All an order for curved trim states. `missing` names what has not been said; empty means complete.

    mitres: the cuts at the ends of pieces at kinks of the wall, in walking order. pieces: those of piece_lengths_mm.
    """

    profile: str
    size: str
    grade: str
    application: str
    radii: tuple[OrderRadius, ...]
    true_arc_or_template: str
    piece_lengths_mm: tuple[float, ...]
    splice_count: int
    splices_allowed: bool | None
    straight_tails_mm: tuple[float, ...]
    need_by: date | None
    missing: tuple[str, ...]
    mitres: tuple[Mitre, ...] = ()
    pieces: tuple[TrimPiece, ...] = ()

    @property
    def missing_sentences(self) -> tuple[str, ...]:
        """What is missing, each as a sentence that says what to do about it."""
        return tuple(MISSING[name] for name in self.missing)


MISSING: Mapping[str, str] = {
    "size": "The size is not known: enter the profile's width and thickness in the catalog.",
    "grade": "The grade is not said: choose paint or stain on the run.",
    "application": "The application is not said: say on the run where and how the piece is used.",
    "held template": "No template is named: register the one that was traced, or choose another form.",
    "number and lengths of pieces": "The pieces are not known: enter the profile's greatest piece in the catalog.",
    "splices": "Whether splices are allowed is not stated: state it on the run.",
    "need date": "No day is known by which it must be on site: agree a start of the job, or a day for this run.",
}
"""What may be missing of an order, by its name in `OrderData.missing`."""


MEASURED_AT: Mapping[Face, str] = {
    "left": "back of the piece, on the left finished face",
    "right": "back of the piece, on the right finished face",
}
"""Where a maker's radius is measured, by the face of the wall the run lies on."""


def order_of(
    curve: Curve,
    run: TrimRun,
    line: Line,
    material: Material,
    arcs: tuple[TrimArc, ...],
    spans: tuple[TrimSpan, ...],
    pieces: tuple[TrimPiece, ...],
    splice_count: int,
    system: System,
) -> OrderData:
    """The order data of one run of a made profile.

    curve: the wall in plan. run: the trim. line: the finished face its back lies on. material: the profile. arcs,
    spans, pieces: of the run, lengths and radii in mm. splice_count: joints within spans, >= 0. system: of sizes.
    Returns the data with what is missing named. Source: trade rules on trim, what an order states.

    >>> from jobs.core.measure.curve import curve_of
    >>> from jobs.core.measure.survey import HeightProfile, StraightPiece, Survey
    >>> curve = curve_of(Survey((StraightPiece(1000.0),), HeightProfile(((0.0, 2400.0),)), "centre", 92.0, 12.7, 12.7))
    >>> base = Material("B", "Base", "trim", "custom_made", "ft", "piece", None)
    >>> order_of(curve, TrimRun("Base", "left", "base", "B"), "left_finished", base, (), (), (), 0, "metric").missing
    ('size', 'grade', 'application', 'splices', 'need date')
    """
    width, thickness = material.fact("width_mm"), material.fact("thickness_mm")
    sizes = [format_measure(fact.number, system) for fact in (width, thickness) if fact]
    radii = tuple(
        OrderRadius(
            arc.piece_index,
            arc.side,
            arc.radius_mm,
            MEASURED_AT[run.face],
            curve.pieces[arc.piece_index].length_at(curve.offset_mm(line)),
        )
        for arc in arcs
        if arc.side != "straight" and arc.side != "template"
    )
    # Where the wall itself is built to a template no arc can be ordered, whatever form was chosen.
    needs_template = run.form == "template" or any(arc.side == "template" for arc in arcs)
    net_mm = sum(span.length_mm for span in spans) + run.returns_mm
    missing = {
        "size": width is None or thickness is None,
        "grade": run.grade is None,
        "application": not run.application.strip(),
        "held template": needs_template and not (run.template or "").strip(),
        "number and lengths of pieces": not pieces and net_mm > TOLERANCE_MM,
        "splices": run.splices_allowed is None,
        "need date": run.need_by is None,
    }
    return OrderData(
        f"{material.name} ({material.code})",
        " x ".join(sizes),
        run.grade or "",
        run.application.strip(),
        radii,
        f"template {run.template or 'not named'}" if needs_template else "true arc",
        tuple(piece.ordered_mm for piece in pieces),
        splice_count,
        run.splices_allowed,
        tuple(tail for span in spans for tail in span.straight_tails_mm),
        run.need_by,
        tuple(name for name, is_missing in missing.items() if is_missing),
        tuple(mitre for span in spans for mitre in span.mitres),
        pieces,
    )
