"""The day of whoever sits at a desk: what is next, whom the firm waits for, what others did since the last visit."""

from dataclasses import dataclass
from datetime import datetime, time, timedelta
from typing import Any

from jobs.buying.services.expediting_facts import to_ask
from jobs.core.ordering.chasing import OrderFacts
from jobs.dates.services.action_items import Matters, matters
from jobs.dates.services.item_schedule import OpenJobItems
from quoting.core.life.day_list import DayList, Todo, day_list, due_words, jobs_words, late_words
from quoting.platform.people.models import Person, Role
from quoting.platform.people.services.visits import news_since
from quoting.service.services.desk_todos import (
    acts_of_orders,
    items_short,
    jobs_to_be_signed,
    lives_at_hand,
    todos_of_crews,
    todos_of_failures,
    todos_of_gaps,
    todos_of_jobs,
    todos_of_lives,
    todos_of_matters,
    todos_of_orders,
)
from quoting.service.services.news import News, news
from quoting.service.services.waiting_for import Waiting, waiting_for

_BUYERS = (Role.OFFICE, Role.OWNER)
_PRICERS = (Role.ESTIMATOR, Role.OWNER)


@dataclass(frozen=True)
class DeskDay:
    """next: what to do. later: items to be ordered after the days looked at. arriving: orders whose goods come today.
    since: from when news is new."""

    next: DayList
    later: Matters
    waiting: list[Waiting]
    news: list[News]
    since: datetime
    arriving: tuple[OrderFacts, ...]
    late: str
    due: str


def desk_day(person: Person, read: OpenJobItems, moment: datetime) -> DeskDay:
    """moment: by the firm's own clock. Raises NoFirmYet."""
    today, firm, role = read.desk.today, read.desk.calendar, person.role
    found, lives, asking = matters(read), lives_at_hand(today), to_ask(today, firm)
    acts = acts_of_orders(asking, today, firm)
    rows = [*todos_of_lives(lives, role), *todos_of_failures(moment, asking.bad), *todos_of_crews(today, firm)]
    todos = list(todos_of_matters(found, read, items_short(acts), jobs_to_be_signed(lives, role)))
    if role in _BUYERS:
        late = frozenset(one.late.coming.line.order_id for one in found.soon if one.late)
        rows += [*todos, *todos_of_orders(acts, late), *todos_of_gaps(read)]
    else:
        rows += [one for one in todos if not one.names]
    if role in _PRICERS:
        rows += todos_of_jobs(read)
    listed = day_list(rows, found.first_later if role in _BUYERS else None)
    since = news_since(person, moment, _workday_before(read, moment))
    week_end = today + timedelta(days=6 - today.weekday())
    arriving = tuple(one for _, one, act in acts if act.by == today and not one.is_complete and one.promised_on == today)
    return DeskDay(
        listed,
        found,
        waiting_for(acts, lives, role),
        news(since, since.astimezone(moment.tzinfo).date(), person.full_name),
        since,
        arriving,
        late_words(listed),
        f"{due_words(listed, today, week_end)} {_arriving(arriving)}".strip(),
    )


def _workday_before(read: OpenJobItems, moment: datetime) -> datetime:
    day = read.desk.calendar.back(moment.date(), 1)
    return datetime.combine(day, time(), moment.tzinfo)


def _arriving(orders: tuple[OrderFacts, ...]) -> str:
    if not orders:
        return "Nothing arrives today."
    if len(orders) == 1:
        return f"{orders[0].key} arrives today."
    return f"{len(orders)} orders arrive today."


def desk_day_document(found: DeskDay) -> dict[str, Any]:
    """As JSON values, for the API."""
    return {
        "next": [todo_document(one) for one in (*found.next.near, *found.next.soon)],
        "more": found.next.more,
        "waiting_for": [
            {"who": one.who, "for": one.says, "by": one.day.isoformat() if one.day else None} for one in found.waiting
        ],
    }


def todo_document(one: Todo) -> dict[str, Any]:
    return {
        "what": one.text,
        "why": one.why,
        "by": one.day.isoformat() if one.day else None,
        "days_in_hand": one.in_hand,
        "jobs": jobs_words(one.jobs) if one.jobs else "",
    }
