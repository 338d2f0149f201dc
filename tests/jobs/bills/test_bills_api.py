"""Bills over the API: entered, read, voided; the lead sends slips and sees no money."""

from base64 import b64encode
from io import BytesIO

import pytest
from PIL import Image

from jobs.bills.models import Bill
from tests.support.asking import reasons
from tests.support.hall import DEARER, Hall, boards_bill, first_bill, own

pytestmark = pytest.mark.usefixtures("frozen_clock")
CANARY = "47.13"


@pytest.fixture
def hall(db, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return Hall()


def slip(colour=(200, 60, 20), **more):
    out = BytesIO()
    Image.new("RGB", (60, 40), colour).save(out, "JPEG")
    return {"request_key": "slip", "note": "Screws for the hall", "file": b64encode(out.getvalue()).decode(), **more}


def canary_bill(**more):
    return first_bill(lines=[own("J-0201", CANARY)], freight="0", total=CANARY, **more)


def test_a_bill_sent_twice_is_answered_twice_and_kept_once(office, hall):
    first, again = office.post("/api/bills", first_bill()), office.post("/api/bills", first_bill())
    assert (first.status_code, again.status_code, Bill.objects.count()) == (201, 200, 1)
    assert [entry["amount"] for entry in first.json()["lines"]] == ["558.00", "742.50", "640.00", "73.28", "22.72"]


def test_what_differs_is_answered_with_sentences_to_accept(office, hall):
    answer = office.post("/api/bills", boards_bill())
    assert (answer.status_code, reasons(answer)) == (409, {"accept": DEARER})
    accepted = office.post("/api/bills", boards_bill(accept=[DEARER])).json()["accepted"]
    assert accepted == [{"sentence": DEARER, "by": office.person.full_name}]


def test_one_key_for_another_bill_is_a_conflict_and_a_number_twice_a_wrong_entry(office, hall):
    office.post("/api/bills", first_bill())
    other = office.post("/api/bills", first_bill(note="Other"))
    twice = office.post("/api/bills", first_bill(request_key="other", number="a771"))
    assert (other.status_code, list(reasons(other))) == (409, ["request_key"])
    assert (twice.status_code, list(reasons(twice))) == (400, ["number"])


def test_a_bill_is_voided_from_what_was_read(office, hall):
    row = office.post("/api/bills", first_bill())
    path = f"/api/bills/{row.json()['id']}/void"
    assert office.post(path, {"reason": "Twice"}).status_code == 428
    late = office.post(path, {"reason": "Twice"}, If_Match='"7"')
    assert late.status_code == 409
    gone = office.post(path, {"reason": "Twice"}, If_Match=row["ETag"])
    assert (gone.json()["state"], gone.json()["voided_by"]) == ("voided", office.person.full_name)


def test_bills_are_listed_by_state_and_seller(office, hall):
    office.post("/api/bills", first_bill())
    office.post("/api/bills", canary_bill() | {"request_key": "2", "supplier": None, "shop": "Corner shop"})
    count = {query: office.get(f"/api/bills?{query}").json()["count"] for query in ("", "seller=YARD", "state=voided")}
    assert count == {"": 2, "seller=YARD": 1, "state=voided": 0}


def test_goods_without_a_bill_are_listed_until_they_are_billed(office, hall):
    def open_lines(query=""):
        lines = office.get(f"/api/bills/goods{query}").json()["goods"]
        return [(entry["order"], entry["place"], entry["quantity"], entry["amount"]) for entry in lines]

    office.post("/api/bills", first_bill())
    assert open_lines() == [("P-1", 3, "24", "458.40"), ("P-2", 1, "8", "1744.00")]
    # Of the yard's own orders the niche and the painter are still to come.
    assert open_lines("?supplier=YARD")[1:] == [("P-5", 1, "1", "352.00"), ("P-6", 1, "1", "1900.00")]


def test_the_lead_sends_a_slip_once_and_the_office_enters_it(lead, office, hall):
    first, again = lead.post("/api/bills/drafts", slip()), lead.post("/api/bills/drafts", slip())
    assert (first.status_code, again.status_code, Bill.objects.count()) == (201, 200, 1)
    path = f"/api/bills/{first.json()['id']}"
    entry = {name: value for name, value in canary_bill().items() if name != "request_key"}
    result = office.post(f"{path}/enter", entry, If_Match=office.get(path)["ETag"]).json()
    assert (result["state"], result["made_by"], result["total"], len(result["photos"])) == (
        "entered",
        lead.person.full_name,
        CANARY,
        1,
    )
    assert office.get(f"/api/bills/photos/{result['photos'][0]['id']}").status_code == 200


def test_a_slip_with_another_photo_under_the_same_key_is_a_conflict(lead, hall):
    lead.post("/api/bills/drafts", slip())
    answer = lead.post("/api/bills/drafts", slip((0, 0, 0)))
    assert (answer.status_code, list(reasons(answer))) == (409, ["request_key"])


@pytest.mark.parametrize("file", ["", "no base 64", b64encode(b"no picture").decode()])
def test_a_slip_without_a_picture_is_refused(lead, hall, file):
    answer = lead.post("/api/bills/drafts", slip(file=file))
    assert (answer.status_code, list(reasons(answer)), Bill.objects.count()) == (400, ["file"], 0)


def test_the_lead_is_given_no_bill_and_no_money(lead, office, hall):
    row = office.post("/api/bills", canary_bill()).json()
    addresses = ("/api/bills", f"/api/bills/{row['id']}", "/api/bills/goods")
    for path in addresses[:2]:
        assert CANARY in office.get(path).content.decode(), "the control"
    for path in addresses:
        answer = lead.get(path)
        assert (answer.status_code, CANARY in answer.content.decode()) == (403, False)
    assert set(lead.post("/api/bills/drafts", slip()).json()) == {"id", "note", "made_by", "made_at", "photo_count"}
