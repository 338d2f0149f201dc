"""Every order with its jobs, its amount, what is here and what comes next. The desk's."""

from collections.abc import Sequence

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from jobs.buying.api.shapes import ListedOrder
from jobs.buying.services.expediting_facts import to_ask
from jobs.buying.services.listed_orders import orders_of_work
from jobs.buying.services.owed_orders import owed_orders
from jobs.dates.services.item_schedule import open_items
from jobs.jobs.api.work import WORK, work_asked
from jobs.orders.api.orders import NewOrders
from jobs.orders.models import Order
from quoting.platform import clock
from quoting.platform.api.base import Document, page_at_once, query_of
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
        query = query_of(request)
        rows, read = orders_of_work(work_asked(query)), open_items(moment_at_the_firm(clock.now()))
        asking = to_ask(read.desk.today, read.desk.calendar)

        def written(orders: Sequence[Order]) -> list[Document]:
            owed = {order.order.pk: order for order in owed_orders(orders, read, asking)}
            return [write(owed[order.pk], ListedOrder) for order in orders]

        return page_at_once(query, rows, written)
