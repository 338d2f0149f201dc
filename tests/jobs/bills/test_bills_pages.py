"""The pages of bills: what waits for one, the form that enters it, the bill itself, the slip from the site."""

from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from jobs.bills.models import Bill
from tests.support.desk import as_
from tests.support.hall import DEARER, Hall, base_bill, credit_note, entered, first_bill, own, voided

pytestmark = pytest.mark.usefixtures("frozen_clock")
CANARY = "47.13"

__all__ = ["as_"]


@pytest.fixture
def hall(db, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return Hall()


def picture():
    out = BytesIO()
    Image.new("RGB", (60, 40), (200, 60, 20)).save(out, "JPEG")
    return SimpleUploadedFile("slip.jpg", out.getvalue(), "image/jpeg")


def posted(hall, *ticked, **more):
    """The form as the browser sends it: each line of the yard is offered, those ticked are on the bill."""
    texts = {"request_key": "form-0001", "supplier": "YARD", "number": "A-771", "day": "2026-09-28", "kind": "bill"}
    offered = {"TRACK": ("12", "558.00"), "STUD": ("66", "742.50"), "BOARD": ("24", "458.40"), "PANEL": ("1", "640.00")}
    for code, (quantity, amount) in offered.items():
        key = f"goods-{hall.lines[code].pk}"
        texts |= {f"{key}-quantity": quantity, f"{key}-amount": amount}
        texts |= {f"{key}-tick": "on"} if code in ticked else {}
    return texts | more


def page_of(client, name, *args, query=""):
    answer = client.get(reverse(name, args=args) + query)
    assert answer.status_code == 200
    return answer.content.decode()


def test_the_list_says_what_came_without_a_bill_and_whose_it_is(as_, hall):
    page = page_of(as_("office"), "bill_list")
    # The yard: 558.00 + 742.50 + 458.40 + 640.00; the mill: 8 x 218.00
    assert "2,398.90" in page and "1,744.00" in page and "?supplier=YARD" in page


def test_ticked_goods_and_freight_make_a_bill(as_, hall):
    sent = posted(hall, "TRACK", "STUD", "PANEL", freight="96.00", total="2,036.50")
    answer = as_("office").post(reverse("bill_add"), sent)
    bill = Bill.objects.get()
    assert (answer.status_code, answer.url) == (302, reverse("bill", args=[bill.pk]))
    assert [str(line.amount) for line in bill.lines.all()] == ["558.00", "742.50", "640.00", "73.28", "22.72"]


def test_a_line_of_its_own_is_entered_beside_them(as_, hall):
    mine = {"own-0-what": "Sundries", "own-0-job": "J-0201", "own-0-category": "materials", "own-0-amount": "18.40"}
    as_("office").post(reverse("bill_add"), posted(hall, "TRACK", total="576.40", **mine, **{"own-0-tag": "Note  2"}))
    line = Bill.objects.get().lines.get(place=2)
    assert (line.what, line.tag, str(line.amount)) == ("Sundries", "note 2", "18.40")


def test_what_is_left_to_place_is_told_at_the_total_and_all_typed_stays(as_, hall):
    answer = as_("office").post(reverse("bill_add"), posted(hall, "TRACK", total="600.00", note="By hand"))
    page = answer.content.decode()
    assert (answer.status_code, Bill.objects.count()) == (422, 0)
    assert "42.00 is left to place" in page and "By hand" in page and page.count("checked") == 1


def test_a_wrong_figure_of_a_ticked_line_is_told_at_that_line(as_, hall):
    key = f"goods-{hall.lines['BOARD'].pk}"
    sent = posted(hall, "TRACK", "BOARD", total="1016.40", **{f"{key}-amount": "x"})
    page = as_("office").post(reverse("bill_add"), sent).content.decode()
    assert f'href="#id_{key}-amount"' in page


def test_a_difference_is_ticked_under_a_name_and_saved(as_, hall):
    key, office = f"goods-{hall.lines['BOARD'].pk}", as_("office")
    sent = posted(hall, "BOARD", total="464.40", **{f"{key}-amount": "464.40"})
    answer = office.post(reverse("bill_add"), sent)
    assert (answer.status_code, Bill.objects.count(), DEARER in answer.content.decode()) == (422, 0, True)
    office.post(reverse("bill_add"), {**sent, "accept": DEARER})
    assert DEARER in page_of(office, "bill", Bill.objects.get().pk)


def test_the_form_sent_twice_enters_one_bill(as_, hall):
    office, sent = as_("office"), posted(hall, "TRACK", total="558.00")
    first, again = office.post(reverse("bill_add"), sent), office.post(reverse("bill_add"), sent)
    assert (first.url, Bill.objects.count()) == (again.url, 1)


def test_two_tabs_with_one_number_enter_it_once_and_say_by_whom(as_, hall):
    office = as_("office")
    office.post(reverse("bill_add"), posted(hall, "TRACK", total="558.00"))
    again = posted(hall, "STUD", total="742.50", request_key="form-0002", number="A 771")
    late = office.post(reverse("bill_add"), again)
    assert (late.status_code, Bill.objects.count()) == (422, 1)
    assert "A-771 of The yard" in late.content.decode()


def test_another_supplier_offers_its_goods_without_the_script(as_, hall):
    sent = {"supplier": "MILL", "do": "offer", "number": "B-1", "total": "5"}
    page = as_("office").post(reverse("bill_add"), sent).content.decode()
    assert "Base, 8 pieces" in page and 'value="1744.00"' in page and 'value="B-1"' in page


def test_a_credit_offers_what_came_bad_and_fills_it(as_, hall):
    office, key = as_("office"), f"receipt-{hall.damaged.pk}"
    page = page_of(office, "bill_add", query="?supplier=MILL&kind=credit")
    assert "Base, 1 came bad" in page and 'value="218.00"' in page
    sent = {"request_key": "form-0001", "supplier": "MILL", "number": "C-1", "kind": "credit", "total": "218.00"}
    office.post(reverse("bill_add"), {**sent, f"{key}-tick": "on", f"{key}-quantity": "1", f"{key}-amount": "218.00"})
    hall.damaged.refresh_from_db()
    assert str(hall.damaged.credited) == "218.00"


def test_a_bill_is_voided_under_a_name_and_stays_to_be_seen(as_, hall):
    office, bill = as_("office"), entered(first_bill())
    office.post(reverse("bill_void", args=[bill.pk]), {"reason": "Entered twice", "version": "1"})
    assert "Entered twice" in page_of(office, "bill", bill.pk)
    assert "voided" in page_of(office, "bill_list")


def test_a_bill_is_not_voided_from_an_old_page(as_, hall):
    bill = entered(first_bill())
    Bill.objects.filter(pk=bill.pk).update(version=2)
    answer = as_("office").post(reverse("bill_void", args=[bill.pk]), {"reason": "Twice", "version": "1"})
    assert (answer.status_code, Bill.objects.get().is_voided) == (409, False)


def test_a_slip_goes_from_the_site_to_the_office_that_enters_it(as_, hall):
    lead, office = as_("lead"), as_("office")
    sent = {"request_key": "slip-0001", "note": "Screws"}
    for _ in range(2):
        assert lead.post(reverse("bill_slip"), {**sent, "file": picture()}).status_code == 302
    draft = Bill.objects.get()
    assert "1 slip to enter" in page_of(office, "bill_list")
    assert reverse("bill_photo", args=[draft.photos.get().pk]) in page_of(office, "bill_enter", draft.pk)
    entry = {**posted(hall, "TRACK", total="558.00"), "seen_version": "1"}
    office.post(reverse("bill_enter", args=[draft.pk]), entry)
    draft.refresh_from_db()
    assert (draft.state, draft.made_by_name == draft.entered_by_name) == ("entered", False)


def test_a_slip_without_a_photo_is_told_so(as_, hall):
    answer = as_("lead").post(reverse("bill_slip"), {"request_key": "slip-0001", "note": "Screws"})
    assert (answer.status_code, Bill.objects.count()) == (422, 0)
    assert "Photo of the slip" in answer.content.decode()


def test_a_draft_two_people_enter_is_entered_once(as_, hall):
    as_("lead").post(reverse("bill_slip"), {"request_key": "slip-0001", "note": "", "file": picture()})
    draft, office = Bill.objects.get(), as_("office")
    voided(draft)
    late = office.post(reverse("bill_enter", args=[draft.pk]), posted(hall, "TRACK", total="558.00", seen_version="1"))
    draft.refresh_from_db()
    assert (late.status_code, draft.state) == (302, "voided")


@pytest.mark.parametrize("name", ["bill_list", "bill_add", "bill", "bills_in"])
def test_the_lead_sees_no_bill_and_no_money(as_, hall, name):
    bill = entered(first_bill(lines=[own("J-0201", CANARY)], freight="0", total=CANARY))
    url = reverse(name, args=[bill.pk] if name == "bill" else [])
    answer = as_("lead").get(url)
    assert (answer.status_code, CANARY in answer.content.decode()) == (403, False)
    assert as_("estimator").get(url).status_code == as_("owner").get(url).status_code == 200


def test_what_the_lead_may_open_shows_no_money(as_, hall):
    entered(first_bill(lines=[own("J-0201", CANARY)], freight="0", total=CANARY))
    assert CANARY in page_of(as_("office"), "bill_list"), "the control"
    lead = as_("lead")
    for name in ("bill_slip", "receiving"):
        page = page_of(lead, name)
        assert CANARY not in page and "218.00" not in page and "The yard" not in page


def test_bad_entries_are_answered_and_nothing_is_kept(as_, hall):
    office = as_("office")
    for total in ("nan", "1e400", "-1", "9" * 500, "\x00", "٣", "1/0"):
        answer = office.post(reverse("bill_add"), posted(hall, "TRACK", total=total))
        assert (answer.status_code, Bill.objects.count()) in ((422, 0), (400, 0)), total


def test_a_bill_with_all_its_lines_and_a_credit_is_shown(as_, hall):
    office = as_("office")
    entered(base_bill())
    credit = entered(credit_note(receipt=hall.damaged.pk))
    assert "−218.00" in page_of(office, "bill_list")
    assert "-218.00" in page_of(office, "bill", credit.pk) or "−218.00" in page_of(office, "bill", credit.pk)


def test_a_jobs_history_tells_its_bills_and_what_of_them_is_its_own(as_, hall):
    voided(entered(first_bill()))
    page = page_of(as_("office"), "job_history", hall.other.pk)
    # 640.00 + 22.72 of freight
    assert "A-771 of The yard" in page and "662.72" in page and "Entered twice" in page


def test_an_order_names_the_bills_that_stand_for_it(as_, hall):
    office, bill = as_("office"), entered(first_bill())
    gone = voided(entered(base_bill()))
    assert f'href="{reverse("bill", args=[bill.pk])}"' in page_of(office, "order", hall.first.pk)
    assert reverse("bill", args=[gone.pk]) not in page_of(office, "order", hall.second.pk)


def test_a_credit_may_bring_the_price_of_what_was_billed_down(as_, hall):
    office = as_("office")
    entered(base_bill())
    key, url = f"goods-{hall.lines['BASE'].pk}", reverse("bill_add")
    assert "Base, lower price" in page_of(office, "bill_add", query="?supplier=MILL&kind=credit")
    sent = {"request_key": "form-0001", "supplier": "MILL", "number": "C-2", "kind": "credit", "total": "18.00"}
    answer = office.post(url, {**sent, f"{key}-tick": "on", f"{key}-quantity": "1", f"{key}-amount": "18.00"})
    line = Bill.objects.get(number="C-2").lines.get()
    assert (answer.status_code, str(line.amount), line.quantity) == (302, "-18.00", 0)
