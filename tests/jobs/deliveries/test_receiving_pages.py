"""Receiving as the lead and the office see it, on the worked example of the childcare's trim."""

from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from jobs.deliveries.models import Delivery, ReceiptLine, ReceiptPhoto
from jobs.walls.models import WallPhoto
from jobs.walls.services import kept_pictures, photos
from tests.factories.orders import placed_order
from tests.support.childcare import CAME, NOW, trim_on_order
from tests.support.desk import as_

pytestmark = pytest.mark.both_engines
__all__ = ["as_"]
KEY = "0123456789abcdef"
SENT = {
    "request_key": KEY,
    "seen_deliveries": "0",
    "received_on": CAME.isoformat(),
    "line-1-good": "7",
    "line-1-damaged": "2",
    "line-1-note": "Cracked at the end",
}


@pytest.fixture
def line(frozen_clock, db, settings, tmp_path):
    frozen_clock.move_to(NOW)
    settings.MEDIA_ROOT = tmp_path
    return trim_on_order(unit_price="41.37", amount="372.33")


def picture():
    out = BytesIO()
    Image.new("RGB", (60, 40), (200, 60, 20)).save(out, "JPEG")
    return SimpleUploadedFile("photo.jpg", out.getvalue(), "image/jpeg")


def test_the_lead_sees_what_is_due_and_no_supplier_and_no_money(as_, line):
    lead, office = as_("lead"), as_("office")
    for url in (reverse("receiving"), reverse("check_in", args=[line.order_id])):
        seen = lead.get(url).content.decode()
        assert line.what in seen and "9 pieces" in seen
        for canary in ("Sandry", "SANDRY", "41.37", "372.33"):
            assert canary not in seen
    assert "Sandry" in office.get(reverse("receiving")).content.decode(), "the control"


def test_of_several_orders_due_all_but_the_first_are_folded(as_, line):
    others = [placed_order(line.job, line.material, line.order.supplier, promised_on=NOW.date()) for _ in range(3)]
    page = as_("lead").get(reverse("receiving")).content.decode()
    assert all(str(other.order) in page for other in others)
    assert (page.count("due-lines"), page.count("<details>"), page.count(">Check in<")) == (4, 3, 1)


def test_a_delivery_with_its_photo_sent_twice_is_kept_once(as_, line):
    lead, url = as_("lead"), reverse("check_in", args=[line.order_id])
    first, second = (lead.post(url, SENT | {"line-1-photo": picture()}) for _ in range(2))
    delivery = Delivery.objects.get()
    assert first.url == second.url == reverse("delivery", args=[delivery.pk])
    assert (ReceiptLine.objects.get().damaged, ReceiptPhoto.objects.count()) == (2, 1)
    shown = lead.get(first.url).content.decode()
    assert "7 good, 2 damaged" in shown and "Sandry" not in shown
    photo = lead.get(reverse("receipt_photo", args=[ReceiptPhoto.objects.get().pk]))
    assert photo["Content-Type"] == "image/jpeg" and photo["Content-Disposition"].startswith("attachment")


def test_a_photo_of_a_wall_that_cannot_be_kept_leaves_the_file_of_a_delivery(as_, line, monkeypatch):
    def broken(*args, **kwargs):
        raise RuntimeError("the database is gone")

    as_("lead").post(reverse("check_in", args=[line.order_id]), SENT | {"line-1-photo": picture()})
    file = kept_pictures.photos_folder() / ReceiptPhoto.objects.get().file_name
    monkeypatch.setattr(WallPhoto.objects, "create", broken)
    for is_there, models in ((True, kept_pictures.photo_models), (False, [])):  # without the models: the control
        monkeypatch.setattr(kept_pictures, "photo_models", models)
        with pytest.raises(RuntimeError):
            photos.add_photo(line.job.walls.first(), picture().read(), caption="Bare", by="Ines Quarrell", now=NOW)
        assert file.exists() is is_there


def test_what_the_script_sends_is_answered_by_an_address(as_, line):
    response = as_("lead").post(reverse("check_in", args=[line.order_id]), SENT, headers={"X-Kept-Form": "1"})
    assert (response.status_code, response["X-Go-To"]) == (204, reverse("delivery", args=[Delivery.objects.get().pk]))


def test_what_is_wrong_is_told_beside_its_field_and_nothing_is_kept(as_, line):
    no_picture = SimpleUploadedFile("p.jpg", b"no picture", "image/jpeg")
    wrong = [
        ({"line-1-good": "seven"}, "Good: "),
        ({"received_on": "2027-08-07"}, "Came on: Sat 7 Aug 2027 has not come yet"),
        ({"line-1-good": "", "line-1-damaged": "", "line-1-note": ""}, "Say of at least one line how much of it came"),
        ({"line-1-photo": no_picture}, "neither a JPEG nor a PNG"),
    ]
    lead = as_("lead")
    for typed, message in wrong:
        response = lead.post(reverse("check_in", args=[line.order_id]), SENT | typed)
        assert response.status_code == 422 and message in response.content.decode()
    assert not Delivery.objects.exists() and not ReceiptPhoto.objects.exists()


def test_the_second_of_two_phones_is_told_of_the_first_and_may_send_again(as_, line):
    lead, url = as_("lead"), reverse("check_in", args=[line.order_id])
    lead.post(url, SENT)
    message = lead.post(url, SENT | {"request_key": "another-phone-1"})
    assert message.status_code == 409 and "has checked in a delivery" in message.content.decode()
    assert b'name="seen_deliveries" value="1"' in message.content
    assert Delivery.objects.count() == 1
