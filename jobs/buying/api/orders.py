"""Every order with its jobs, its amount, what is here and what comes next. The desk's."""

from collections.abc import Sequence

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.plain_text import money
from jobs.buying.services.expediting_facts import to_ask
from jobs.buying.services.listed_orders import ListedOrder, orders_of_work
from jobs.buying.services.owed_orders import OwedOrder, owed_orders
from jobs.dates.services.item_schedule import open_items
from jobs.jobs.api.work import WORK, work_asked
from jobs.orders.api.orders import NewOrders, of_head
from jobs.orders.models import Order
from quoting.platform import clock
from quoting.platform.api.base import Document, asked, day, page_at_once
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import moment_at_the_firm


class Orders(NewOrders):
    @describe(
        "list_orders",
        "Every order, the last begun first: its jobs, what it comes to, what is here, and what comes next.",
        gives="OrderPage",
        query=(WORK,),
        paged=True,
        works=True,
    )
    def get(self, request: Request) -> Response:
        query = asked(request)
        rows, read = orders_of_work(work_asked(query)), open_items(moment_at_the_firm(clock.now()))
        asking = to_ask(read.desk.today, read.desk.calendar)

        def written(orders: Sequence[Order]) -> list[Document]:
            owed = {one.order.pk: one for one in owed_orders(orders, read, asking)}
            return [of_owed(owed[order.pk]) for order in orders]

        return page_at_once(query, rows, written)


def of_owed(one: OwedOrder) -> Document:
    act = one.act
    done = None if act is None else {"words": act.words, "by": day(act.by), "in_hand_workdays": act.in_hand}
    return {**_of_listed(one.listed), "states": list(one.states), "next_act": done}


def _of_listed(one: ListedOrder) -> Document:
    return {
        **of_head(one.order),
        "jobs": [{"key": job.key, "signed": signed} for job, signed in one.jobs],
        "goods": money(one.goods),
        "unpriced_lines": one.unpriced,
        "lines": one.lines,
        "lines_here": one.here,
        "lines_short": one.short,
        "next_on": day(one.next_on),
        "overdue": one.overdue,
        "late_workdays": one.late_workdays,
    }
