"""The firm's stock by program. The desk's."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.document_reader import Reader
from catalog.core.ground.plain_text import money, plain
from catalog.services.book import firm_of
from jobs.jobs.services.jobs import job_of
from jobs.stock.models import Stock
from jobs.stock.services.stock import MAX_OF_A_ROW, enter_stock, put_back, set_aside, take_out
from quoting.platform.api.base import ApiView, Document, document_of
from quoting.platform.api.describing import describe

MOVES = ("set_aside", "put_back", "take_out")


class StockRows(ApiView):
    @describe("list_stock", "What the firm has: on the shelf, or set aside for a job.", gives="StockList")
    def get(self, request: Request) -> Response:
        return Response({"stock": [of_stock(row) for row in Stock.objects.select_related("job")]})

    @describe("enter_stock", "Put something on the shelf.", takes="NewStock", gives="Stock", status=201)
    def post(self, request: Request) -> Response:
        unit = "in" if firm_of().display_units == "imperial" else "mm"
        return Response(of_stock(enter_stock(document_of(request), unit)), status=201)


class StockRow(ApiView):
    @describe(
        "move_stock",
        "Set some aside for a job under your name, put it back on the shelf, or take it out of the stock.",
        takes="StockMove",
        gives="StockList",
    )
    def post(self, request: Request, stock_id: int) -> Response:
        reader = Reader(document_of(request))
        move, count = reader.choice("move", MOVES), reader.whole("count", 1, MAX_OF_A_ROW)
        job = job_of(reader.text("job")) if move == "set_aside" else None
        reader.finish()
        if job is not None:
            set_aside(stock_id, job, count, by=request.user.full_name)
        elif move == "put_back":
            put_back(stock_id, count)
        else:
            take_out(stock_id, count)
        return Response({"stock": [of_stock(row) for row in Stock.objects.select_related("job")]})


def of_stock(row: Stock) -> Document:
    return {
        "id": row.pk,
        "material": row.material_id,
        "length_mm": plain(row.length_mm),
        "pack": row.pack,
        "count": row.count,
        "unit_cost": money(row.unit_cost),
        "note": row.note,
        "job": row.job.key if row.job else None,
        "set_aside_by": row.set_aside_by_name,
    }
