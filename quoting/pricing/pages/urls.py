from quoting.platform.people.access import PRICERS, route
from quoting.pricing.pages import rates

urlpatterns = [
    route("firm/rates/", rates.rates, GET=PRICERS),
    route("firm/rates/tax/", rates.tax_rate_set, POST=PRICERS),
    route("firm/rates/tax/<int:rate_id>/remove/", rates.tax_rate_remove, POST=PRICERS),
    route("firm/rates/labour/", rates.labour_rate_set, POST=PRICERS),
    route("firm/rates/labour/<int:rate_id>/remove/", rates.labour_rate_remove, POST=PRICERS),
]
