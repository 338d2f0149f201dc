"""The list of a day: things to do in the order of their days in hand, those that go together as one, in few rows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from jobs.core.ordering.order_by import is_late
from quoting.core.life.order_words import listed, order_words

NEAR_WORKDAYS = 5
"""What is late or due within so many working days has a row of its own."""
SOON_WORKDAYS = 10
"""What is due within so many has a line."""
MAX_NEAR, MAX_SOON = 5, 3
_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


@dataclass(frozen=True)
class Todo:
    """One thing to do. Days within sentences are in ISO form.

    text: verb and thing; made of names and supplier where they are goods to be ordered. why: what follows, or what is
    known of it. day: None where nobody knows one. in_hand: working days to it, negative when late. jobs: their titles.
    do: words of the button. place: name of the page where it is done and its arguments; together: of the page for a
    whole group. group: things of one group and one day are one thing. rest: some of the goods is on order. amount:
    money, None while a price is missing. tape: in two or three words.
    """

    text: str
    why: str
    day: date | None
    in_hand: int | None
    jobs: tuple[str, ...]
    do: str
    place: tuple[str, ...]
    group: str = ""
    together: tuple[str, ...] = ()
    supplier: str = ""
    names: tuple[str, ...] = ()
    rest: bool = False
    amount: Decimal | None = None
    tape: str = ""

    @property
    def is_late(self) -> bool:
        return is_late(self.in_hand)

    @property
    def days(self) -> int | None:
        """In hand, or late."""
        return None if self.in_hand is None else abs(self.in_hand)


@dataclass(frozen=True)
class DayList:
    """near: late, due within `NEAR_WORKDAYS`, or without a day; a row each. soon: a line each. more: of both, for which
    there is no room. later: the first day something beyond is due. late: how many of all are."""

    near: tuple[Todo, ...]
    soon: tuple[Todo, ...]
    more: int
    later: date | None
    every: tuple[Todo, ...]

    @property
    def late(self) -> int:
        return sum(1 for todo in self.every if todo.is_late)

    @property
    def dated(self) -> tuple[Todo, ...]:
        return tuple(todo for todo in self.every if todo.in_hand is not None)


def day_list(todos: Iterable[Todo], later: date | None = None) -> DayList:
    """Rank what is to be done.

    Args:
        todos: in any order. later: the first day of what was not looked at, None where there is nothing.

    Returns:
        The late first, then by days in hand; what has no day after what is near.

    Raises:
        Nothing.

    Source: own rule.

    >>> due = Todo("Order base", "", date(2026, 12, 10), 8, ("Reception screen",), "Open", ("job", "1"))
    >>> day_list([due, replace(due, in_hand=-2, text="Claim base")]).near[0].text
    'Claim base'
    """
    every = tuple(sorted(_gathered(todos), key=_rank))
    looked_at = [todo for todo in every if todo.in_hand is None or todo.in_hand <= SOON_WORKDAYS]
    near = [todo for todo in looked_at if todo.in_hand is None or todo.in_hand <= NEAR_WORKDAYS]
    soon = [todo for todo in looked_at if todo not in near]
    beyond = [todo.day for todo in every if todo not in looked_at and todo.day is not None]
    more = max(0, len(near) - MAX_NEAR) + max(0, len(soon) - MAX_SOON)
    first_later = min([*beyond, *([later] if later else [])], default=None)
    return DayList(tuple(near[:MAX_NEAR]), tuple(soon[:MAX_SOON]), more, first_later, tuple(looked_at))


def _rank(todo: Todo) -> tuple[bool, int, str]:
    return todo.in_hand is None, todo.in_hand or 0, todo.text


def _gathered(todos: Iterable[Todo]) -> list[Todo]:
    groups: dict[object, list[Todo]] = {}
    for place, todo in enumerate(todos):
        groups.setdefault((todo.group, todo.day, todo.rest) if todo.group else place, []).append(todo)
    return [_as_one(group) for group in groups.values()]


def _as_one(group: list[Todo]) -> Todo:
    first = group[0]
    names = tuple(name for todo in group for name in todo.names)
    text = order_words(names, first.supplier, rest=first.rest) if names else first.text
    if len(group) == 1:
        return replace(first, text=text)
    jobs = tuple(dict.fromkeys(job for todo in group for job in todo.jobs))
    whys = {todo.why for todo in group}
    why = first.why if len(whys) == 1 else min(group, key=lambda todo: todo.why).why if names else ""
    amounts = [todo.amount for todo in group if todo.amount is not None]
    amount = sum(amounts, Decimal(0)) if len(amounts) == len(group) else None
    place = first.together or first.place
    return replace(first, text=text, names=names, jobs=jobs, why=why, amount=amount, place=place)


def late_words(words: DayList) -> str:
    """What is late, as a sentence; empty where nothing is.

    Raises nothing. Source: own wording.

    >>> late_words(day_list([]))
    ''
    """
    return f"{_things(words.late).capitalize()} late." if words.late else ""


def due_words(words: DayList, today: date, week_end: date) -> str:
    """What is due this week and after it, as sentences; its days in ISO form.

    Args:
        words: the list. today, week_end: the firm's day, and the last day of its week.

    Returns:
        Never that nothing is due while something has no day.

    Raises:
        Nothing.

    Source: own wording.

    >>> due_words(day_list([], date(2026, 12, 10)), date(2026, 11, 30), date(2026, 12, 4))
    'Nothing is due until 2026-12-10.'
    """
    ahead = [todo for todo in words.dated if not todo.is_late]
    week = [todo for todo in ahead if todo.day is not None and todo.day <= week_end]
    undated, late = len(words.every) - len(words.dated), bool(words.late)
    texts = [f"{_things(len(week), more=late)} due this week"] if week else []
    if len(ahead) > len(week):
        by = max(todo.day for todo in ahead if todo.day)
        after = len(ahead) - len(week)
        texts.append(f"{_count(after) if week else f'{_things(after, more=late)} due'} by {by}")
    if undated:
        texts.append(f"{_count(undated)} {'has' if undated == 1 else 'have'} no day")
    if texts:
        sentence = ", ".join(texts)
        return f"{sentence[:1].upper()}{sentence[1:]}."
    what = "Nothing else" if late else "Nothing"
    return f"{what} is due until {words.later}." if words.later else f"{what} is due."


def _things(count: int, *, more: bool = False) -> str:
    if more:
        return f"{_count(count)} more {'is' if count == 1 else 'are'}"
    return f"{_count(count)} thing{' is' if count == 1 else 's are'}"


def _count(count: int) -> str:
    return _WORDS[count] if count < len(_WORDS) else str(count)


def jobs_words(jobs: tuple[str, ...]) -> str:
    """Raises nothing. Source: own wording.

    >>> jobs_words(("Reading nook", "Lobby S-curve", "Play bay", "Hall"))
    'Reading nook, Lobby S-curve and 2 more'
    """
    return listed(jobs)
