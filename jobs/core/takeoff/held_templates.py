"""Templates traced from framed walls: what shape is held, where it is kept, who traced it, and what became of it.

A run of trim that is made to a template is not ordered before its template exists. That never stands in the way of
a quote: templates are traced when the wall is framed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Annotated, Literal, get_args

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import As, Declared, Items, Refs, Schema, Text, Whole
from jobs.core.measure.bending import override_of
from jobs.core.measure.dimension_holds import Hold, released
from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import HeightProfile, StraightPiece, SurveyError, TemplatePiece
from jobs.core.measure.wall_spec import FaceBuild, TrimRun, WallSpec
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.core.trim.trim import TrimPlan
from jobs.core.trim.trim_order import MISSING

TemplateState = Literal["held", "sent", "returned", "lost"]
TEMPLATE_STATES: tuple[TemplateState, ...] = get_args(TemplateState)
STATE_WORDS: dict[TemplateState, str] = {
    "held": "held",
    "sent": "sent to the maker",
    "returned": "back from the maker",
    "lost": "lost",
}
MAX_MOVES = 200
TEMPLATE = "template"
_SOURCE = "Own rule: what is made to a template is made to one that exists"


@dataclass(frozen=True)
class TemplateMove:
    """What became of a template on a day."""

    state: Annotated[
        TemplateState,
        "held = kept by the firm; sent = with the maker; returned = back from the maker; lost.",
        As(words=tuple(STATE_WORDS.items())),
    ]
    on: Annotated[date, "The day."]
    by: Annotated[str, Text(200), "Who says so."]
    kept_at: Annotated[
        str,
        Text(200),
        "Where it is from then on; empty only when it is lost.",
        As(hint="Where the next person finds it."),
    ] = ""

    def __post_init__(self) -> None:
        if self.state not in TEMPLATE_STATES:
            raise SurveyError("state", f"a template is one of {', '.join(TEMPLATE_STATES)}; {self.state!r} was given")
        if not self.by.strip():
            raise SurveyError("by", "say who moved the template")
        if self.state != "lost" and not self.kept_at.strip():
            raise SurveyError("kept_at", "say where the template is kept")


@dataclass(frozen=True)
class HeldTemplate:
    """A template traced from a framed wall, and what became of it.

    Raises:
        SurveyError: naming the entry that cannot be.

    >>> held = TemplateMove("held", date(2027, 2, 3), "Ines Quarrell", "Workshop, rack 2")
    >>> HeldTemplate("T1", "Back of the base", "nook", "Base", None, "Ines Quarrell", date(2027, 2, 3), (held,)).state
    'held'
    """

    document_name = "template"

    name: Annotated[
        str,
        Text(100),
        "What is written on it, once in a job whatever the case of its letters.",
        As(label="Written on it", hint="Such as T1, once in a job."),
    ]
    shape: Annotated[
        str,
        Text(500),
        "The shape it holds.",
        As(label="Shape it holds", hint="Such as the back of the base along piece 2, from the door to the end."),
    ]
    wall: Annotated[str, Text(40), "Key of the wall it was traced from."]
    line: Annotated[
        str,
        Text(100),
        "Name of the run of trim it is for; empty when for none in particular.",
        As(absent=""),
    ]
    piece: Annotated[
        int | None,
        Whole(1, 200),
        "Piece of the wall, from 1; null for more than one.",
        As(label="Piece of the wall", hint="Its number; blank for more than one."),
    ]
    traced_by: Annotated[str, Text(200), "Who traced it."]
    traced_on: Annotated[date, "The day it was traced."]
    moves: Annotated[
        tuple[TemplateMove, ...],
        Items(Declared(TemplateMove), MAX_MOVES),
        "Its states, oldest first; at least one.",
    ]

    @classmethod
    def document_schema(cls, schema: Schema, refs: Refs) -> Schema:
        schema["properties"]["moves"]["minItems"] = 1
        return schema

    def __post_init__(self) -> None:
        sentences = {
            "name": "say what is written on the template",
            "shape": "say what shape it holds, such as the back of the base along piece 2",
            "wall": "say which wall it was traced from",
            "traced_by": "say who traced it",
        }
        for entry, reason in sentences.items():
            if not getattr(self, entry).strip():
                raise SurveyError(entry, reason)
        if self.piece is not None and not 1 <= self.piece <= 200:
            raise SurveyError("piece", f"a piece of a wall is numbered from 1 to 200; {self.piece} was given")
        if not self.moves:
            raise SurveyError("moves", "say where it is kept: a template has at least one state")
        days = [self.traced_on, *(move.on for move in self.moves)]
        if days != sorted(days):
            raise SurveyError("moves", "the days must go from the tracing on: each on or after the one before")

    @property
    def state(self) -> TemplateState:
        return self.moves[-1].state

    @property
    def kept_at(self) -> str:
        return self.moves[-1].kept_at

    @property
    def is_there(self) -> bool:
        """Whether it exists: here, with the maker, or back from there."""
        return self.state != "lost"


def needs_template(wall: WallSpec, run: TrimRun) -> bool:
    """Whether a run cannot be ordered without a template: it is made to one, or the wall itself is built to one.

    wall: the wall. run: of its trim. Source: own rule; an irregular wall has no arc to order by.

    >>> needs_template(_example(), _example().trims[0])
    True
    """
    irregular = any(isinstance(piece, TemplatePiece) for piece in wall.pieces)
    return run.form == "template" or (irregular and run.form != "stock")


def template_for(wall: WallSpec, run: TrimRun, templates: Iterable[HeldTemplate]) -> HeldTemplate | None:
    """The template a run is made to: the one it names, else one of its wall that was traced for it.

    Args:
        wall: the wall. run: of its trim. templates: of the job.

    Returns:
        One that exists before one that is lost, the last traced first; None when there is none.

    Raises:
        nothing.

    Source: own rule.

    >>> template_for(_example(), _example().trims[0], ()) is None
    True
    """
    named = (run.template or "").strip().casefold()
    fitting = [
        template
        for template in templates
        if (named and template.name.strip().casefold() == named)
        or (not named and template.wall == wall.key and template.line.strip().casefold() == run.name.strip().casefold())
    ]
    return max(fitting, key=lambda template: (template.is_there, template.traced_on), default=None)


def template_holds(wall: WallSpec, templates: Sequence[HeldTemplate]) -> tuple[Hold, ...]:
    """What keeps the runs of a wall that are made to a template from being released while none is held.

    Args:
        wall: with its trim. templates: of the job.

    Returns:
        A hold keyed "wall/trim-n/release/template" for each run made to a template that has none that exists; one
        that a named person released by an override of its key stays, as a caution.

    Raises:
        nothing.

    Source: own rule.

    >>> [(hold.run, hold.finding.key) for hold in template_holds(_example(), ())]
    [('Base', 'w/trim-1/release/template')]
    """
    held = []
    for number, run in enumerate(wall.trims, start=1):
        if not needs_template(wall, run):
            continue
        template = template_for(wall, run, templates)
        if template is None or not template.is_there:
            line = f"{wall.key}/trim-{number}"
            finding = Finding(f"{line}/release/{TEMPLATE}", "gap", _why_held(wall, run, template), _SOURCE)
            decision = override_of(wall.overrides, finding.key)
            if decision is not None:
                finding = released(finding, decision)
            held.append(Hold(line, run.name, run.material, TEMPLATE, "a held template", finding))
    return tuple(held)


def with_templates(wall: WallWorkUp, templates: Sequence[HeldTemplate]) -> WallWorkUp:
    """The wall with what its templates say: in the order data of each run made to one, and among its holds.

    Args:
        wall: worked up, without them. templates: of the job.

    Returns:
        The wall; the same when no run of it is made to a template.

    Raises:
        nothing.

    Source: own rule.
    """
    if not any(needs_template(wall.spec, run) for run in wall.spec.trims):
        return wall
    trims = tuple(_with_template(plan, wall.spec, templates) for plan in wall.trims)
    return replace(wall, trims=trims, holds=(*wall.holds, *template_holds(wall.spec, templates)))


def _with_template(plan: TrimPlan, wall: WallSpec, templates: Sequence[HeldTemplate]) -> TrimPlan:
    if plan.order is None or not needs_template(wall, plan.run):
        return plan
    template = template_for(wall, plan.run, templates)
    is_there = template is not None and template.is_there
    names = {*plan.order.missing} - {"held template"} | (set() if is_there else {"held template"})
    shape = plan.order.true_arc_or_template
    if template is not None:
        shape = f"template {template.name}, {STATE_WORDS[template.state]}"
        shape += f", kept at {template.kept_at}" if template.kept_at else ""
        shape += f"; traced by {template.traced_by} on {day_words(template.traced_on)}"
    missing = tuple(name for name in MISSING if name in names)
    return replace(plan, order=replace(plan.order, true_arc_or_template=shape, missing=missing))


def _why_held(wall: WallSpec, run: TrimRun, template: HeldTemplate | None) -> str:
    what = f"{run.name} on {wall.name} is made to a template, and"
    if template is not None:
        last = template.moves[-1]
        return f"{what} {template.name} is lost ({last.by}, {day_words(last.on)}): trace a new one and enter it."
    if (run.template or "").strip():
        return f"{what} {run.template} is not among the job's templates: enter it there, or correct its name."
    return f"{what} no template is held: trace it on the framed wall and enter it among the job's templates."


def _example() -> WallSpec:
    bare, base = FaceBuild(()), TrimRun("Base", "left", "base", "BASE", "template")
    heights = HeightProfile(((0.0, 2400.0),))
    return WallSpec("w", "Wall", "centre", (StraightPiece(900.0),), heights, "T", "S", bare, bare, trims=(base,))
