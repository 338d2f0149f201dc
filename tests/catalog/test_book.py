from datetime import date
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from catalog.core.ground.document_reader import DocumentError
from catalog.core.materials.catalog_data import Catalog
from catalog.models import Closure, Firm, KitEntry, LeadTerm, Material, Price, Supplier
from catalog.services import materials as material_services
from catalog.services.book import NoFirmYet, book_of
from catalog.services.catalog_file import import_catalog, read_book, store_book
from tests.factories import documents

pytestmark = pytest.mark.both_engines


def reasons(error: pytest.ExceptionInfo[DocumentError]) -> dict[str, str]:
    return {complaint.path: complaint.reason for complaint in error.value.complaints}


def test_a_book_comes_back_as_it_was_stored(small_catalog: Catalog) -> None:
    assert book_of() == small_catalog


def test_a_catalog_imported_again_puts_back_what_was_changed_by_hand(small_catalog: Catalog) -> None:
    Material.objects.filter(code="TAPE").update(name="changed by hand")
    import_catalog(documents.catalog())
    assert book_of() == small_catalog


def test_the_book_of_a_day_knows_nothing_said_after_it(small_catalog: Catalog) -> None:
    book = book_of(date(2026, 6, 30))
    board, base = book.materials["BOARD"], book.materials["BASE"]
    assert [price.amount for price in board.packs[0].prices] == [Decimal("14.50")]
    assert [term.production_days for term in base.lead_terms] == [15]


def test_a_book_takes_as_many_queries_for_many_materials_as_for_few(small_catalog: Catalog) -> None:
    with CaptureQueriesContext(connection) as few:
        book_of()
    document = documents.catalog()
    board = next(entry for entry in document["materials"] if entry["code"] == "BOARD")
    document["materials"] += [{**board, "code": f"BOARD-{number}", "name": f"board {number}"} for number in range(20)]
    import_catalog(document)
    with CaptureQueriesContext(connection) as many:
        assert len(book_of().materials) == len(document["materials"]) > 20
    assert len(many) == len(few)


def test_storing_the_same_book_again_writes_no_history(small_catalog: Catalog) -> None:
    before = [model.history.count() for model in (Firm, Material, Price, LeadTerm, Closure)]
    store_book(small_catalog)
    assert [model.history.count() for model in (Firm, Material, Price, LeadTerm, Closure)] == before


def test_a_changed_price_writes_one_entry_with_both_amounts_kept(small_catalog: Catalog) -> None:
    document = documents.catalog()
    document["materials"][2]["packs"][0]["prices"][0]["amount"] = "16.00"
    import_catalog(document)
    amounts = Price.objects.get(amount="16.00").history.order_by("history_id").values_list("amount", flat=True)
    assert list(amounts) == [Decimal("14.50"), Decimal("16.00")]


def test_what_a_book_does_not_name_is_left_alone(small_catalog: Catalog) -> None:
    document = documents.catalog()
    document["materials"] = [entry for entry in document["materials"] if entry["code"] != "STUD"]
    import_catalog(document)
    assert "STUD" in book_of().materials


def test_what_is_known_may_be_kept_as_it_is(small_catalog: Catalog) -> None:
    document = documents.catalog()
    document["firm"]["name"] = "Another firm"
    document["materials"][0]["name"] = "another track"
    document["materials"].append(documents.material("NEW", "backing"))
    import_catalog(document, on_known="keep")
    book = book_of()
    assert book.firm.name == "Bowsprit Walls"
    assert book.materials["TRACK"].name == "track TRACK"
    assert "NEW" in book.materials


def test_a_kit_that_names_an_unknown_or_unfit_material_is_refused_with_its_path(db: None) -> None:
    document = documents.catalog()
    document["firm"]["kit"] = {"tape": "NO-SUCH", "compound": "BOARD"}
    with pytest.raises(DocumentError) as error:
        import_catalog(document)
    texts = reasons(error)
    assert '"NO-SUCH" is not a material' in texts["firm.kit.tape"]
    assert '"BOARD" is gypsum board' in texts["firm.kit.compound"]
    assert not Firm.objects.exists()
    assert not Material.objects.exists()


def test_an_unknown_supplier_a_doubled_price_day_and_a_huge_price_are_told_together(db: None) -> None:
    document = documents.catalog()
    document["materials"][6]["supplier"] = "NOBODY"
    prices = document["materials"][2]["packs"][0]["prices"]
    prices[1]["starts_on"] = prices[0]["starts_on"]
    prices[0]["amount"] = "99999999999.00"
    with pytest.raises(DocumentError) as error:
        import_catalog(document)
    assert set(reasons(error)) == {
        "materials[6].supplier",
        "materials[2].packs[0].prices[0].amount",
        "materials[2].packs[0].prices[1].starts_on",
    }


def test_a_code_given_twice_is_refused(db: None) -> None:
    document = documents.catalog()
    last = len(document["materials"])
    document["materials"].append(dict(document["materials"][0]))
    with pytest.raises(DocumentError, match=rf'materials\[{last}\].code: "TRACK" is given twice'):
        read_book(document)


def test_a_fault_half_way_stores_nothing(db: None, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*rows: object, **more: object) -> None:
        raise RuntimeError("the disk is full")

    monkeypatch.setattr(material_services, "sync_rows", fail)
    with pytest.raises(RuntimeError):
        import_catalog(documents.catalog())
    assert not Supplier.objects.exists()
    assert not Material.objects.exists()


def test_without_a_firm_the_gap_is_named(db: None) -> None:
    with pytest.raises(NoFirmYet, match="firm is not entered yet"):
        book_of()


def test_there_is_only_ever_one_firm(small_catalog: Catalog) -> None:
    from django.db import IntegrityError, transaction

    with pytest.raises(IntegrityError), transaction.atomic():
        Firm.objects.create(
            id=2, name="Second", time_zone="UTC", currency="EUR", display_units="metric",
            cushion_workdays=1, sign_off_workdays=1,
        )  # fmt: skip
    assert Firm.objects.count() == 1


def test_the_kit_keeps_the_order_of_its_screws(small_catalog: Catalog) -> None:
    document = documents.catalog()
    document["firm"]["kit"]["board_screw"] = ["SCREW-2", "SCREW-1"]
    import_catalog(document)
    assert book_of().firm.kit["board_screw"] == ("SCREW-2", "SCREW-1")
    assert KitEntry.objects.count() == 3
