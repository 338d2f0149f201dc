"""Bills from a CSV file: looked at first, with errors by line; then all of it or nothing, once."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from catalog.core.ground.refusal import Refused
from jobs.bills.models import Bill, BillLine
from jobs.bills.services.differences import Differs
from jobs.bills.services.sheet import apply, columns, preview
from tests.support.desk import as_
from tests.support.hall import DEARER, NOW, OFFICE, Hall

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines, pytest.mark.usefixtures("frozen_clock")]
HEADINGS = "supplier,shop,number,day,freight,total,order,place,job,category,what,quantity,amount"
FIRST = (
    "YARD,,A-771,2026-09-28,96.00,2036.50,P-1,1,,,,12,558.00",
    ",,A-771,,,,P-1,2,,,,66,742.50",
    "YARD,,a 771,,,,P-1,4,,,,1,640.00",
)
CARD = ",Corner shop,4711,2026-10-02,,118.40,,,J-0201,materials,=1+1,1,118.40"
BOARDS = "YARD,,A-779,2026-09-28,,464.40,P-1,3,,,,24,464.40"

__all__ = ["as_"]


@pytest.fixture
def hall():
    return Hall()


def file(*lines, headings=HEADINGS):
    return "\r\n".join([headings, *lines, ""]).encode()


def looked_at(*lines):
    return preview(file(*lines), OFFICE, now=NOW)


def applied(*lines, accept=()):
    content = file(*lines)
    return apply(content, preview(content, OFFICE, now=NOW).sha256, accept, OFFICE, now=NOW)


def whole(line, supplier="YARD"):
    return line if line.startswith(supplier) else f"{supplier}{line}"


def test_rows_of_one_number_are_one_bill_and_a_look_keeps_nothing(hall):
    result = looked_at(*map(whole, FIRST), CARD)
    assert [(entry.number, str(entry.total)) for entry in result.new] == [("A-771", "2036.50"), ("4711", "118.40")]
    assert (result.errors, Bill.objects.count()) == ((), 0)


def test_what_was_looked_at_is_entered_whole_and_once(hall):
    lines = [*map(whole, FIRST), CARD]
    assert len(applied(*lines).new) == 2
    assert BillLine.objects.count() == 6
    again = applied(*lines)
    assert (len(again.new), len(again.kept), Bill.objects.count()) == (0, 2, 2)


def test_what_begins_like_a_formula_stays_text(hall):
    applied(CARD)
    assert BillLine.objects.get().what == "=1+1"


def test_errors_are_told_by_line_and_column_and_nothing_is_entered(hall):
    wrong = [
        CARD.replace("118.40,,,J", "118.40,,,X"),
        BOARDS.replace("464.40,P-1,3", "464.40,P-1,9"),
        CARD.replace("4711", "4712").replace("materials", "freight"),
    ]
    result = looked_at(CARD.replace("4711", "4713"), *wrong)
    assert [(error.line, error.column) for error in result.errors] == [(3, "job"), (4, "place"), (5, "category")]
    with pytest.raises(Refused, match="line 3, job"):
        apply(file(CARD.replace("4711", "4713"), *wrong), result.sha256, (), OFFICE, now=NOW)
    assert Bill.objects.count() == 0


@pytest.mark.parametrize(
    ("line", "message"),
    [
        (CARD.replace(",118.40,,,", ",NaN,,,"), "line 2, total: "),
        (CARD.replace("118.40,,,", "118.405,,,"), "line 2, total: '118.405' has more than 2 places"),
        (CARD.replace("118.40,,,", "120.00,,,"), "line 2, total: 1.60 is left to place"),
        (CARD.replace("2026-10-02", "2.10.2026"), 'line 2, day: "2.10.2026" is not a day'),
        (CARD + ",x", "line 2: has 14 cells"),
    ],
)
def test_a_bad_cell_is_named_by_its_line(hall, line, message):
    assert message in "\n".join(map(str, looked_at(line).errors))


def test_a_row_that_says_another_total_than_the_first_of_its_bill_is_an_error(hall):
    second = whole(FIRST[1]).replace("A-771,,,,", "A-771,,,99.00,")
    assert str(looked_at(FIRST[0], second, whole(FIRST[2])).errors[0]).startswith("line 3, total: differs from line 2")


def test_two_bills_of_one_number_in_two_spellings_of_a_shop_are_one(hall):
    other = CARD.replace("Corner shop", "CORNER SHOP").replace("118.40,,,", ",,,", 1)
    assert len(looked_at(CARD.replace(",118.40,,,", ",236.80,,,"), other).new) == 1


def test_a_number_that_stands_already_is_an_error_of_its_line(hall):
    applied(CARD)
    changed = CARD.replace("=1+1", "Screws")
    assert str(looked_at(changed).errors[0]).startswith("line 2, number: 4711 of Corner shop")


def test_differences_are_accepted_by_whoever_applies_the_file(hall):
    assert looked_at(BOARDS).differs == (DEARER,)
    with pytest.raises(Differs):
        applied(BOARDS)
    assert Bill.objects.count() == 0
    applied(BOARDS, accept=[DEARER])
    assert Bill.objects.get().accepted.get().accepted_by_name == OFFICE.by


def test_another_file_than_was_looked_at_is_refused(hall):
    with pytest.raises(Refused, match="not the file"):
        apply(file(CARD), "0" * 64, (), OFFICE, now=NOW)
    assert Bill.objects.count() == 0


@pytest.mark.parametrize(
    "content", [b"", b"\xff\xfe", b"number\r\n1\r\n", b"number,total,colour\r\n1,2,3\r\n", b"\x00"]
)
def test_what_is_no_such_sheet_is_told_so(hall, content):
    assert preview(content, OFFICE, now=NOW).errors


def test_the_empty_sheet_can_be_filled_and_read(hall):
    headings = columns().decode().strip()
    cells = {"shop": "Corner shop", "number": "1", "total": "5.00", "what": "Rent", "amount": "5.00"}
    line = ",".join(cells.get(name, "") for name in headings.split(","))
    assert len(preview(file(line, headings=headings), OFFICE, now=NOW).new) == 1


def test_the_page_shows_a_file_then_enters_it(as_, hall):
    office = as_("office")
    page = office.post(reverse("bills_in"), {"sheet": SimpleUploadedFile("b.csv", file(BOARDS))}).content.decode()
    assert DEARER in page and Bill.objects.count() == 0
    hidden = {name: page.split(f'name="{name}" value="')[1].split('"')[0] for name in ("content", "sha256")}
    late = office.post(reverse("bills_apply"), hidden)
    assert (late.status_code, Bill.objects.count()) == (409, 0)
    result = office.post(reverse("bills_apply"), {**hidden, "accept": DEARER})
    assert (result.status_code, Bill.objects.count()) == (302, 1)


def test_a_file_with_errors_is_shown_with_its_lines(as_, hall):
    answer = as_("office").post(reverse("bills_in"), {"sheet": SimpleUploadedFile("b.csv", file(CARD + ",x"))})
    assert (answer.status_code, "Line 2" in answer.content.decode()) == (422, True)
