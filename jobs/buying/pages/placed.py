"""A placed order for its page: what is to be done, how it stands, its rows, and what was agreed."""

from datetime import date, datetime
from typing import Any

from catalog.services.book import firm_of
from jobs.bills.services.listing import bills_of_order
from jobs.buying.pages.acts import bad_receipts, shown_acts
from jobs.buying.services.owed_orders import facts_of_order
from jobs.core.ordering.chasing import OrderFacts
from jobs.core.ordering.order_acts import order_acts, state_words
from jobs.core.ordering.order_lines import count_in_words
from jobs.deliveries.pages.shown import EventLine, events_of
from jobs.orders.models import Order
from jobs.orders.services.replacement_lines import REPLACED_PARTS


def placed_context(order: Order, moment: datetime) -> dict[str, Any]:
    """moment: now by the firm's own clock."""
    firm = firm_of()
    events = events_of(order, moment)
    facts = facts_of_order(order, moment.date(), firm.calendar)
    acts = order_acts(facts, moment.date(), firm.calendar) if facts else ()
    rows = order.lines.select_related("job", "order").prefetch_related("receipts__delivery", *REPLACED_PARTS)
    lines = list(rows) if acts else []
    priced = [event.line.amount for event in events["event_lines"] if event.line.amount is not None]
    return {
        **events,
        "bills": bills_of_order(order),
        "acts": shown_acts(order, acts, lines, events.get("ways", ())),
        "told": " ".join(activity.says for activity in acts),
        "states": _states(facts, events["event_lines"]),
        "bad": _bad_words(events["event_lines"]) if bad_receipts(lines) and facts else "",
        "is_ordered_again": not any(activity.kind == "short" for activity in acts),
        "differs": any(row.differs for event in events["event_lines"] for _, rows in event.runs for row in rows),
        "has_claims": bool(events["returned"]) or _is_claimed(events["event_lines"]),
        "goods": sum(priced) if priced else None,
        "unpriced": len(events["event_lines"]) - len(priced),
        "quoted_on": max(_days(events["event_lines"], "quoted_dock_on"), default=None),
        "promised_on": max(_days(events["event_lines"], "promised_on"), default=None),
        "need_by": min(_days(events["event_lines"], "need_by"), default=None),
    }


def _is_claimed(lines: list[EventLine]) -> bool:
    """Whether any claim was made or answered; one still to be made is an act."""
    return any(row.claimed_on or row.outcome for line in lines for row, _ in line.claims)


def _days(lines: list[EventLine], name: str) -> list[date]:
    return [day for line in lines if (day := getattr(line.line, name)) is not None]


def _states(facts: OrderFacts | None, lines: list[EventLine]) -> tuple[str, ...]:
    if facts is None:
        return ()
    late = max(
        (deviation.late_workdays or 0 for deviation in facts.deviations if deviation.kind == "promised_late"), default=0
    )
    here = sum(1 for line in lines if line.state.is_complete)
    return state_words(facts, here=here, lines=len(lines), late_workdays=late)


def _bad_words(lines: list[EventLine]) -> str:
    """What came damaged or wrong and is not good yet, of the first such line."""
    for line in lines:
        if line.state.short:
            states = [word for amount, word in ((line.state.damaged, "damaged"), (line.state.wrong, "wrong")) if amount]
            ordered = count_in_words(line.state.ordered, line.line.unit)
            return f"{line.state.short.normalize():f} of {ordered} came {' or '.join(states)}"
    return ""
