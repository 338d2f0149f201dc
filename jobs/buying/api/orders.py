"""Every order with its jobs, its amount, what is here and what comes next. The desk's."""

from collections.abc import Sequence

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.plain_text import money
from jobs.buying.services.listed_orders import ListedOrder, listed_orders, orders_of_work
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

        def written(orders: Sequence[Order]) -> list[Document]:
            return [of_listed(one) for one in listed_orders(orders, read)]

        return page_at_once(query, rows, written)


def of_listed(one: ListedOrder) -> Document:
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
