from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from django.db.models import ProtectedError

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.units import BareLengthUnit
from catalog.core.materials.catalog_data import Catalog
from catalog.models import LeadTerm, Material, Price, Standard
from catalog.services import entries, firm
from catalog.services.book import book_of, standards_of
from catalog.services.suppliers import add_closure, delete_supplier, remove_closure, save_supplier
from tests.factories import documents

pytestmark = pytest.mark.both_engines
SOURCED = {"source": "price list", "sure": "maker"}


def test_a_price_is_added_beside_the_earlier_ones(small_catalog: Catalog) -> None:
    entries.set_price("BOARD", "BOARD-8", {"amount": "16.10", "starts_on": "2027-01-01"})
    pack = book_of().materials["BOARD"].packs[0]
    ones = [pack.price_on(day).amount for day in (date(2026, 2, 1), date(2026, 8, 1), date(2027, 2, 1))]
    assert ones == [Decimal("14.50"), Decimal("15.25"), Decimal("16.10")]


def test_a_price_of_a_day_that_has_one_is_changed_with_its_history(small_catalog: Catalog) -> None:
    entries.set_price("BOARD", "BOARD-8", {"amount": "15.00", "starts_on": "2026-07-01"})
    row = Price.objects.get(starts_on=date(2026, 7, 1))
    assert [entry.amount for entry in row.history.order_by("history_id")] == [Decimal("15.25"), Decimal("15.00")]


@pytest.mark.parametrize("amount", ["NaN", "Infinity", "1e308", "1_000", "-1", "12,50", "１２", "", None, True])
def test_what_is_no_price_is_refused_by_field(small_catalog: Catalog, amount: object) -> None:
    with pytest.raises(DocumentError, match="^amount: "):
        entries.set_price("BOARD", "BOARD-8", {"amount": amount, "starts_on": "2027-01-01"})
    assert Price.objects.count() == 2


def test_a_figure_of_another_kind_of_material_is_refused(small_catalog: Catalog) -> None:
    with pytest.raises(DocumentError, match="a board has no link_pitch_mm"):
        entries.set_fact("BOARD", "link_pitch_mm", {"value": 50, **SOURCED})


def test_a_figure_is_read_with_its_unit(small_catalog: Catalog) -> None:
    entries.set_fact("BOARD", "lengthwise_dry_least_radius_mm", {"value": "5 ft", **SOURCED})
    fact = book_of().materials["BOARD"].fact("lengthwise_dry_least_radius_mm")
    assert fact is not None
    assert fact.value == 1524


def test_a_removed_figure_is_a_gap_and_not_zero(small_catalog: Catalog) -> None:
    assert entries.remove_fact("BOARD", "thickness_mm")
    assert book_of().materials["BOARD"].fact("thickness_mm") is None
    assert not entries.remove_fact("BOARD", "thickness_mm")


def test_a_lead_term_is_added_to_what_was_said_before(small_catalog: Catalog) -> None:
    text = {
        "production": "4 weeks",
        "transit_workdays": 1,
        "source": "telephone",
        "stated_on": "2026-10-05",
    }
    entries.add_lead_term("BASE", text)
    assert [term.production_days for term in book_of().materials["BASE"].lead_terms] == [15, 30, 20]


def test_a_range_of_weeks_is_refused_by_field(small_catalog: Catalog) -> None:
    text = {"production": "3-4 weeks", "transit_workdays": 1, "source": "x", "stated_on": "2026-10-05"}
    with pytest.raises(DocumentError, match=r"^production: .*longer time"):
        entries.add_lead_term("BASE", text)
    assert LeadTerm.objects.count() == 2


def test_a_material_is_added_with_its_note_and_changed_by_entry(small_catalog: Catalog) -> None:
    entries.add_material(documents.material("PAINT-1", "paint", unit_used="gal", note="matt"))
    entries.change_material("PAINT-1", {"name": "Wall paint, matt", "active": False})
    row = Material.objects.get(code="PAINT-1")
    assert (row.name, row.note, row.active) == ("Wall paint, matt", "matt", False)


@pytest.mark.parametrize("bare_unit", ["in", "mm"])
def test_what_is_not_changed_stays_whatever_the_unit_of_the_screen(
    small_catalog: Catalog, bare_unit: BareLengthUnit
) -> None:
    entries.change_material("BOARD", {"name": "Thin board"}, bare_unit)
    firm.save_firm({"contact": "the desk"}, bare_unit)
    book = book_of()
    assert book.materials["BOARD"] == replace(small_catalog.materials["BOARD"], name="Thin board")
    assert book.standards == small_catalog.standards


def test_a_taken_code_is_refused(small_catalog: Catalog) -> None:
    with pytest.raises(DocumentError, match=r'^code: "BOARD" is another material'):
        entries.add_material(documents.material("BOARD", "board"))


def test_a_code_never_changes(small_catalog: Catalog) -> None:
    with pytest.raises(DocumentError, match=r"^code: .*cannot change"):
        entries.change_material("BOARD", {"code": "BOARD-2"})


def test_a_pack_is_added_and_a_taken_code_refused(small_catalog: Catalog) -> None:
    entries.add_pack("BOARD", {"code": "BOARD-10", "label": "10 ft", "quantity": 40, "length": 120}, "in")
    pack = book_of().materials["BOARD"].packs[-1]
    assert (pack.code, pack.length_mm) == ("BOARD-10", 3048.0)
    with pytest.raises(DocumentError, match=r'^code: "BOARD-10" is another pack'):
        entries.add_pack("BOARD", {"code": "BOARD-10", "label": "again", "quantity": 40})


def test_a_pack_without_a_quantity_is_refused_by_field(small_catalog: Catalog) -> None:
    with pytest.raises(DocumentError, match="^quantity: is missing"):
        entries.add_pack("BOARD", {"code": "B", "label": "b"})


def test_a_material_in_use_cannot_be_deleted_and_can_be_set_aside(small_catalog: Catalog) -> None:
    with pytest.raises(ProtectedError):
        Material.objects.get(code="TAPE").delete()
    entries.set_active("TAPE", False)
    assert "TAPE" not in [row.code for row in entries.list_materials(active_only=True)]
    assert "TAPE" in book_of().materials


def test_a_material_nobody_uses_can_be_deleted(small_catalog: Catalog) -> None:
    Material.objects.get(code="BASE").delete()
    assert not Material.objects.filter(code="BASE").exists()
    assert not LeadTerm.objects.exists()


def test_a_standard_is_stated_within_its_bounds(small_catalog: Catalog) -> None:
    firm.set_standard("paint_coats", {"value": 3, "source": "this job's habit", "sure": "firm"})
    assert standards_of().fact("paint_coats").value == 3  # type: ignore[union-attr]
    with pytest.raises(DocumentError, match=r"^value: .*from 0 to 6"):
        firm.set_standard("paint_coats", {"value": 7, "source": "a slip", "sure": "firm"})


def test_a_removed_standard_is_a_gap(small_catalog: Catalog) -> None:
    assert firm.remove_standard("paint_coats")
    assert standards_of().fact("paint_coats") is None
    assert Standard.history.filter(name="paint_coats", history_type="-").exists()


def test_the_firm_changes_entry_by_entry(small_catalog: Catalog) -> None:
    firm.save_firm({"cushion_workdays": 4})
    result = book_of().firm
    assert (result.cushion_workdays, result.sign_off_workdays, result.name) == (4, 5, "Bowsprit Walls")
    with pytest.raises(DocumentError, match="^time_zone: "):
        firm.save_firm({"time_zone": "Mars/Base"})


def test_a_closure_of_the_firm_comes_and_goes(small_catalog: Catalog) -> None:
    row = add_closure({"first": "2027-07-19", "last": "2027-07-30"})
    assert len(book_of().firm.closures) == 2
    assert remove_closure(row.pk)
    with pytest.raises(DocumentError, match="ends on or after its first day"):
        add_closure({"first": "2027-07-30", "last": "2027-07-19"})


def test_a_supplier_who_supplies_something_cannot_be_deleted(small_catalog: Catalog) -> None:
    with pytest.raises(DocumentError, match="supplies BASE"):
        delete_supplier("MILL")
    save_supplier({"code": "YARD", "name": "The yard", "note": "closed on Fridays"}, adding=True)
    delete_supplier("YARD")
    with pytest.raises(DocumentError, match="another supplier's code"):
        save_supplier({"code": "MILL", "name": "Another"}, adding=True)
