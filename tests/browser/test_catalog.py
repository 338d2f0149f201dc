import pytest

from catalog.models import Material, Supplier
from catalog.services.csv_export import export_csv
from catalog.services.entries import change_material
from tests.browser.conftest import DESKTOP, keep_picture, look_over
from tests.documents import starter
from tests.stored import stored_book

pytestmark = pytest.mark.browser


@pytest.fixture
def catalog(transactional_db):
    stored_book(starter(), "starter")
    change_material("PAINT-WALL", {"waste": None, "supplier": None})


@pytest.fixture
def trim(catalog):
    return Material.objects.get(code="BASE-514-FLEX")


def test_the_catalog_names_prices_lead_times_and_what_is_missing(visit, catalog):
    page = visit("/catalog/", "office")
    assert page.get_by_text("Missing: waste; a supplier.").count() == 1
    page.get_by_role("searchbox", name="Find", exact=True).fill("tape-paper")
    page.wait_for_url("**q=tape-paper**")
    assert page.locator("#materials tbody tr:not(:has(.group))").count() == 1


def test_a_material_shows_its_prices_figures_and_lead_times(visit, trim):
    page = visit(f"/catalog/materials/{trim.pk}/", "owner")
    assert page.get_by_role("heading", level=1).inner_text() == trim.name
    assert "in force" in page.locator("main").inner_text()


@pytest.mark.parametrize(
    "path",
    [
        "/catalog/materials/add/",
        "/firm/",
        "/firm/kit/",
        "/firm/spacing/",
        "/firm/standards/curve_factor/",
        "/buying/suppliers/",
        "/catalog/sheet/",
    ],
)
def test_every_other_sheet_of_the_catalog_is_whole(visit, catalog, path):
    page = visit(path, "estimator")
    assert page.locator("h1").inner_text()


def test_a_new_price_is_entered_and_seen_with_its_history(visit, trim):
    pack = trim.packs.get()
    page = visit(f"/catalog/materials/{trim.pk}/packs/{pack.pk}/price/", "office")
    page.get_by_label("Price", exact=True).fill("31.50")
    page.get_by_role("button", name="Save").click()
    page.get_by_role("link", name="Who changed what").click()
    assert "31.5" in page.locator("main").text_content()
    assert "The office" in page.locator("main").text_content()


def test_a_supplier_shows_its_closed_days(visit, catalog):
    row = Supplier.objects.get(code="HENNOCK")
    page = visit(f"/buying/suppliers/{row.pk}/", "office")
    assert "winter shutdown" in page.locator("main").inner_text()


def test_a_sheet_brought_in_shows_what_it_would_do(visit, trim, tmp_path):
    sheet = tmp_path / "catalog.csv"
    sheet.write_bytes(export_csv().replace(trim.name.encode(), b"Renamed base"))
    page = visit("/catalog/sheet/", "office")
    page.get_by_label("CSV file").set_input_files(str(sheet))
    page.get_by_role("button", name="Show what it would do").click()
    page.get_by_text("1 changed").wait_for()
    look_over(page)
    keep_picture(page, "/catalog/sheet/preview", "office", DESKTOP, False)
    page.get_by_role("button", name="Bring all of it in").click()
    page.get_by_text("Brought in: 0 added, 1 changed").wait_for()
