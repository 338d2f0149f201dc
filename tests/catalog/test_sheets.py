"""Suppliers and lead times as sheets: out and in the same, wrong rows by their line, all or nothing."""

from datetime import date, time

import pytest

from catalog.core.ground.refusal import Refused
from catalog.core.materials.catalog_data import Catalog
from catalog.models import Closure, LeadTerm, Material, OrderTerms, Supplier
from catalog.services.catalog_file import store_book
from catalog.services.known_sheets import SHEETS
from tests.documents import starter

pytestmark = pytest.mark.both_engines
TERM = "material,production,transit_workdays,source,stated_on"


@pytest.fixture
def book(db: None) -> Catalog:
    store_book(starter(), on_known="keep")
    mill = Supplier.objects.get(code="HENNOCK")
    Supplier.objects.filter(pk=mill.pk).update(order_cut_off=time(14, 30), note="=Ring first")
    terms = {"freight": "65.00", "claim_days": 5, "rush_share": "0.25", "source": "price list"}
    OrderTerms.objects.update_or_create(supplier=mill, defaults={**terms, "stated_on": date(2026, 10, 1)})
    return starter()


def sheet(*lines: str) -> bytes:
    return ("\r\n".join(lines) + "\r\n").encode()


def apply(name: str, content: bytes) -> None:
    seen = SHEETS[name].preview(content)
    SHEETS[name].apply(content, seen.sha256, seen.plan_sha256)


def errors(name: str, content: bytes) -> list[str]:
    return [str(error) for error in SHEETS[name].preview(content).errors]


@pytest.mark.parametrize("name", ["suppliers", "lead-terms"])
def test_a_sheet_read_back_changes_nothing(book: Catalog, name: str) -> None:
    content = SHEETS[name].export()
    seen = SHEETS[name].preview(content)
    assert (seen.errors, seen.added, seen.changes) == ((), (), ()) and seen.unchanged
    apply(name, content)
    assert SHEETS[name].export() == content


def test_a_sheet_of_suppliers_fills_an_empty_list_with_all_it_holds(book: Catalog) -> None:
    content = SHEETS["suppliers"].export()
    Material.objects.update(supplier=None)
    Supplier.objects.all().delete()
    apply("suppliers", content)
    assert SHEETS["suppliers"].export() == content


def test_a_sheet_of_lead_times_fills_an_empty_list_in_its_order(book: Catalog) -> None:
    content = SHEETS["lead-terms"].export()
    LeadTerm.objects.all().delete()
    apply("lead-terms", content)
    assert SHEETS["lead-terms"].export() == content


def test_columns_left_out_of_suppliers_change_nothing(book: Catalog) -> None:
    before, closed = Supplier.objects.get(code="HENNOCK"), Closure.objects.count()
    apply("suppliers", sheet("code,phone", "HENNOCK,555 0142"))
    after = Supplier.objects.get(code="HENNOCK")
    assert (after.phone, after.note, after.order_cut_off) == ("555 0142", "=Ring first", before.order_cut_off)
    assert (after.order_terms.freight, Closure.objects.count()) == (65, closed)


def test_a_further_row_closes_a_supplier_for_further_days(book: Catalog) -> None:
    before = Closure.objects.filter(supplier="HENNOCK").count()
    rows = ("HENNOCK,2027-08-02,2027-08-13,works holiday", "HENNOCK,2027-09-06,2027-09-06,fair")
    apply("suppliers", sheet("code,closed_from,closed_until,closed_reason", *rows))
    assert Closure.objects.filter(supplier="HENNOCK").count() == before + 2


def test_wrong_rows_are_listed_by_line_and_nothing_is_stored(book: Catalog) -> None:
    content = sheet(
        "code,name,order_cut_off,closed_from,closed_until,claim_days",
        "NEW,New mill,,2027-08-13,2027-08-02,",
        "HENNOCK,,25:00,,,-1",
    )
    result = errors("suppliers", content)
    places = [sentence.partition(":")[0] for sentence in result]
    assert places == ["line 2, closed_from", "line 3, name", "line 3, order_cut_off", "line 3, claim_days"]
    with pytest.raises(Refused, match="line 3, name"):
        apply("suppliers", content)
    assert not Supplier.objects.filter(code="NEW").exists()


def test_a_lead_time_is_added_after_those_there_and_once(book: Catalog) -> None:
    code = Material.objects.order_by("code").values_list("code", flat=True)[0]
    content, before = sheet(TERM, f"{code},3 weeks,3,telephone,2026-11-02"), LeadTerm.objects.count()
    apply("lead-terms", content)
    apply("lead-terms", content)
    row = LeadTerm.objects.order_by("pk").last()
    assert row is not None and LeadTerm.objects.count() == before + 1
    assert (row.material.code, row.production_days, row.production_counts) == (code, 15, "workdays")


def test_wrong_lead_times_are_listed_by_line(book: Catalog) -> None:
    code = Material.objects.order_by("code").values_list("code", flat=True)[0]
    rows = (f"{code},soon,3,telephone,2026-11-02", "NOTHING,3 weeks,3,telephone,2026-11-02")
    twice = (f"{code},3 weeks,3,telephone,2026-11-02",) * 2
    result = errors("lead-terms", sheet(TERM, *rows, *twice))
    assert [text.partition(":")[0] for text in result] == ["line 2, production", "line 3, material", "line 5"]


def test_a_sheet_changed_since_its_preview_is_refused(book: Catalog) -> None:
    content = sheet("code,phone", "HENNOCK,555 0142")
    seen = SHEETS["suppliers"].preview(content)
    Supplier.objects.filter(code="HENNOCK").update(phone="555 0199")
    with pytest.raises(Refused, match="catalog changed"):
        SHEETS["suppliers"].apply(content, seen.sha256, seen.plan_sha256)
