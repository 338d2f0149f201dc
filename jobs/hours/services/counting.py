"""How the firm counts minutes that are typed: as they are, or to the nearest 5, 6 or 15, both ways."""

from typing import Any

from catalog.core.ground.document_reader import Reader
from catalog.services.row_sync import save_if_changed
from jobs.core.costs.hours import ROUNDINGS
from jobs.hours.models import HoursRule


def rounding() -> int:
    return HoursRule.objects.values_list("rounding", flat=True).first() or 1


def hours_rule() -> HoursRule:
    return HoursRule.objects.first() or HoursRule()


def set_rounding(document: dict[str, Any]) -> HoursRule:
    """rounding: 1, 5, 6 or 15. It holds for hours entered from now on."""
    reader = Reader(document)
    step = reader.whole("rounding", 1, max(ROUNDINGS))
    reader.finish()
    if step not in ROUNDINGS:
        raise reader.error("rounding", f"{step} is not one of {', '.join(map(str, ROUNDINGS))} minutes")
    row = hours_rule()
    save_if_changed(row, {"rounding": step})
    return row
