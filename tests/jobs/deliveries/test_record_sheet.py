"""The lead-time record as a sheet: the firm's orders and what was brought in from before, the same out as in."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from catalog.services.known_sheets import SHEETS
from jobs.deliveries.models import EarlierLead
from jobs.deliveries.services.lead_record import lead_receipts
from tests.jobs.deliveries.test_lead_record_pages import TODAY, base, job, three_came
from tests.support.desk import as_

__all__ = ["as_", "base", "job"]
pytestmark = pytest.mark.both_engines
HEAD = "supplier,material,ordered_on,received_on,quoted_workdays,actual_workdays"
BEFORE = "HENNOCK,BASE-514-FLEX,2026-02-02,2026-03-02,18,20"
RECORD = SHEETS["lead-record"]


def sheet(*lines: str) -> bytes:
    return ("\r\n".join((HEAD, *lines)) + "\r\n").encode()


def apply(content: bytes) -> None:
    seen = RECORD.preview(content)
    RECORD.apply(content, seen.sha256, seen.plan_sha256)


def test_the_record_read_back_changes_nothing_and_knows_the_firms_own_orders(job, base):
    three_came(job, base)
    apply(sheet(BEFORE, *rows(RECORD.export())))
    content = RECORD.export()
    seen = RECORD.preview(content)
    assert (seen.errors, seen.added, seen.removed, len(seen.unchanged)) == ((), (), (), 4)
    apply(content)
    assert (RECORD.export(), EarlierLead.objects.count()) == (content, 1)


def rows(content: bytes) -> list[str]:
    return content.decode().splitlines()[1:]


def test_what_was_brought_in_teaches_as_the_firms_own_does(job, base):
    apply(sheet(BEFORE, BEFORE))
    does = [receipt for receipt in lead_receipts(TODAY) if receipt.material == base.code]
    assert [(receipt.quoted_workdays, receipt.actual_workdays) for receipt in does] == [(18, 20), (18, 20)]


def test_a_row_left_out_is_taken_away_and_said_before(job, base):
    apply(sheet(BEFORE))
    seen = RECORD.preview(sheet(BEFORE.replace("18,20", "18,19")))
    assert (len(seen.added), len(seen.removed), EarlierLead.objects.count()) == (1, 1, 1)
    apply(sheet(BEFORE.replace("18,20", "18,19")))
    assert EarlierLead.objects.get().actual_workdays == 19


def test_wrong_rows_are_listed_by_line_and_nothing_is_stored(job, base):
    wrong = (
        BEFORE.replace("HENNOCK", "NOBODY"),
        BEFORE.replace("2026-03-02", "2027-03-02"),
        BEFORE.replace("2026-02-02", "2026-03-09"),
        BEFORE.replace("18,20", "0,20"),
    )
    pairs = [(error.line, error.column) for error in RECORD.preview(sheet(BEFORE, *wrong)).errors]
    assert pairs == [(3, "supplier"), (4, "received_on"), (5, "ordered_on"), (6, "quoted_workdays")]
    assert EarlierLead.objects.count() == 0


def test_each_sheet_goes_out_and_in_on_the_page(as_, job):
    office = as_("office")
    for name in ("suppliers", "lead-terms", "lead-record"):
        content = office.get(reverse("sheet_csv", args=[name])).content
        given = {"sheet": SimpleUploadedFile("sheet.csv", content or b"x", content_type="text/csv")}
        answer = office.post(reverse("sheet_csv_in", args=[name]), given)
        assert answer.status_code == (422 if name == "lead-record" else 200)  # nothing has come yet
    assert office.get(reverse("sheet_csv_in", args=["nothing"])).status_code == 404


def test_a_previewed_record_is_stored_by_its_button(as_, job):
    office, url = as_("office"), reverse("sheet_csv_in", args=["lead-record"])
    shown = office.post(url, {"sheet": SimpleUploadedFile("sheet.csv", sheet(BEFORE), content_type="text/csv")})
    carried = {field.html_name: field.value() for field in shown.context["apply"]}
    result = office.post(reverse("sheet_csv_apply", args=["lead-record"]), carried, follow=True)
    assert "Imported: 1 added" in result.content.decode() and EarlierLead.objects.count() == 1


def test_the_lead_is_given_no_sheet(as_, job):
    assert as_("lead").get(reverse("sheet_csv", args=["suppliers"])).status_code == 403
