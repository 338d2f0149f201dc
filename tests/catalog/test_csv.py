import csv
import io
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from catalog.core.ground.refusal import Refused
from catalog.core.materials.catalog_data import Catalog
from catalog.models import Material, Pack, Price
from catalog.services.book import book_of
from catalog.services.catalog_file import store_book
from catalog.services.csv_columns import COLUMNS
from catalog.services.csv_export import export_csv
from catalog.services.csv_import import apply_csv, preview_csv
from catalog.services.csv_reading import MAX_BYTES
from catalog.services.csv_writing import shielded, unshielded, write_sheet
from tests.documents import starter

pytestmark = pytest.mark.both_engines
HEAD = "code,name,kind,unit_used,unit_bought"
PRICES = "code,pack_code,price,price_starts_on"


def sheet(*lines: str) -> bytes:
    return ("\r\n".join(lines) + "\r\n").encode()


def apply(content: bytes) -> None:
    preview = preview_csv(content)
    apply_csv(content, preview.sha256, preview.plan_sha256)


def errors(content: bytes) -> list[str]:
    return [str(error) for error in preview_csv(content).errors]


def test_an_export_read_back_changes_nothing(small_catalog: Catalog) -> None:
    content = export_csv()
    preview = preview_csv(content)
    assert (preview.errors, preview.added, preview.changes) == ((), (), ())
    assert len(preview.unchanged) == 8
    apply(content)
    assert book_of() == small_catalog
    assert export_csv() == content


def test_an_export_fills_an_empty_catalog_with_all_it_holds(small_catalog: Catalog) -> None:
    content = export_csv()
    Material.objects.filter(code__in=["TRACK", "STUD", "BOARD"]).delete()
    apply(content)
    assert export_csv() == content


def test_a_preview_stores_nothing_and_says_old_and_new(small_catalog: Catalog) -> None:
    preview = preview_csv(sheet(PRICES, "BOARD,BOARD-8,19.90,2026-07-01", "TAPE,TAPE-1,4.00,2026-07-01"))
    assert Price.objects.count() == 2
    assert [str(error) for error in preview.errors] == [
        "line 3, pack_label: is missing",
        "line 3, pack_quantity: is missing",
    ]
    preview = preview_csv(sheet(PRICES, "BOARD,BOARD-8,19.90,2026-07-01"))
    assert [(c.line, c.code, c.entry, c.old, c.new) for c in preview.changes] == [
        (2, "BOARD", "packs BOARD-8 prices 2026-07-01 amount", "15.25", "19.90")
    ]
    assert Price.objects.count() == 2


def test_a_price_list_changes_prices_and_nothing_else(small_catalog: Catalog) -> None:
    before = book_of().materials["BOARD"]
    apply(sheet(PRICES, "BOARD,BOARD-8,19.90,2027-01-01"))
    after = book_of().materials["BOARD"]
    assert [price.amount for price in after.packs[0].prices][-1] == Decimal("19.90")
    assert (after.facts, after.packs[1], after.name) == (before.facts, before.packs[1], before.name)


def test_the_same_file_twice_changes_nothing(small_catalog: Catalog) -> None:
    content = sheet(f"{HEAD},waste", "NEW,New board,board,sqft,sheet,0.123456789")
    apply(content)
    before = Material.history.count()
    assert preview_csv(content).unchanged == ("NEW",)
    apply(content)
    assert Material.history.count() == before


def test_one_wrong_line_stores_nothing_of_the_others(small_catalog: Catalog) -> None:
    content = sheet(HEAD, "GOOD,Good,board,sqft,sheet", "BAD,Bad,bord,sqft,sheet")
    assert errors(content) == [
        'line 3, kind: "bord" is not one of track, stud, board, fastener, bead, compound, tape, primer, '
        "paint, trim, insulation, backing, own"
    ]
    with pytest.raises(Refused, match="line 3, kind"):
        apply(content)
    assert not Material.objects.filter(code="GOOD").exists()


def test_a_profile_with_its_positions_is_previewed(db: None) -> None:
    store_book(starter(), on_known="keep")
    name = Material.objects.get(code="CAP-OAK-PRE").name  # runs as a cap and on top
    preview = preview_csv(export_csv().replace(name.encode(), b"Renamed cap"))
    assert [(change.entry, change.new) for change in preview.changes] == [("name", "Renamed cap")]


def test_another_file_than_the_previewed_is_refused(small_catalog: Catalog) -> None:
    seen = preview_csv(sheet(PRICES, "BOARD,BOARD-8,19.90,2026-07-01"))
    other = sheet(PRICES, "BOARD,BOARD-8,1.00,2026-07-01")
    with pytest.raises(Refused, match="not the file that was previewed"):
        apply_csv(other, seen.sha256)
    assert not Price.objects.filter(amount=1).exists()
    apply_csv(other, preview_csv(other).sha256)
    assert Price.objects.filter(amount=1).exists()


def test_a_catalog_that_changed_since_the_preview_is_noticed(small_catalog: Catalog) -> None:
    content = sheet(PRICES, "BOARD,BOARD-8,19.90,2026-07-01")
    seen = preview_csv(content)
    Price.objects.filter(amount="15.25").update(amount="17.00")
    with pytest.raises(Refused, match="catalog changed"):
        apply_csv(content, seen.sha256, seen.plan_sha256)
    apply_csv(content, seen.sha256)


@pytest.mark.parametrize(
    ("content", "text"),
    [
        (b"", "line 1: the file is empty"),
        (b"code,name\n", "line 2: there is no row"),
        (b"x" * (MAX_BYTES + 1), "line 1: the file is 10.0 MB; at most 10 MB"),
        ("code,name\nB,Gyps\n".encode("utf-16"), "line 1: the file is UTF-16"),
        ("code,name\nB,plâtre\n".encode("latin-1"), "line 2: byte 0xe2 is not UTF-8"),
        (b"code;name\nB;x\n", "line 1: the cells are not separated by commas"),
        (b"code,name\nB,x\0y\n", "line 2: holds a NUL character"),
        (b'code,name\nA,x\nB,"never closed\nC,x\n', "line 3: a quotation mark opened here is never closed"),
        (b'code,name\nB,"x"y\n', "line 2: is not CSV"),
        (b"code,name,name\nB,x,y\n", 'line 1: the heading "name" is there twice'),
        (b"code,nmae\nB,x\n", 'line 1: "nmae" is not a column known here'),
        (b"name\nB\n", "line 1: the column code is missing"),
        (b"code,name,kind\nB,x\n", "line 2: has 2 cells and the headings are 3"),
        (b"code,name\nB,x\nC,cut o", "line 3: the last line has no line end"),
        (b'code,name\n"a\nb",x\nC\n', "line 4: has 1 cells"),
    ],
)  # fmt: skip
def test_a_damaged_file_is_refused_by_its_line(small_catalog: Catalog, content: bytes, text: str) -> None:
    result = errors(content)
    assert len(result) == 1
    assert result[0].startswith(text)


@pytest.mark.parametrize(
    ("column", "cell", "text"),
    [
        ("waste", '"0,05"', "has a comma"),
        ("waste", "NaN", "is not a number"),
        ("waste", "2", "must be from 0 to 1.99"),
        ("waste", "1e308", "is not a number"),
        ("waste", "1_000", "is not a number"),
        ("cushion_workdays", "1.5", "must be a whole number"),
        ("supplier", "NOBODY", "is not the code of a supplier"),
        ("active", "maybe", "must be yes or no"),
        ("pack_quantity", "０", "is not a number"),
        ("pack_quantity", "0", "must be from"),
        ("pack_length_mm", "-5", "under zero"),
        ("pack_length_mm", "0", "must be more than zero"),
        ("price", '"12,50"', "has a comma"),
        ("price", "99999999999", "too large"),
        ("price_starts_on", "1/2/2026", "is not a day"),
        ("price_starts_on", "", "needs both an amount and the day"),
        ("thickness_mm", "9999", "must be from 1 to 300"),
        ("thickness_mm", "", "a source is given and no figure"),
        ("thickness_mm_source", "the maker", "write how sure it is"),
        ("thickness_mm_source", "", "not where it comes from"),
        ("thickness_mm_source", "guessed: x", "is not one of published"),
        ("link_pitch_mm", "50", "is missing"),
    ],
)
def test_a_wrong_cell_is_told_by_line_and_column(small_catalog: Catalog, column: str, cell: str, text: str) -> None:
    cells = {
        "code": "NEW", "name": "New", "kind": "board", "unit_used": "sqft", "unit_bought": "sheet",
        "waste": "0.1", "cushion_workdays": "1", "supplier": "MILL", "active": "yes",
        "pack_code": "N-8", "pack_label": "8 ft", "pack_quantity": "32", "pack_length_mm": "2438.4",
        "price": "14.50", "price_starts_on": "2026-01-01",
        "thickness_mm": "6.35", "thickness_mm_source": "maker 2026-01-01: data sheet",
    }  # fmt: skip
    assert errors(sheet(",".join(cells), ",".join(cells.values()))) == []
    cells[column] = cell
    result = errors(sheet(",".join(cells), ",".join(cells.values())))
    assert len(result) == 1
    assert result[0].startswith("line 2")
    assert text in result[0]


def test_a_code_given_twice_is_refused(small_catalog: Catalog) -> None:
    assert errors(sheet(HEAD, "N,New,board,sqft,sheet", "N,New,board,sqft,sheet")) == [
        "line 3, code: is on line 2 already"
    ]
    assert errors(sheet(PRICES, "BOARD,BOARD-8,1,2026-07-01", "BOARD,BOARD-8,2,2026-07-01")) == [
        'line 3, pack_code: "BOARD-8" is on line 2 already'
    ]


def test_two_rows_of_a_material_must_agree(small_catalog: Catalog) -> None:
    head = f"{HEAD},pack_code,pack_label,pack_quantity"
    rows = ["N,New,board,sqft,sheet,A,a,1", "N,Other,board,sqft,sheet,B,b,1"]
    assert errors(sheet(head, *rows)) == ["line 3, name: differs from line 2, which is the same material"]


def test_a_blank_figure_is_removed_and_an_absent_column_is_left(small_catalog: Catalog) -> None:
    apply(sheet("code,thickness_mm,thickness_mm_source", "BOARD,,"))
    board = book_of().materials["BOARD"]
    assert board.fact("thickness_mm") is None
    assert board.waste == Decimal("0.15")


def test_a_byte_order_mark_is_read_over(small_catalog: Catalog) -> None:
    assert preview_csv(b"\xef\xbb\xbf" + export_csv()).errors == ()


def test_no_exported_cell_runs_as_a_formula(small_catalog: Catalog) -> None:
    hostile = "=HYPERLINK(1)"
    Material.objects.filter(code="BOARD").update(name=hostile, note="@x", unit_bought="-1")
    Pack.objects.update(label="+2")
    cells = [cell for row in csv.reader(io.StringIO(export_csv().decode())) for cell in row]
    assert f"'{hostile}" in cells
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t"))]
    apply(export_csv())
    assert Material.objects.get(code="BOARD").name == hostile


@given(text=st.text(alphabet=st.sampled_from("=+-@'\t\n a\"1,;é"), max_size=8))
def test_shielding_is_taken_off_exactly(text: str) -> None:
    assert unshielded(shielded(text)) == text
    assert not shielded(text).startswith(("=", "+", "-", "@", "\t", "\n"))


visible = st.characters(blacklist_categories=("Cs", "Cc"))


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    name=st.text(alphabet=visible, min_size=1, max_size=60).filter(lambda text: text.strip()),
    note=st.text(alphabet=visible | st.sampled_from("\n\t"), max_size=60),
)
def test_any_text_comes_back_the_same(small_catalog: Catalog, name: str, note: str) -> None:
    Material.objects.filter(code="TAPE").update(name=name, note=note)
    preview = preview_csv(export_csv())
    assert (preview.errors, preview.changes) == ((), ())


def test_the_columns_stand_as_they_are() -> None:
    assert COLUMNS[:12] == (
        "code", "name", "kind", "supply", "unit_used", "unit_bought", "waste", "supplier",
        "cushion_workdays", "sign_off_workdays", "active", "note",
    )  # fmt: skip
    assert len(COLUMNS) == len(set(COLUMNS))


def test_a_written_sheet_shields_text_and_leaves_figures_plain() -> None:
    rows = [{"what": "-2", "sum": Decimal("-1E+1"), "on": date(2026, 10, 5)}, {"what": None, "sum": -3}]
    # RFC 4180: commas, CRLF. A figure may begin with a minus; text that does is kept from running as a formula.
    assert write_sheet(("what", "sum", "on"), rows) == b"what,sum,on\r\n'-2,-10,2026-10-05\r\n,-3,\r\n"
