"""The day of whoever sits at a desk: what is next, and whom the firm waits for."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from jobs.buying.services.expediting_facts import ToAsk, to_ask
from jobs.core.ordering.chasing import OrderFacts
from jobs.dates.services.action_items import Matters, matters
from jobs.dates.services.item_schedule import OpenJobItems
from quoting.core.life.day_list import DayList, day_list, due_words, late_words
from quoting.life.services.listing import lives_at_hand
from quoting.platform.people.models import Role
from quoting.service.services.desk_todos import (
    jobs_to_be_signed,
    todos_of_crews,
    todos_of_failures,
    todos_of_gaps,
    todos_of_jobs,
    todos_of_lives,
)
from quoting.service.services.order_todos import acts_of_orders, items_short, todos_of_matters, todos_of_orders
from quoting.service.services.owner_todos import todos_of_closed_jobs, todos_of_month
from quoting.service.services.waiting_for import Waiting, waiting_for

_BUYERS = (Role.OFFICE, Role.OWNER)
_PRICERS = (Role.ESTIMATOR, Role.OWNER)


@dataclass(frozen=True)
class DeskDay:
    """next: what to do. later: items to be ordered after the days looked at. arriving: orders whose goods come today.
    late, due: what is, in sentences."""

    next: DayList
    later: Matters
    waiting: list[Waiting]
    arriving: tuple[OrderFacts, ...]
    late: str
    due: str


def desk_day(role: str, read: OpenJobItems, moment: datetime) -> DeskDay:
    """moment: by the firm's own clock. Raises NoFirmYet."""
    today, firm = read.desk.today, read.desk.calendar
    matter, lives = matters(read, orders=role in _BUYERS), lives_at_hand(today)
    # Whoever does not buy is told of no order.
    asking = to_ask(today, firm) if role in _BUYERS else ToAsk((), ())
    acts = acts_of_orders(asking, today, firm)
    rows = [*todos_of_lives(lives, role), *todos_of_failures(moment, asking.bad), *todos_of_crews(today, firm)]
    todos = list(todos_of_matters(matter, read, items_short(acts, asking), jobs_to_be_signed(lives, role)))
    if role in _BUYERS:
        late = frozenset(entry.late.coming.line.order_id for entry in matter.soon if entry.late)
        rows += [*todos, *todos_of_orders(acts, late), *todos_of_gaps(read), *todos_of_closed_jobs(today, firm)]
    else:
        rows += [todo for todo in todos if not todo.names]
    if role == Role.OWNER:
        rows += todos_of_month(today)
    rows += todos_of_jobs(read, decides=role in _PRICERS)
    listed = day_list(rows, matter.first_later if role in _BUYERS else None)
    week_end = today + timedelta(days=6 - today.weekday())
    arriving = tuple(fact for fact in asking.facts.values() if not fact.is_complete and fact.promised_on == today)
    return DeskDay(
        listed,
        matter,
        waiting_for(acts, read.desk.suppliers.values(), lives),
        arriving,
        late_words(listed),
        f"{due_words(listed, today, week_end)} {_arriving(arriving) if role in _BUYERS else ''}".strip(),
    )


def _arriving(orders: tuple[OrderFacts, ...]) -> str:
    if not orders:
        return "Nothing arrives today."
    if len(orders) == 1:
        return f"{orders[0].key} arrives today."
    return f"{len(orders)} orders arrive today."
