from catalog.api import catalog, order_terms
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("catalog/materials", catalog.Materials, both=DESK),
    route("catalog/materials/<path:code>", catalog.OneMaterial, "api_material", GET=DESK, PATCH=DESK),
    route("catalog/suppliers", catalog.Suppliers, GET=DESK),
    route("catalog/suppliers/<path:code>/order-terms", order_terms.OrderTerms, PUT=DESK, DELETE=DESK),
    route("catalog/suppliers/<path:code>", catalog.OneSupplier, GET=DESK),
    route("catalog/firm", catalog.OurFirm, GET=DESK),
]
