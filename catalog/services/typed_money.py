"""Documents read as the firm's people type them: amounts as the firm's place prints them."""

from typing import Any

from catalog.core.ground.document_reader import Reader
from catalog.core.ground.typed_marks import MoneyMarks
from catalog.core.ground.units import BareLengthUnit
from catalog.models import Firm
from quoting.platform.formatting import printed_marks


def entry_reader(document: dict[str, Any], path: str = "", bare_unit: BareLengthUnit = "in") -> Reader:
    return Reader(document, path, bare_unit, firm_marks())


def firm_marks() -> MoneyMarks:
    return printed_marks(Firm.objects.values_list("currency", flat=True).first() or "")
