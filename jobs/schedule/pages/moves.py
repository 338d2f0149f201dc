"""What moves, as the page lists it."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from jobs.core.ordering.date_moves import ActivityMove, DateMoves, ItemMove
from jobs.core.ordering.order_by import days_in_hand_in_words, standing
from jobs.orders.services.to_decide import is_to_decide
from jobs.schedule.pages.rows import workdays


@dataclass(frozen=True)
class ItemLine:
    """Days of one item now and then; None where it has none. decide_then: also where nothing is to be signed off.
    standing: "late", "due_today", "ahead" or empty."""

    name: str
    order_now: date | None
    order_then: date | None
    need_now: date | None
    need_then: date | None
    decide_then: date | None
    hand: str
    standing: str

    @property
    def need_moves(self) -> bool:
        return self.need_now != self.need_then


@dataclass(frozen=True)
class ActivityLine:
    name: str
    start_now: date | None
    start_then: date | None
    then: str
    left_out: bool


def item_lines(moves: DateMoves, decided: Collection[str]) -> list[ItemLine]:
    """decided: materials signed off, or ordered once."""
    return [_item(move, is_decided=move.after.material in decided) for move in moves.items]


def _item(move: ItemMove, *, is_decided: bool) -> ItemLine:
    was, will = move.before.dates, move.after.dates
    in_hand = move.after.in_hand
    return ItemLine(
        move.after.name,
        was.order_by if was else None,
        will.order_by if will else None,
        move.before.need_by,
        move.after.need_by,
        will.decide_by if will and is_to_decide(move.after, is_decided=is_decided) else None,
        "" if in_hand is None else days_in_hand_in_words(in_hand),
        "" if in_hand is None else standing(in_hand),
    )


def activity_lines(moves: DateMoves) -> list[ActivityLine]:
    return [_activity(move) for move in moves.activities]


def _activity(move: ActivityMove) -> ActivityLine:
    was, will = (
        activity.times.early_start if activity and activity.times else None for activity in (move.before, move.after)
    )
    then = workdays(move.after.duration_workdays) if move.after else ""
    return ActivityLine(move.name, was, will, then, move.after is None)
