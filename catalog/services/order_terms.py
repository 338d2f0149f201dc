from typing import Any

from django.db import transaction

from catalog.core.ground.declared import read
from catalog.core.leads import order_terms
from catalog.models import OrderTerms, Supplier
from catalog.services.row_sync import remove_first, save_if_changed
from catalog.services.typed_money import entry_reader
from quoting.platform.models.core_values import column_values


@transaction.atomic
def set_order_terms(code: str, document: dict[str, Any]) -> OrderTerms:
    """On which terms a supplier takes orders, as it said: what is not named is not said."""
    supplier = Supplier.objects.select_for_update().get(code=code)
    terms = read(order_terms.OrderTerms, entry_reader(document))
    row = OrderTerms.objects.filter(supplier=supplier).first() or OrderTerms(supplier=supplier)
    save_if_changed(row, column_values(terms, OrderTerms))
    return row


@transaction.atomic
def remove_order_terms(code: str) -> bool:
    """From then on each of them is a gap, named where it is needed."""
    return remove_first(OrderTerms.objects.filter(supplier__code=code))
