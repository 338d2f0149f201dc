from collections.abc import Iterable, Mapping
from typing import Any

from django.db import transaction

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.units import BareLengthUnit
from catalog.core.materials import specs
from catalog.core.materials.facts import read_fact
from catalog.core.materials.firm_document import FirmWithStandards
from catalog.core.materials.specs import ROLES, KitOf, SpecError
from catalog.core.materials.standards import STANDARD_SPECS, Standards, check_standard
from catalog.models import Closure, Firm, KitEntry, SpacingStep, Standard
from catalog.services.book import firm_of, standards_of
from catalog.services.material_references import MaterialRef, check_references
from catalog.services.row_sync import Figures, remove_first, save_if_changed, sync_rows
from catalog.services.suppliers import closure_figures
from catalog.services.typed_money import entry_reader
from quoting.platform.models.core_values import column_values


@transaction.atomic
def store_firm(firm: specs.Firm, standards: Standards, path: str = "firm") -> None:
    """Make the firm, its closures, kit and standards exactly these. The kit's materials must be there."""
    row = Firm.objects.select_for_update().first() or Firm()
    save_if_changed(row, column_values(firm, Firm))
    sync_rows(Closure.objects.filter(supplier=None), closure_figures(firm.closures), owner={})
    store_kit(firm.kit, f"{path}.kit")
    store_standards(standards)


@transaction.atomic
def store_kit(kit: Mapping[str, tuple[str, ...]], path: str = "kit") -> None:
    check_references(kit_names(kit, path))
    sync_rows(KitEntry.objects.all(), kit_figures(kit), key=("role", "order"), owner={})


def kit_names(kit: Mapping[str, tuple[str, ...]], path: str) -> Iterable[MaterialRef]:
    for role, codes in kit.items():
        for code in codes:
            yield MaterialRef(f"{path}.{role}", code, ROLES[role][0])


def kit_figures(kit: Mapping[str, tuple[str, ...]]) -> Iterable[Figures]:
    for role, codes in kit.items():
        for place, code in enumerate(codes):
            yield {"role": role, "order": place, "material_id": code}


@transaction.atomic
def store_standards(standards: Standards) -> None:
    facts = (column_values(fact, Standard, name=name) for name, fact in standards.facts.items())
    sync_rows(Standard.objects.all(), facts, key=("name",), owner={})
    steps = [column_values(step, SpacingStep) for step in standards.spacing_steps]
    sync_rows(SpacingStep.objects.all(), steps, key=("from_radius_mm",), owner={})


@transaction.atomic
def save_firm(changes: dict[str, Any], bare_unit: BareLengthUnit = "in") -> Firm:
    """Change some of the firm's entries, named as in a catalog file; what is not named stays."""
    document = {**write(FirmWithStandards(firm_of(), standards_of())), **changes} if Firm.objects.exists() else changes
    reader = Reader(document, bare_unit=bare_unit)
    both = read(FirmWithStandards, reader)
    store_firm(both.firm, both.standards, "")
    return Firm.objects.get()


@transaction.atomic
def set_standard(name: str, document: dict[str, Any], bare_unit: BareLengthUnit = "in") -> Standard:
    """State one standard: value, source, sure, stated_on."""
    if name not in STANDARD_SPECS:
        raise DocumentError.at("name", f'"{name}" is not a standard known here')
    fact = read_fact(entry_reader(document, bare_unit=bare_unit), STANDARD_SPECS[name].unit)
    try:
        check_standard(name, fact.value)
    except SpecError as error:
        raise DocumentError.at("value", str(error)) from error
    row = Standard.objects.filter(name=name).first() or Standard(name=name)
    save_if_changed(row, column_values(fact, Standard))
    return row


def remove_standard(name: str) -> bool:
    """From then on it is a gap, named where it is needed."""
    return remove_first(Standard.objects.filter(name=name))


def set_kit(document: dict[str, Any]) -> None:
    """The whole kit: role -> code or codes."""
    store_kit(KitOf().read(Reader({"kit": document}), "kit"))
