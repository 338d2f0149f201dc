from jobs.stock.api import stock
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("stock", stock.StockRows, both=DESK),
    route("stock/<int:stock_id>", stock.StockRow, POST=DESK),
]
