"""What keeps trim from being released to order: a sentence for all runs of a wall that wait for the same."""

from collections.abc import Iterable
from dataclasses import dataclass

from jobs.core.measure.dimension_holds import Hold
from jobs.core.takeoff.held_templates import TEMPLATE

MAX_NAMED = 2


@dataclass(frozen=True)
class HeldSentence:
    """wall: key of the wall on whose page it is cleared."""

    wall: str
    sentence: str


def held_sentences(holds: Iterable[Hold]) -> tuple[str, ...]:
    return tuple(sentence.sentence for sentence in held_by_wall(holds))


def held_by_wall(holds: Iterable[Hold]) -> tuple[HeldSentence, ...]:
    """Each once, in the order of the runs."""
    by_run: dict[tuple[str, str], list[Hold]] = {}
    for hold in holds:
        by_run.setdefault((hold.line, hold.run), []).append(hold)
    waiting: dict[tuple[str, str], list[str]] = {}
    for (line, run), held in by_run.items():
        wall = line.partition("/")[0]
        # These name their run themselves.
        waiting |= {(wall, hold.finding.sentence): [] for hold in held if hold.dimension == TEMPLATE}
        for message in _of_run(held):
            runs = waiting.setdefault((wall, message), [])
            runs += [run] if run not in runs else []
    return tuple(
        HeldSentence(wall, f"{_named(runs, 'runs')}: {sentence}" if runs else sentence)
        for (wall, sentence), runs in waiting.items()
    )


def _of_run(held: list[Hold]) -> Iterable[str]:
    held = [hold for hold in held if hold.dimension != TEMPLATE]
    unmarked = [hold.words for hold in held if hold.finding.weight == "gap"]
    if unmarked:
        is_known = "is" if len(unmarked) == 1 else "are"
        yield f"{_named(unmarked, 'dimensions')} {is_known} not measured or confirmed."
    yield from (hold.finding.sentence for hold in held if hold.finding.weight == "decide")


def _named(words: list[str], what: str) -> str:
    if len(words) > MAX_NAMED:
        words = [*words[: MAX_NAMED - 1], f"{len(words) - MAX_NAMED + 1} more {what}"]
    return words[0] if len(words) == 1 else f"{'; '.join(words[:-1])} and {words[-1]}"
