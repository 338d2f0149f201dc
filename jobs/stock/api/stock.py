"""The firm's stock by program. The desk's."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import Reader
from catalog.services.book import firm_of
from jobs.jobs.services.jobs import job_of
from jobs.stock.api import shapes
from jobs.stock.models import Stock
from jobs.stock.services.stock import enter_stock, put_back, set_aside, take_out
from quoting.platform.api.base import ApiView, document_of
from quoting.platform.api.describing import describe


class StockRows(ApiView):
    @describe("list_stock", "What the firm has: on the shelf, or set aside for a job.", gives="StockList")
    def get(self, request: Request) -> Response:
        return Response(write(Stock.objects.select_related("job"), shapes.StockList))

    @describe("enter_stock", "Put something on the shelf.", takes="NewStock", gives="Stock", status=201)
    def post(self, request: Request) -> Response:
        unit = "in" if firm_of().display_units == "imperial" else "mm"
        return Response(write(enter_stock(document_of(request), unit), shapes.Stock), status=201)


class StockRow(ApiView):
    @describe(
        "move_stock",
        "Set some aside for a job under your name, put it back on the shelf, or take it out of the stock.",
        takes="StockMove",
        gives="StockList",
    )
    def post(self, request: Request, stock_id: int) -> Response:
        asked = read(shapes.StockMove, Reader(document_of(request)))
        if asked.job is not None:
            set_aside(stock_id, job_of(asked.job), asked.count, by=request.user.full_name)
        elif asked.move == "put_back":
            put_back(stock_id, asked.count)
        else:
            take_out(stock_id, asked.count)
        return Response(write(Stock.objects.select_related("job"), shapes.StockList))
