"""What the API shows of the list of orders, and of what is to be ordered."""

from datetime import date
from decimal import Decimal
from typing import Annotated, NamedTuple

from catalog.core.ground.declared import Amount, As, Of, View
from jobs.buying.services import proposals
from jobs.orders.api.shapes.orders import ItemRead, Money, OrderHead, OrderItem
from quoting.platform.api.declared import answer_shapes
from quoting.platform.api.parts import page


class JobOfOrder(View):
    """A job an order is for."""

    key: Annotated[str, Of(lambda pair: pair[0].key)]
    signed: Annotated[bool, Of(lambda pair: pair[1])]


class NextAct(View):
    """What is to be done first."""

    words: str
    by: Annotated[date | None, "The last day for it."]
    in_hand_workdays: Annotated[int | None, Of("in_hand"), "To that day, negative once it is past."]


class ListedLines(View):
    """How the lines of an order stand."""

    jobs: tuple[JobOfOrder, ...]
    goods: Annotated[Money, "Of the lines with a price."]
    unpriced_lines: Annotated[int, Of("unpriced")]
    lines: int
    lines_here: Annotated[int, Of("here"), "All of them came, or no more is expected."]
    lines_short: Annotated[int, Of("short"), "Came damaged or wrong in part."]
    next_on: Annotated[date | None, "When the next of it is expected."]
    overdue: bool
    late_workdays: Annotated[int, "After its day on site."]


class ListedOrder(View):
    """An order with its jobs, what it comes to, what is here and what comes next."""

    head: Annotated[OrderHead, Of("order"), As(spread=True)]
    listed: Annotated[ListedLines, As(spread=True)]
    states: Annotated[tuple[str, ...], "How it stands, in words."]
    next_act: Annotated[NextAct | None, Of("act"), "Null once nothing is to be done."]


class Sums(View):
    """What an order comes to."""

    goods: Money
    unpriced: Annotated[tuple[str, ...], "What has no price, by name; no sum counts it."]
    freight: Annotated[Money, "Null where the supplier's terms or every price are not known."]
    top_up: Annotated[Money, "What is missing to the supplier's least order."]
    early_goods: Annotated[Decimal, Amount(), "What is bought before its own order-by day costs."]
    early_workdays: Annotated[int, "Working days before its own day, of the item bought earliest."]
    saved_freight: Annotated[Money, "Against an order for each order-by day."]
    saved_top_up: Money


class ProposalRead(NamedTuple):
    """workdays: how far ahead of their own day goods are bought with others."""

    proposal: proposals.Proposal
    workdays: int | None


class ProposedOrder(View):
    """One order to be placed."""

    order_by: Annotated[date, Of("bundle.day")]
    items: Annotated[tuple[OrderItem, ...], Of(lambda order, read: _items(read, order.items))]
    signed: bool
    sums: Annotated[Sums, Of("bundle"), As(spread=True)]
    ready: Annotated[Sums | None, "Of the items that can be ordered; null while there is none."]


class Proposal(View):
    """What is to be ordered from one supplier."""

    is_whole = True
    supplier: Annotated[str, Of("proposal.supplier.code")]
    buying_window_workdays: Annotated[
        int | None,
        Of("workdays"),
        "How far ahead of their own day goods are bought with others; null while not stated.",
    ]
    orders: Annotated[tuple[ProposedOrder, ...], Of("proposal.orders")]
    undated: Annotated[tuple[OrderItem, ...], Of(lambda read: _items(read, read.proposal.undated))]
    notes: Annotated[tuple[str, ...], Of(lambda read: (*read.proposal.notes, *read.proposal.troubles))]
    jobs_left_out: Annotated[int, Of("proposal.jobs_left_out")]


def _items(read: ProposalRead, standings: tuple[proposals.ItemStanding, ...]) -> list[ItemRead]:
    return [ItemRead(standing, read.proposal.parts.get(standing.item.key)) for standing in standings]


SHAPES = {**answer_shapes(ListedOrder, Proposal), "OrderPage": page("ListedOrder")}
