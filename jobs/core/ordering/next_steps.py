"""Who takes the next step on items that wait to be ordered: what each part of the firm has to do, gathered.

Dimensions, templates and field checks are gathered by wall, for whoever is on site reads a wall at a time; all else by
what is waited for. What keeps an item from being dated stands with the item, and is nobody's next step here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from jobs.core.measure.dimension_holds import Hold
from jobs.core.ordering.release import HoldKind, ReleaseHold, Step
from jobs.core.takeoff.held_templates import TEMPLATE

MAX_NAMED = 3
"""So many dimensions are named; of more it is said how many."""


@dataclass(frozen=True)
class HeldItem:
    """An item to be ordered and what it waits for.

    job: its id. material, name: of the item. order_by: None while not dated. holds: all its release waits for.
    dimensions: open holds of its dimensions and templates. walls: keys of those it is made for, as its order states.
    """

    job: int
    material: str
    name: str
    order_by: date | None
    holds: tuple[ReleaseHold, ...]
    dimensions: tuple[Hold, ...] = ()
    walls: tuple[str, ...] = ()


@dataclass(frozen=True)
class NextStep:
    """One thing to do before items of a job are ordered.

    kind: of what is waited for. wall, run: it is to be done at, empty where it is of none. sentence: what to do.
    materials, names: of the items that wait for it. by: the first day one of them is to be ordered by.
    """

    kind: HoldKind
    job: int
    wall: str
    run: str
    sentence: str
    materials: tuple[str, ...]
    names: tuple[str, ...]
    by: date | None


@dataclass(frozen=True)
class _Part:
    kind: HoldKind
    wall: str
    run: str
    words: str


def next_steps(items: Iterable[HeldItem], step: Step) -> tuple[NextStep, ...]:
    """Gather what one part of the firm has to do before items are ordered.

    Args:
        items: to be ordered. step: the part played in the firm.

    Returns:
        The steps, those of the item to be ordered first on top, undated ones last.

    Raises:
        Nothing.

    Source: own rule.

    >>> wait = ReleaseHold("deposit", "The deposit is not in.", "office", True)
    >>> items = [HeldItem(1, code, code, date(2027, 1, 4), (wait,)) for code in ("BASE", "CAP")]
    >>> [(entry.sentence, entry.names) for entry in next_steps(items, "office")]
    [('The deposit is not in.', ('BASE', 'CAP'))]
    """
    pairs: dict[tuple[int, str, str, str, str], list[tuple[HeldItem, _Part]]] = {}
    for item in items:
        for part in _parts(item, step):
            text = "" if part.kind in ("dimension", "template", "field_check") else part.words
            pairs.setdefault((item.job, part.kind, part.wall, part.run, text), []).append((item, part))
    steps = [_step(waiting) for waiting in pairs.values()]
    return tuple(
        sorted(steps, key=lambda entry: (entry.by is None, entry.by or date.max, entry.job, entry.wall, entry.kind))
    )


def _parts(item: HeldItem, step: Step) -> Iterator[_Part]:
    for hold in item.holds:
        if hold.step != step or hold.kind in ("dimension", "template", "gap"):
            continue
        if hold.kind == "field_check":
            for wall in item.walls:
                yield _Part("field_check", wall, "", "")
        else:
            yield _Part(hold.kind, "", "", hold.sentence)  # type: ignore[arg-type]
    for held in item.dimensions if step == "lead" else ():
        wall = held.line.partition("/")[0]
        if held.dimension == TEMPLATE:
            yield _Part("template", wall, held.run, "")
        else:
            yield _Part("dimension", wall, "", held.words)


def _step(waiting: Sequence[tuple[HeldItem, _Part]]) -> NextStep:
    first, part = waiting[0]
    words = tuple(dict.fromkeys(entry.words for _, entry in waiting))
    days = [item.order_by for item, _ in waiting if item.order_by is not None]
    return NextStep(
        part.kind,
        first.job,
        part.wall,
        part.run,
        _sentence(part, words),
        tuple(dict.fromkeys(item.material for item, _ in waiting)),
        tuple(dict.fromkeys(item.name for item, _ in waiting)),
        min(days, default=None),
    )


def _sentence(part: _Part, words: tuple[str, ...]) -> str:
    if part.kind == "dimension":
        return f"Measure or confirm {', '.join(words) if len(words) <= MAX_NAMED else f'{len(words)} dimensions'}."
    if part.kind == "template":
        return f"Trace the template of {part.run} and hold it."
    return "Check the framed wall on site." if part.kind == "field_check" else part.words
