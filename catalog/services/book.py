from collections import defaultdict
from datetime import date
from zoneinfo import ZoneInfo

from django.db.models import Prefetch, QuerySet

from catalog.core.ground.refusal import Refused
from catalog.core.materials import specs, standards
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.offers import offers_by
from catalog.models import (
    Closure,
    Firm,
    KitEntry,
    LeadTerm,
    Material,
    PlannedLead,
    Price,
    SpacingStep,
    Standard,
    Supplier,
)


class NoFirmYet(Refused):
    """Nothing can be worked out before the firm is entered."""

    def __init__(self) -> None:
        super().__init__("The firm is not entered yet: its name, time zone, currency and usual days are needed first.")


def book_of(on_day: date | None = None) -> Catalog:
    """The whole catalog as one core value, in a constant number of queries.

    With a day, what was priced, promised or accepted for planning only after it is left out.
    """
    suppliers = Supplier.objects.select_related("order_terms").prefetch_related("closures")
    return Catalog(
        firm_of(),
        standards_of(),
        {row.code: row.to_core() for row in suppliers},
        {row.code: _material(row, on_day) for row in materials_with_parts(on_day)},
    )


def _material(row: Material, on_day: date | None) -> specs.Material:
    return row.to_core() if on_day is None else offers_by(row.to_core(), on_day)


def materials_with_parts(on_day: date | None = None) -> QuerySet[Material]:
    prices, terms, planned = Price.objects.all(), LeadTerm.objects.all(), PlannedLead.objects.all()
    if on_day is not None:
        prices, terms = prices.filter(starts_on__lte=on_day), terms.filter(stated_on__lte=on_day)
        planned = planned.filter(accepted_on__lte=on_day)
    return Material.objects.prefetch_related(
        "packs",
        Prefetch("packs__prices", prices),
        "facts",
        Prefetch("lead_terms", terms),
        Prefetch("planned_leads", planned),
    )


def zone_of_the_firm() -> ZoneInfo | None:
    row = Firm.objects.first()
    return row.zone if row else None


def firm_of() -> specs.Firm:
    row = Firm.objects.first()
    if row is None:
        raise NoFirmYet
    closures = tuple(one.to_core() for one in Closure.objects.filter(supplier=None))
    return row.to_core(closures, kit_of())


def kit_of() -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = defaultdict(list)
    for entry in KitEntry.objects.all():
        found[entry.role].append(entry.material_id)
    return {role: tuple(found[role]) for role in specs.ROLES if role in found}


def standards_of() -> standards.Standards:
    return standards.Standards(
        {row.name: row.to_core() for row in Standard.objects.all()},
        tuple(row.to_core() for row in SpacingStep.objects.all()),
    )
