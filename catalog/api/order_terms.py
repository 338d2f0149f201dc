from rest_framework.request import Request
from rest_framework.response import Response

from catalog.api.catalog import of_supplier
from catalog.models import Supplier
from catalog.services.order_terms import remove_order_terms, set_order_terms
from quoting.platform.api.base import ApiView, document_of
from quoting.platform.api.describing import describe


class OrderTerms(ApiView):
    @describe(
        "set_order_terms",
        "On which terms a supplier takes orders, whole: what is not named is not said.",
        takes="OrderTerms",
        gives="SupplierEntry",
    )
    def put(self, request: Request, code: str) -> Response:
        set_order_terms(code, document_of(request))
        return Response(of_supplier(Supplier.objects.get(code=code)))

    @describe("remove_order_terms", "Nothing is stated of how a supplier takes orders.", gives="SupplierEntry")
    def delete(self, request: Request, code: str) -> Response:
        row = Supplier.objects.get(code=code)
        if not remove_order_terms(code):
            raise Supplier.DoesNotExist
        return Response(of_supplier(Supplier.objects.get(pk=row.pk)))
