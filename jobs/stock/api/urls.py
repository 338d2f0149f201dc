from jobs.stock.api import stock
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("stock", stock.StockRows.as_view(), "api_stock", both=DESK),
    route("stock/<int:stock_id>", stock.StockRow.as_view(), "api_stock_row", POST=DESK),
]
