"""What becomes of an order, by the API, on the childcare's trim: 7 of 9 good, usable again 3 September, 17 late."""

from base64 import b64encode
from hashlib import sha256
from io import BytesIO

import pytest
from PIL import Image

from jobs.deliveries.models import Delivery
from tests.quoting.service.test_roles_api import MONEY_NAMES, names_within
from tests.support.asking import reasons
from tests.support.childcare import CAME, NOW, trim_on_order

CAME_BODY = {
    "request_key": "phone-1",
    "seen_deliveries": 0,
    "received_on": CAME.isoformat(),
    "lines": [{"place": 1, "good": 7, "damaged": "2"}],
}
SANDRY = "/api/catalog/suppliers/SANDRY"
DELIVERIES = "/api/orders/O-0001/deliveries"


@pytest.fixture
def line(db, frozen_clock):
    frozen_clock.move_to(NOW)
    return trim_on_order(unit_price="41.37", amount="372.33")


def test_the_lead_checks_in_what_is_due_and_sees_no_money_and_no_supplier(lead, office, line):
    (due,) = lead.get("/api/receiving").json()["orders"]
    assert office.get("/api/receiving").json()["orders"][0]["supplier"] == "Sandry Bendable Profiles", "the control"
    assert (due["number"], due["deliveries"], due["lines"][0]["open"]) == ("O-0001", 0, "9")
    first, second = (lead.post(DELIVERIES, CAME_BODY) for _ in range(2))
    assert (first.status_code, second.status_code, Delivery.objects.count()) == (201, 200, 1)
    assert first.json() == second.json()
    for given in (due, first.json()):
        assert set(names_within(given)) & MONEY_NAMES == set()
    assert lead.get("/api/receiving").json()["orders"] == [], "what came damaged is not waited for"


def test_a_delivery_is_claimed_ordered_again_and_settled(office, line):
    terms = {"claim_days": 5, "source": "telephone", "stated_on": "2027-06-01"}
    stated = office.as_read("PUT", f"{SANDRY}/order-terms", terms, of=SANDRY)
    assert stated.json()["order_terms"]["claim_days"] == 5
    receipt = office.post(DELIVERIES, CAME_BODY).json()["lines"][0]
    assert (receipt["claim_by"], receipt["quoted_workdays"], receipt["actual_workdays"]) == ("2027-08-11", 17, 17)
    (claim,) = office.get("/api/receiving/claims").json()["claims"]
    assert claim["days_left"] == 3
    path = f"/api/receiving/receipts/{receipt['id']}"
    assert office.post(f"{path}/outcome", {"outcome": "replaced"}).status_code == 409
    assert office.post(f"{path}/claim").json()["claimed_by"] == "the-office"
    need = office.get(f"{path}/replacement").json()["need"]
    assert (need["usable"], need["late_workdays"], need["need_by"]) == ("2027-09-03", 17, "2027-08-11")
    again = [office.post(f"{path}/replacement", {"request_key": "again"}) for _ in range(2)]
    assert [entry.status_code for entry in again] == [201, 200] and again[0].json() == {"order": "O-0002"}
    assert office.post(f"{path}/outcome", {"outcome": "replaced"}).json()["outcome"] == "replaced"
    fixed = office.as_read("PUT", path, {"good": 9, "note": "Film only", "seen": [7, 2, 0]})
    assert fixed.status_code == 409 and "is answered already" in reasons(fixed)[""]


def test_a_confirmation_is_compared_settled_by_name_and_its_day_is_a_promise(office, line):
    values_so_far = {
        "request_key": "mail-1",
        "reference": "S-4471",
        "lines": [{"place": 1, "quantity": 8, "amount": "380.00", "promised_on": "2027-08-12"}],
    }
    path = "/api/orders/O-0001/confirmations"
    first, second = (office.post(path, values_so_far) for _ in range(2))
    assert [first.status_code, second.status_code] == [201, 200]
    (result,) = first.json()["lines"]
    assert [entry["compared"] for entry in result["differences"]] == ["quantity", "price", "date"] and result["is_open"]
    settled = office.post(f"{path}/{result['id']}/settle", {"reason": "Eight will do"}).json()["lines"][0]
    assert (settled["is_open"], settled["settled_by"]) == (False, "the-office")
    moved = {"promised_on": "2027-08-16"}
    promises = "/api/orders/O-0001/lines/1/promises"
    assert "say why it moves" in reasons(office.post(promises, moved))["reason"]
    given = office.post(promises, moved | {"reason": "The press is down"}).json()["promises"]
    assert [entry["promised_on"] for entry in given] == ["2027-08-12", "2027-08-16"]


def test_goods_go_back_and_the_rest_is_called_off(office, line):
    office.post(DELIVERIES, CAME_BODY)
    back = {"request_key": "back", "quantity": "2", "reason": "Cracked", "credit_expected": "82.74"}
    row = office.post("/api/orders/O-0001/lines/1/returns", back).json()
    credit = office.post(f"/api/orders/O-0001/returns/{row['id']}/credit", {"credited": "82.74"}).json()
    assert credit["credited"] == "82.74"
    ended = office.post("/api/orders/O-0001/call-off", {"by": "supplier", "reason": "Given up"}).json()
    assert (ended["state"], ended["lines"][0]["standing"]) == ("placed", "ended")


def test_payments_are_kept_once_and_undone_with_a_reason(office, line):
    path = f"/api/jobs/{line.job.key}/payments"
    paid = {"request_key": "bank-1", "amount": "9864.58", "paid_ahead": True}
    assert [office.post(path, paid).status_code for _ in range(2)] == [201, 200]
    standing = office.get(path).json()
    assert (standing["received"], standing["deposit"]) == ("9864.58", None)
    undone = office.post(f"{path}/{standing['payments'][0]['id']}/undo", {"reason": "Entered twice"}).json()
    assert undone["undone_by"] == "the-office"
    assert office.get(path).json()["received"] == "0.00"


def test_the_lead_sends_a_photo_of_what_came_and_it_is_kept_once(lead, office, line, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    receipt = lead.post(DELIVERIES, CAME_BODY).json()["lines"][0]
    path, out = f"/api/receiving/receipts/{receipt['id']}/photos", BytesIO()
    Image.new("RGB", (60, 40), (200, 60, 20)).save(out, "JPEG")
    body = {"file": b64encode(out.getvalue()).decode(), "caption": "Cracked at the end"}
    first, second = (lead.post(path, body) for _ in range(2))
    assert (first.status_code, second.status_code, first.json()) == (201, 200, second.json())
    assert lead.get(path).json()["photos"] == [first.json()] and first.json()["added_by"] == "the-lead"
    shown = lead.get(f"/api/receiving/photos/{first.json()['id']}")
    assert shown["Content-Type"] == "image/jpeg" and sha256(shown.content).hexdigest() == first.json()["sha256"]
    for wrong in ("no base64!", b64encode(b"no picture").decode()):
        refused = lead.post(path, {"file": wrong})
        assert refused.status_code == 400 and list(reasons(refused)) == ["file"]


def test_a_receipt_is_corrected_from_what_was_read(office, line):
    receipt = office.post(DELIVERIES, CAME_BODY).json()["lines"][0]
    path, fixed = f"/api/receiving/receipts/{receipt['id']}", {"good": 9, "note": "Film only", "seen": [7, 2, 0]}
    mark = office.get(path)["ETag"]
    assert office("PUT", path, fixed).status_code == 428
    assert office("PUT", path, fixed, If_Match=mark).json()["good"] == "9"
    assert office("PUT", path, fixed | {"good": 8, "seen": [9, 0, 0]}, If_Match=mark).status_code == 412
    assert office.get(path).json()["good"] == "9"
