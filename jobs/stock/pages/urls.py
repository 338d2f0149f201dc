from jobs.stock.pages import page
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("buying/stock/", page.stock, both=DESK),
    route("buying/stock/<int:stock_id>/", page.stock_act, POST=DESK),
]
