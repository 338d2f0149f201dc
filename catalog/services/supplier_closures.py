from typing import Any

from django.db import transaction

from catalog.core.ground import workdays
from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import Reader
from catalog.models import Closure, Supplier
from catalog.services.row_sync import remove_first
from quoting.platform.models.core_values import column_values


@transaction.atomic
def add_supplier_closure(code: str, document: dict[str, Any]) -> Closure:
    """Days on which a supplier neither makes nor ships: first, last, reason."""
    supplier = Supplier.objects.select_for_update().get(code=code)
    closure = read(workdays.Closure, Reader(document))
    return Closure.objects.create(supplier=supplier, **column_values(closure, Closure))


def remove_supplier_closure(code: str, closure_id: int) -> bool:
    return remove_first(Closure.objects.filter(supplier_id=code, pk=closure_id))
