import pytest

from catalog.models import Material, Supplier
from catalog.services.csv_export import export_csv
from catalog.services.entries import change_material
from tests.browser.conftest import DESKTOP, PHONE, keep_picture, look_over
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


def paste(page, text: str) -> None:
    page.evaluate(
        """(text) => {
          const data = new DataTransfer();
          data.setData("text/plain", text);
          const how = {clipboardData: data, bubbles: true, cancelable: true};
          document.activeElement.dispatchEvent(new ClipboardEvent("paste", how));
        }""",
        text,
    )


def cell(page, name: str, row: int = 0):
    return page.locator(f"td input[name$='-{name}']").nth(row)


def test_a_supplier_is_filled_down_through_the_materials_without_one(visit, catalog):
    for code in ("TAPE-PAPER", "PRIMER-PVA", "GB-12"):
        change_material(code, {"supplier": None})
    page = visit("/catalog/", "office")
    page.get_by_role("link", name="4 of 37 need a supplier").click()
    cell(page, "supplier").fill("Tollard Yard Supply")
    page.keyboard.press("Control+d")
    assert page.get_by_role("status").filter(has_text="3 cells filled, not saved yet.").is_visible()
    page.get_by_role("button", name="Save").click()
    page.get_by_text("Saved: 4 cells of 4 materials.").wait_for()
    assert not Material.objects.filter(supplier=None).exists()


def test_arrow_keys_move_and_columns_of_a_spreadsheet_are_pasted_and_taken_back(visit, catalog):
    page = visit("/catalog/?kind=trim", "office")
    cell(page, "price").click()
    page.keyboard.press("ArrowDown")
    paste(page, "21.50\t4 weeks + 2\n22.75\t20 + 3\n")
    typed = [cell(page, name, row).input_value() for row in (1, 2) for name in ("price", "lead")]
    assert typed == ["21.50", "4 weeks + 2", "22.75", "20 + 3"]
    page.get_by_role("button", name="Undo").click()
    assert cell(page, "price", 1).input_value() != "21.50"
    paste(page, "21.50\t4 weeks + 2\n22.75\t20-25\n")
    page.get_by_role("button", name="Save").click()
    page.get_by_role("link", name="is a range").wait_for()
    # What was typed stands, and what is put right is sent with all of it.
    assert cell(page, "price", 1).input_value() == "21.50"
    cell(page, "lead", 2).fill("25 + 3")
    page.get_by_role("button", name="Save").click()
    page.get_by_text("Saved: 4 cells of 2 materials.").wait_for()


def test_on_a_phone_one_row_of_the_grid_is_open_at_a_time(visit, catalog):
    page = visit("/catalog/?kind=trim", "office", width=PHONE)
    opened = page.locator("td input:visible")
    assert opened.count() == 0
    for row in (0, 2):
        page.locator("tbody .short").nth(row).click()
        assert opened.count() == 5


def test_a_material_shows_its_prices_figures_and_lead_times(visit, trim):
    page = visit(f"/catalog/materials/{trim.pk}/", "owner")
    assert page.get_by_role("heading", level=1).inner_text() == trim.name
    assert "in force" in page.locator("main").text_content()


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
    page.get_by_role("button", name="Look at it").click()
    page.get_by_text("1 changed").wait_for()
    look_over(page)
    keep_picture(page, "/catalog/sheet/preview", "office", DESKTOP, False)
    page.get_by_role("button", name="Import all").click()
    page.get_by_text("Imported: 0 added, 1 changed").wait_for()
