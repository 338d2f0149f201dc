from catalog.api import catalog, order_terms
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("catalog/materials", catalog.Materials.as_view(), "api_materials", both=DESK),
    route("catalog/materials/<path:code>", catalog.OneMaterial.as_view(), "api_material", GET=DESK, PATCH=DESK),
    route("catalog/suppliers", catalog.Suppliers.as_view(), "api_suppliers", GET=DESK),
    route(
        "catalog/suppliers/<path:code>/order-terms",
        order_terms.OrderTerms.as_view(),
        "api_order_terms",
        PUT=DESK,
        DELETE=DESK,
    ),
    route("catalog/suppliers/<path:code>", catalog.OneSupplier.as_view(), "api_supplier", GET=DESK),
    route("catalog/firm", catalog.OurFirm.as_view(), "api_firm", GET=DESK),
]
