"""What keeps trim from being released to order, a few sentences for each run instead of one for each dimension."""

from collections.abc import Iterable

from jobs.core.measure.dimension_holds import Hold
from jobs.core.takeoff.held_templates import TEMPLATE

MOST_NAMED = 4


def held_sentences(holds: Iterable[Hold]) -> tuple[str, ...]:
    by_run: dict[tuple[str, str], list[Hold]] = {}
    for hold in holds:
        by_run.setdefault((hold.line, hold.run), []).append(hold)
    return tuple(sentence for (_, run), held in by_run.items() for sentence in _of_run(run, held))


def _of_run(run: str, held: list[Hold]) -> Iterable[str]:
    yield from (hold.finding.sentence for hold in held if hold.dimension == TEMPLATE)
    held = [hold for hold in held if hold.dimension != TEMPLATE]
    unmarked = [hold.words for hold in held if hold.finding.weight == "gap"]
    if unmarked:
        is_known = "is known" if len(unmarked) == 1 else "are known"
        yield f"{run}: nobody has said how {_named(unmarked)} {is_known}; mark what was measured or confirmed."
    yield from (f"{run}: {hold.finding.sentence}" for hold in held if hold.finding.weight == "decide")


def _named(words: list[str]) -> str:
    if len(words) > MOST_NAMED:
        words = [*words[: MOST_NAMED - 1], f"{len(words) - MOST_NAMED + 1} more dimensions"]
    return words[0] if len(words) == 1 else f"{'; '.join(words[:-1])} and {words[-1]}"
