from django.db import transaction
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.api.catalog import answered, entry_of
from catalog.models import Supplier
from catalog.services.order_terms import remove_order_terms, set_order_terms
from quoting.platform.api.base import ApiView, Document, document_of, held
from quoting.platform.api.describing import describe


class OrderTerms(ApiView):
    @describe(
        "set_order_terms",
        "On which terms a supplier takes orders, whole: what is not named is not said.",
        takes="OrderTerms",
        gives="SupplierEntry",
        tagged=True,
        guarded="the supplier",
    )
    @transaction.atomic
    def put(self, request: Request, code: str) -> Response:
        held(request, Supplier.objects.filter(code=code), lambda: supplier(code))
        set_order_terms(code, document_of(request))
        return answered(supplier(code))

    @describe(
        "remove_order_terms",
        "Nothing is stated of how a supplier takes orders.",
        gives="SupplierEntry",
        tagged=True,
        guarded="the supplier",
    )
    @transaction.atomic
    def delete(self, request: Request, code: str) -> Response:
        held(request, Supplier.objects.filter(code=code), lambda: supplier(code))
        if not remove_order_terms(code):
            raise Supplier.DoesNotExist
        return answered(supplier(code))


def supplier(code: str) -> Document:
    return entry_of(Supplier.objects.get(code=code))
