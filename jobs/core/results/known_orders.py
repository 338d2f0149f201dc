"""What rows say of a placed order, as it is kept; what the day adds is worked out by whoever reads it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from catalog.core.ground.units import System
from catalog.core.ground.workdays import CalendarError, WorkCalendar
from jobs.core.ordering.chasing import ClaimFacts, OrderFacts
from jobs.core.ordering.deviations import Deviation, LineFacts, ShortFacts, deviations
from jobs.core.ordering.needs import DatedNeed

ItemKey = tuple[int, str]
"""Id of the job, and the material."""


@dataclass(frozen=True)
class KnownLine:
    """A line of which something is told, now or on a later day. facts: what is short is without days yet."""

    job: int
    material: str
    facts: LineFacts


@dataclass(frozen=True)
class KnownOrder:
    """As `OrderFacts` has it, before anybody looked whether its days can be. lines: what may go otherwise."""

    key: str
    supplier: str
    placed_on: date
    confirmed_on: date | None
    promised_on: date | None
    is_promised: bool
    last_word_on: date | None
    is_complete: bool
    claims: tuple[ClaimFacts, ...]
    claimed: tuple[ClaimFacts, ...]
    uncredited: tuple[tuple[str, str], ...]
    lines: tuple[KnownLine, ...]

    @property
    def is_open(self) -> bool:
        """Whether anything is to come, to settle, or may go otherwise."""
        return not self.is_complete or bool(self.claims or self.claimed or self.uncredited or self.lines)

    @property
    def short(self) -> frozenset[ItemKey]:
        """Items of which some came bad: their needs say by when to order them again."""
        return frozenset((line.job, line.material) for line in self.lines if line.facts.short)


def without_days(facts: LineFacts) -> LineFacts:
    """The same line as it is kept: when goods ordered today come changes from day to day."""
    short = facts.short and replace(facts.short, order_by=None, usable=None, late_workdays=None)
    return replace(facts, short=short)


def short_on(short: ShortFacts, need: DatedNeed | None) -> ShortFacts:
    """What is short, with the days of its need as they count today; None where nothing of it is wanted any more."""
    if need is None:
        return short
    today = need.if_ordered_today
    return replace(
        short,
        order_by=need.dates.order_by if need.dates else None,
        usable=today.usable if today else None,
        late_workdays=need.late_workdays,
    )


def order_facts(
    known: KnownOrder, needs: Mapping[ItemKey, DatedNeed], today: date, firm: WorkCalendar, system: System
) -> tuple[OrderFacts, tuple[str, ...]]:
    """An order on a day.

    Args:
        known: as it is kept. needs: of what is short, as they count today. today: the firm's day. firm: its working
            days. system: of the words.

    Returns:
        The facts, and of lines whose days nobody can count a sentence each; they silence no other.

    Raises:
        ValueError: something heard before it was placed.

    Source: own rule.
    """
    bad: list[str] = []
    orders = tuple(order for line in known.lines for order in _of_line(line, needs, today, firm, system, bad))
    return (
        OrderFacts(
            known.key,
            known.supplier,
            known.placed_on,
            known.confirmed_on,
            known.promised_on,
            known.is_promised,
            known.last_word_on,
            known.is_complete,
            known.claims,
            orders,
            known.claimed,
            known.uncredited,
        ),
        tuple(bad),
    )


def _of_line(
    line: KnownLine,
    needs: Mapping[ItemKey, DatedNeed],
    today: date,
    firm: WorkCalendar,
    system: System,
    bad: list[str],
) -> Iterable[Deviation]:
    facts = line.facts
    if facts.short:
        facts = replace(facts, short=short_on(facts.short, needs.get((line.job, line.material))))
    try:
        return deviations(facts, today, firm, system)
    except CalendarError as problem:
        bad.append(f"Order {facts.order}, {facts.what}: {problem}; correct its days.")
        return ()
