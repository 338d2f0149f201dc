"""A run of trim as answers show it: its arcs, pieces, cap, and what an order of it states."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any, NamedTuple

from catalog.core.ground.declared import As, Of, View
from jobs.core.measure.bending import Verdict
from jobs.core.measure.curve import Face
from jobs.core.measure.findings import ShownOverride
from jobs.core.measure.survey import Line
from jobs.core.measure.wall_spec import BendWay, Position, TrimForm
from jobs.core.results.survey_shown import CheckBandShown, check_band
from jobs.core.trim.trim_bend import Side
from jobs.core.trim.trim_order import OrderRadius
from jobs.core.trim.trim_pieces import TrimPiece
from jobs.core.trim.trim_spans import Mitre
from jobs.core.trim.trim_top import CapPiece


class TrimArcShown(View):
    """What a run of trim must follow on one piece of the wall."""

    key: str
    piece_index: int
    side: Side
    radius_mm: float
    least_radius_mm: float | None
    verdict: Verdict
    sentence: str
    band: Annotated[CheckBandShown | None, Of(lambda arc, wall: check_band(wall, arc.key))]
    source: str
    advice: Annotated[str | None, Of("advice.sentence")]
    flex_inside_mm: Annotated[float | None, As(name="flex_tighter")]
    flex_outside_mm: Annotated[float | None, As(name="flex_easier")]
    override: ShownOverride | None


class OrderedRadius(NamedTuple):
    key: str
    radius: OrderRadius


class OrderRadiusShown(View):
    """A radius the maker is told, beside its band."""

    piece_index: Annotated[int, Of("radius.piece_index")]
    side: Annotated[Side, Of("radius.side")]
    radius_mm: Annotated[float, Of("radius.radius_mm")]
    band: Annotated[
        CheckBandShown | None,
        Of(lambda row, wall: check_band(wall, f"{row.key}/piece-{row.radius.piece_index + 1}/bend")),
    ]
    measured_at: Annotated[str, Of("radius.measured_at")]


class TrimOrderShown(View):
    """What an order of the trim states; not ready while something is missing."""

    profile: Annotated[str, Of("order.profile")]
    size: Annotated[str, Of("order.size")]
    grade: Annotated[str | None, Of("order.grade")]
    application: Annotated[str, Of("order.application")]
    radii: Annotated[
        tuple[OrderRadiusShown, ...], Of(lambda plan: [OrderedRadius(plan.key, radius) for radius in plan.order.radii])
    ]
    shape: Annotated[str | None, Of("order.true_arc_or_template")]
    piece_lengths_mm: Annotated[tuple[float, ...], Of("order.piece_lengths_mm")]
    need_by: Annotated[date | None, Of("order.need_by")]
    missing: Annotated[tuple[str, ...], Of("order.missing")]
    missing_said: Annotated[tuple[str, ...], Of("order.missing_sentences")]


def _ordered(plan: Any) -> Any:
    return None if plan.order is None else plan


class TrimShown(View):
    """A run of trim along one face, or a cap."""

    key: str
    name: Annotated[str, Of("run.name")]
    face: Annotated[Face, Of("run.face")]
    position: Annotated[Position, Of("run.position")]
    profile: Annotated[str, Of("run.material")]
    form: Annotated[TrimForm, Of("run.form")]
    bent: Annotated[BendWay, Of("run.way")]
    line: Line
    face_length_mm: float
    taken_mm: float
    returns_mm: float
    net_mm: float
    arcs: tuple[TrimArcShown, ...]
    pieces: tuple[TrimPiece, ...]
    ordered_mm: float
    splice_count: Annotated[int, As(name="splices")]
    backing_mm: float
    cap: tuple[CapPiece, ...]
    mitres: Annotated[tuple[Mitre, ...], Of(lambda plan: [mitre for span in plan.spans for mitre in span.mitres])]
    order: Annotated[TrimOrderShown | None, Of(_ordered)]
