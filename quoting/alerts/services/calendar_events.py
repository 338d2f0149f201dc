"""What a calendar holds of a job: what is to be decided, ordered, delivered and on site, by supplier and day."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time

from jobs.core.schedule.activities import ActivityPlan
from quoting.alerts.models import EventKind
from quoting.alerts.services.event_ids import EventDraft
from quoting.platform.formatting import day_words

NEED_KINDS = (EventKind.DECIDE, EventKind.ORDER, EventKind.DELIVERY, EventKind.NEED)
WORKED_KINDS = (*NEED_KINDS, EventKind.ACTIVITY)
"""What a work-up says; what is next follows the life of the job."""


@dataclass(frozen=True)
class ItemDays:
    """What of one item is not done yet; None where it is, or where something is missing.

    decide_by: while it is to be signed off. order_by: while something of it is to be ordered. need_by: while not all
    of it is here. part: why some of it is still to be ordered though the rest is not.
    """

    material: str
    name: str
    supplier: str
    decide_by: date | None
    order_by: date | None
    cut_off: time | None
    need_by: date | None
    is_here: bool = False
    part: str = ""


@dataclass(frozen=True)
class ExpectedLine:
    """A line of a placed order of which something is to come. key: of the line. what: how much of which item."""

    key: str
    order: str
    name: str
    what: str
    supplier: str
    expected_on: date
    promised: bool


def drafts_of(title: str, items: Sequence[ItemDays], lines: Sequence[ExpectedLine]) -> list[EventDraft]:
    """title: of the job."""
    drafts = _grouped(EventKind.DECIDE, "Decide", title, items, lambda day: day.decide_by, _decide_words)
    drafts += _grouped(EventKind.ORDER, "Order", title, items, lambda day: day.order_by, _order_words)
    to_come = [item for item in items if not item.is_here]
    drafts += _grouped(EventKind.NEED, "On site", title, to_come, lambda day: day.need_by, None, by_supplier=False)
    return [*drafts, *_deliveries(title, lines)]


def drafts_of_plan(title: str, plan: ActivityPlan) -> list[EventDraft]:
    return [
        EventDraft(
            EventKind.ACTIVITY,
            (activity.key,),
            f"{activity.name}, {title}",
            "",
            activity.times.early_start,
            activity.times.early_finish,
        )
        for activity in plan.activities
        if activity.times is not None
    ]


def _grouped(
    kind: EventKind,
    word: str,
    title: str,
    items: Iterable[ItemDays],
    day_of: Callable[[ItemDays], date | None],
    words: Callable[[ItemDays], str] | None,
    *,
    by_supplier: bool = True,
) -> list[EventDraft]:
    groups: dict[tuple[date, str], list[ItemDays]] = {}
    for item in items:
        day = day_of(item)
        if day is not None:
            groups.setdefault((day, item.supplier if by_supplier else ""), []).append(item)
    drafts = []
    for (day, _), group in sorted(groups.items()):
        group.sort(key=lambda entry: (entry.name, entry.material))
        names, notes = [entry.name for entry in group], [words(entry) for entry in group] if words else []
        members = tuple(entry.material for entry in group)
        drafts.append(EventDraft(kind, members, _summary(word, names, title), _note(names, notes), day, day))
    return drafts


def _deliveries(title: str, lines: Iterable[ExpectedLine]) -> list[EventDraft]:
    groups: dict[tuple[date, str], list[ExpectedLine]] = {}
    for line in lines:
        groups.setdefault((line.expected_on, line.supplier), []).append(line)
    deliveries = []
    for (day, _), group in sorted(groups.items()):
        texts = [f"{entry.order}: {entry.what}, {'promised' if entry.promised else 'as quoted'}." for entry in group]
        summary = _summary("Delivery expected", [entry.name for entry in group], title)
        members = tuple(entry.key for entry in group)
        deliveries.append(EventDraft(EventKind.DELIVERY, members, summary, "\n".join(texts), day, day))
    return deliveries


def _summary(word: str, names: Sequence[str], title: str) -> str:
    return f"{word}: {names[0] if len(names) == 1 else f'{len(names)} items'}, {title}"


def _note(names: Sequence[str], notes: Sequence[str]) -> str:
    if len(names) == 1:
        return notes[0] if notes else ""
    if not notes:
        return "\n".join(f"{name}." for name in names)
    return "\n".join(f"{name}: {note}" for name, note in zip(names, notes, strict=True))


def _decide_words(item: ItemDays) -> str:
    return f"On site by {day_words(item.need_by)}." if item.need_by else "It is then ordered."


def _order_words(item: ItemDays) -> str:
    hour = f"It counts for that day until {item.cut_off:%H:%M}." if item.cut_off else ""
    return " ".join(text for text in (_decide_words(item), hour, item.part) if text)
