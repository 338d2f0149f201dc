"""The checklist of what gets forgotten in a price: every item is answered or dismissed by name before issue."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from catalog.core.ground.declared import As, Choice, Day, Text, Writing
from catalog.core.ground.document_reader import Reader
from jobs.core.measure.brought_in import BroughtIn
from quoting.core.prices.costs import CostLine
from quoting.core.prices.figures import PricingError
from quoting.core.prices.stated_figures import MAX_TITLE

AnswerKind = Literal["", "cost", "included", "dismissed"]
ANSWERS: tuple[AnswerKind, ...] = ("cost", "included", "dismissed")

USUAL_ITEMS = (
    "Delivery",
    "Lift or hoist",
    "Fans for drying",
    "Protection of floors and finishes",
    "Disposal of waste",
    "Samples and mock-ups",
    "Templates",
    "Extra drying visits",
    "Reinspection",
    "Clean-up",
)
"""What is asked where the firm has no list of its own (our own list of common practice)."""

LABOUR = "Labour"
"""Asked beside the list when a price holds no labour; it can only be dismissed by name."""

MAX_ITEMS = 60
MAX_ITEM = 100


class Answer(Choice):
    """An answer; null while there is none."""

    def write(self, value: Any, how: Writing) -> Any:
        return value or None


class DayText(Day):
    """A day held as ISO text; null where there is none."""

    def read(self, reader: Reader, name: str) -> Any:
        return reader.day(name).isoformat()

    def write(self, value: Any, how: Writing) -> Any:
        return value or None


@dataclass(frozen=True)
class ChecklistEntry:
    """One thing that gets forgotten, and what was said of it.

    Raises:
        PricingError: a part missing for the answer, or no item.

    Source: own rule.

    >>> ChecklistEntry("Delivery", "included", where="Boards and track").is_answered
    True
    """

    item: Annotated[str, Text(MAX_ITEM), 'What might be forgotten. "Labour" stands for a price that holds none.']
    answer: Annotated[
        AnswerKind,
        Answer(ANSWERS),
        "cost: a line of cost is entered for it; included: in something else; dismissed: it does not arise; null: not "
        "answered.",
    ] = ""
    where: Annotated[str, Text(MAX_TITLE), "The line of cost, or what it is included in.", As(label="Included in")] = ""
    reason: Annotated[str, "Why it is dismissed.", As(label="Why it isn't needed")] = ""
    by: Annotated[str, Text(MAX_TITLE), "Who dismissed it."] = ""
    on: Annotated[str, DayText(), "The day it was dismissed; empty when it was not."] = ""
    brought_in: Annotated[BroughtIn | None, As(aside=True)] = None

    def __post_init__(self) -> None:
        label = f"Checklist, {self.item}"
        if not self.item.strip() or len(self.item) > MAX_ITEM:
            raise PricingError(f"Checklist: an item has a name of at most {MAX_ITEM} characters.")
        if self.answer not in ("", *ANSWERS):
            raise PricingError(f"{label}: the answer is {', '.join(ANSWERS)}, not {self.answer!r}.")
        if self.answer == "cost" and not self.where.strip():
            raise PricingError(f"{label}: choose its cost line.")
        if self.answer == "included" and not self.where.strip():
            raise PricingError(f"{label}: say what it is included in.")
        if self.answer == "dismissed" and not (self.reason.strip() and self.by.strip() and self.on.strip()):
            raise PricingError(f"{label}: say why it isn't needed, with a name and a day.")

    @property
    def is_answered(self) -> bool:
        """Whether anything was said of it.

        Returns:
            True when it has an answer, whether or not that holds.

        Source: own rule.

        >>> ChecklistEntry("Delivery").is_answered
        False
        """
        return bool(self.answer)


def complete_checklist(entries: Sequence[ChecklistEntry], items: Iterable[str] = ()) -> tuple[ChecklistEntry, ...]:
    """The checklist of one job: what it has answered, and what else the firm asks.

    Args:
        entries: the job's own entries.
        items: the firm's list; the usual one when both are empty.

    Returns:
        The entries, and after them every other item of the list without an answer. Names are compared without
        regard to capitals.

    Source: own rule.

    >>> [entry.item for entry in complete_checklist([ChecklistEntry("Delivery")], ["delivery", "Scaffold"])]
    ['Delivery', 'Scaffold']
    """
    listed = tuple(items) or (() if entries else USUAL_ITEMS)
    present = {entry.item.casefold() for entry in entries}
    return (*entries, *(ChecklistEntry(item) for item in listed if item.casefold() not in present))


def open_items(entries: Sequence[ChecklistEntry], costs: Sequence[CostLine]) -> tuple[str, ...]:
    """Items that keep a quote from being issued, each with what is wrong.

    Args:
        entries: the checklist of the job, complete (see ``asked``).
        costs: the lines of cost of the job.

    Returns:
        The name of each item that has no answer, or whose answer names a line of cost that is not there or costs
        nothing, the latter said behind the name. The item for labour is judged by ``labour_is_open``.

    Source: own rule.

    >>> open_items([ChecklistEntry("Delivery", "cost", where="Crane")], [])
    ('Delivery (there is no line of cost "Crane")',)
    """
    costed = {line.what.casefold() for line in costs if line.cost}
    items = []
    for entry in entries:
        if entry.item.casefold() == LABOUR.casefold():
            continue
        if not entry.is_answered:
            items.append(entry.item)
        elif entry.answer == "cost" and entry.where.strip().casefold() not in costed:
            items.append(f'{entry.item} (there is no line of cost "{entry.where}")')
    return tuple(items)


def labour_is_open(entries: Sequence[ChecklistEntry], costs: Sequence[CostLine]) -> bool:
    """Whether a price without labour still waits for somebody to say by name that none is needed.

    Args:
        entries: the checklist of the job.
        costs: the lines of cost of the job.

    Returns:
        True when no line of labour costs anything and nobody has dismissed it.

    Source: own rule.

    >>> labour_is_open([], [])
    True
    """
    if any(line.category == "labour" and line.cost for line in costs):
        return False
    return not any(entry.item.casefold() == LABOUR.casefold() and entry.answer == "dismissed" for entry in entries)
