"""What keeps a line from being released to order, who takes the next step, and what a named person may set aside.

The quote is never held up by any of this: what is bought to order is final, so it is released only once everything
it is made to is known and the work it is for is surely to be done.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal, get_args

from catalog.core.ground.day_words import day_words
from catalog.core.ground.money import to_cents
from catalog.core.materials.specs import Supply
from jobs.core.measure.dimension_holds import Hold
from jobs.core.measure.findings import Finding
from jobs.core.ordering.needs import DatedNeed, Driver
from jobs.core.takeoff.held_templates import TEMPLATE

Step = Literal["estimator", "office", "lead", "owner"]
"""Who takes the next step, by the part played in the firm."""
STEPS: tuple[Step, ...] = get_args(Step)
STEP_WORDS: Mapping[Step, str] = {
    "estimator": "the estimator",
    "office": "the office",
    "lead": "the lead carpenter",
    "owner": "the owner",
}
SampleState = Literal["not_needed", "to_ask", "asked", "approved"]
HoldKind = Literal["quote", "window", "deposit", "data", "gap", "dimension", "template", "sample", "field_check"]
WAITS_FOR: Mapping[str, str] = {
    "quote": "signature",
    "window": "end of the cancellation window",
    "deposit": "deposit",
    "data": "order details",
    "gap": "a day",
    "template": "template",
    "sample": "sample",
    "field_check": "field check",
}
_HOLD_KINDS: frozenset[str] = frozenset(get_args(HoldKind))


@dataclass(frozen=True)
class ReleaseHold:
    """One thing a release waits for.

    Args:
        key: "kind" or "kind/what", stable for one line. sentence: what is waited for and what would end it.
        step: who is to act. may_override: whether a named person may release in spite of it, with a reason.

    Raises:
        ValueError: a kind or a part played that is not known here, or no sentence.

    Source: own rule.

    >>> ReleaseHold("deposit", "The deposit is not in: ask for it.", "office", True).kind
    'deposit'
    """

    key: str
    sentence: str
    step: Step
    may_override: bool

    def __post_init__(self) -> None:
        if self.key.partition("/")[0] not in _HOLD_KINDS:
            raise ValueError(f"a hold is keyed by one of {', '.join(sorted(_HOLD_KINDS))}, not {self.key!r}")
        if self.step not in STEPS:
            raise ValueError(f"the next step is taken by one of {', '.join(STEPS)}, not {self.step!r}")
        if not self.sentence.strip():
            raise ValueError(f"the hold {self.key} must say what it waits for")

    @property
    def kind(self) -> str:
        return self.key.partition("/")[0]

    @property
    def who(self) -> str:
        """Who takes the next step, in words."""
        return STEP_WORDS[self.step]


@dataclass(frozen=True)
class JobStanding:
    """What stands of a job that all of its lines wait for.

    accepted: whether its quote is accepted. window_until: last day the acceptance can be taken back, None when there
    is none. deposit_due, deposit_received: money, zero or more; due is nought where no deposit is asked.
    field_checked_on: the day its walls were last confirmed on site, None while nobody did.

    Raises ValueError when an amount is below zero or not a number.
    """

    accepted: bool
    window_until: date | None = None
    deposit_due: Decimal = Decimal(0)
    deposit_received: Decimal = Decimal(0)
    field_checked_on: date | None = None

    def __post_init__(self) -> None:
        for name in ("deposit_due", "deposit_received"):
            amount = getattr(self, name)
            if not amount.is_finite() or amount < 0:
                raise ValueError(f"{name} must be zero or more, not {amount}")


@dataclass(frozen=True)
class LineStanding:
    """What stands of one line to be ordered.

    supply: how it is had. driven_by: what decides when it is safe to order. missing: sentences of what the order
    does not state yet. gaps: sentences of what keeps it from being dated. holds: of the dimensions and templates it
    is made to, those decided included. sample: of the finish or the profile, for the client's approval.
    """

    supply: Supply
    driven_by: Driver
    missing: tuple[str, ...] = ()
    gaps: tuple[Finding, ...] = ()
    holds: tuple[Hold, ...] = ()
    sample: SampleState = "not_needed"


def standing_of_need(need: DatedNeed, missing: Sequence[str] = (), sample: SampleState = "not_needed") -> LineStanding:
    """What stands of a line that covers a need.

    Args:
        need: as dated. missing: sentences of what its order does not state. sample: where its sample stands.

    Returns:
        The standing with the gaps and the holds of the need.

    Raises:
        Nothing of its own.

    Source: own rule.
    """
    gaps = tuple(finding for finding in need.findings if finding.weight == "gap")
    return LineStanding(need.supply, need.driven_by, tuple(missing), gaps, need.holds, sample)  # type: ignore[arg-type]


def release_holds(line: LineStanding, job: JobStanding, today: date) -> tuple[ReleaseHold, ...]:
    """Every reason why a line is not released to order, each with who is to act.

    Args:
        line: what stands of the line. job: what stands of its job. today: the firm's day.

    Returns:
        The holds, those of the job first, each key once; none when the line may be released. What the order does not
        state cannot be set aside, nor a template that is not there: nobody could make the piece. All else a named
        person may set aside with a reason.

    Raises:
        Nothing.

    Source: trade rules on trim (a line is not ready to order while a statement is missing); the rest own rule.

    >>> waiting = release_holds(LineStanding("custom_made", "radius"), JobStanding(accepted=False), date(2027, 3, 1))
    >>> [(hold.key, hold.step) for hold in waiting]
    [('quote', 'estimator'), ('field_check', 'lead')]
    """
    holds = [*_of_job(job, today)]
    holds += [
        _hold(f"data/{number}", message, "estimator", False) for number, message in enumerate(line.missing, start=1)
    ]
    holds += [_hold(f"gap/{gap.key}", gap.sentence, "office", True) for gap in line.gaps]
    for hold in line.holds:
        if not hold.is_open:
            continue
        of_template = hold.dimension == TEMPLATE
        kind = "template" if of_template else "dimension"
        holds.append(_hold(f"{kind}/{hold.finding.key}", hold.finding.sentence, "lead", not of_template))
    holds += _of_sample(line.sample)
    if line.driven_by == "radius" and line.supply != "stocked" and job.field_checked_on is None:
        sentence = "It is made to a radius, and no field check has confirmed the framed wall: check the wall on site."
        holds.append(_hold("field_check", sentence, "lead", True))
    return tuple({hold.key: hold for hold in holds}.values())


def open_after(holds: Sequence[ReleaseHold], reason: str) -> tuple[ReleaseHold, ...]:
    """The holds that still stand when a named person releases with this reason.

    Args:
        holds: of `release_holds`. reason: in words; empty when none is given.

    Returns:
        All of them without a reason; with one those that nobody may set aside.

    Raises:
        Nothing.

    Source: own rule.

    >>> late = ReleaseHold("deposit", "The deposit is not in.", "office", True)
    >>> open_after([late], ""), open_after([late], "The client pays on Monday; the mill shuts on Friday.")
    ((ReleaseHold(key='deposit', sentence='The deposit is not in.', step='office', may_override=True),), ())
    """
    if not reason.strip():
        return tuple(holds)
    return tuple(hold for hold in holds if not hold.may_override)


def waits_for(holds: Sequence[ReleaseHold]) -> str:
    """What a release waits for in a few words, for lists.

    Args:
        holds: of `release_holds`.

    Returns:
        Words parted by commas, each thing once, dimensions counted; empty when nothing holds it.

    Raises:
        Nothing.

    Source: own rule.

    >>> waits_for(release_holds(LineStanding("custom_made", "radius"), JobStanding(accepted=False), date(2027, 3, 1)))
    'signature, field check'
    """
    kinds = {hold.kind for hold in holds}
    words = [WAITS_FOR[kind] for kind in WAITS_FOR if kind in kinds]
    # A dimension holds each run of its wall, and is confirmed once.
    keys = {tuple(hold.key.split("/")) for hold in holds if hold.kind == "dimension"}
    dimensions = len({(key[1], key[-1]) for key in keys if len(key) > 1})
    if dimensions:
        words.append(f"{dimensions} dimension{'' if dimensions == 1 else 's'}")
    return ", ".join(words)


def window_words(until: date, order_by: date | None) -> str:
    """Until when the client can take the acceptance back, and what that means for ordering.

    Args:
        until: the last day of it. order_by: the last day that arrives in time, None while nobody knows it.

    Returns:
        Two sentences.

    Raises:
        Nothing.

    Source: own rule.

    >>> window_words(date(2026, 12, 3), date(2026, 12, 10))
    'The client can cancel until Thu 3 Dec 2026. Order after that: in time until Thu 10 Dec 2026.'
    """
    message = f"The client can cancel until {day_words(until)}."
    if order_by is not None and order_by <= until:
        return f"{message} Ordered before that, the firm pays for it if they do; ordered after, it comes late."
    return f"{message} Order after that{f': in time until {day_words(order_by)}' if order_by else ''}."


def _hold(key: str, sentence: str, step: Step, may_override: bool) -> ReleaseHold:
    return ReleaseHold(key, sentence, step, may_override)


def _of_job(job: JobStanding, today: date) -> Sequence[ReleaseHold]:
    if not job.accepted:
        return [_hold("quote", "No quote of this job is accepted: have it signed first.", "estimator", True)]
    holds = []
    if job.window_until is not None and today <= job.window_until:
        message = f"The client can still cancel until {day_words(job.window_until)}: wait until after."
        holds.append(_hold("window", message, "office", True))
    owed = to_cents(job.deposit_due) - to_cents(job.deposit_received)
    if owed > 0:
        message = f"Of the deposit of {to_cents(job.deposit_due):,.2f}, {owed:,.2f} is not in: ask the client for it."
        holds.append(_hold("deposit", message, "office", True))
    return holds


def _of_sample(sample: SampleState) -> Sequence[ReleaseHold]:
    if sample == "to_ask":
        return [_hold("sample", "The client has seen no sample: show one and have it approved.", "estimator", True)]
    if sample == "asked":
        return [_hold("sample", "The sample is with the client: ask whether it is approved.", "office", True)]
    return []
