"""Orders at the desk: from what is to be ordered to an order that is placed. What the services decide is tested with
them; here it is that each page leads on, says what stands in the way, and shows no supplier to the lead."""

import re
from datetime import UTC, date, datetime

import pytest
from django.urls import reverse

from catalog.models import LeadTerm, Material
from jobs.core.ordering.release import JobStanding
from jobs.jobs.models import WorkedJob
from jobs.needs.models import StoredNeed
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.orders.models import Order, OrderMail, Release
from jobs.orders.services import job_standings
from jobs.walls.models import WallPiece
from quoting.platform import clock
from quoting.platform.errands.models import Errand
from tests.factories.orders import placed_order
from tests.stored import stored_job
from tests.support.desk import HOSTILE, as_, queries_of

__all__ = ["as_"]
pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
BASE = "BASE-514-FLEX"
NOW = datetime(2026, 12, 9, 15, 0, tzinfo=UTC)


@pytest.fixture
def job(db):
    with clock.use(clock.FrozenClock(NOW)):
        job = stored_job("larkmoor-dental")
        keep_needs(job.pk, *find_needs(job.pk, NOW.date()), NOW)
        yield job


def drafted(desk, job):
    page = desk.get("/buying/from/HENNOCK/").content.decode()
    key = re.search(r'name="request_key" value="(\w+)"', page)[1]
    sent = desk.post("/buying/from/HENNOCK/", {"item": f"{job.pk}/{BASE}", "request_key": key})
    return Order.objects.get(), sent


def released(desk, job):
    page = desk.get(f"/jobs/{job.pk}/buying/items/{BASE}/").content.decode()
    mark = re.search(r'name="seen_mark" value="(\w+)"', page)[1]
    return desk.post(
        f"/jobs/{job.pk}/buying/release/{BASE}/", {"seen_mark": mark, "reason": "The mill shuts."}, follow=True
    )


def test_the_list_leads_to_the_fewest_orders_of_a_supplier(as_, job):
    desk = as_("office")
    page = desk.get("/buying/to-order/").content.decode()
    assert "Hennock" in page and "Thu 10 Dec" in page
    page = desk.get("/buying/from/TOLLARD/").content.decode()
    assert "the fewest there can be" in page and f"{job.pk}/TRACK-358" in page


def test_a_draft_that_would_come_late_leads_to_what_helps(as_, job):
    desk = as_("office")
    with clock.use(clock.FrozenClock(datetime(2027, 1, 8, 15, 0, tzinfo=UTC))):
        order, _ = drafted(desk, job)
        page = desk.get(f"/buying/orders/{order.pk}/").content.decode()
        [link] = re.findall(r'<a href="([^"]+)#choices">What helps</a>', page)
        assert link == reverse("order_item", args=[job.pk, BASE])
        item = desk.get(link).content.decode()
    assert '<section id="choices"' in item and "if ordered today: what helps" in item


def test_an_order_is_put_together_released_and_placed(as_, job):
    desk = as_("office")
    order, sent = drafted(desk, job)
    assert sent["Location"] == f"/buying/orders/{order.pk}/"
    page = desk.get(f"/buying/orders/{order.pk}/").content.decode()
    assert "is not released" in page and "Place the order" not in page
    assert "No quote of this job is accepted" in desk.get(f"/jobs/{job.pk}/buying/items/{BASE}/").content.decode()
    assert "Released to order by" in released(desk, job).content.decode()
    page = desk.get(f"/buying/orders/{order.pk}/").content.decode()
    version, key = (re.findall(rf'name="{name}" value="(\w+)"', page)[-1] for name in ("version", "request_key"))
    form = {"version": version, "request_key": key, "way": "mail", "to_address": "orders@mill.example"}
    for _ in range(2):
        message = desk.post(f"/buying/orders/{order.pk}/place/", form, follow=True).content.decode()
    assert "is placed" in message and "waits for its sheet" in message and OrderMail.objects.count() == 1
    assert Release.objects.get().lines.get().order == order


def test_an_order_whose_mail_was_kept_in_the_folder_is_not_called_sent(as_, job, tmp_path):
    desk, base = as_("office"), Material.objects.get(code=BASE)
    order = placed_order(job, base, base.supplier).order
    Order.objects.update(way="mail")
    mail = {"order": order, "request_key": "m", "to_address": "sales@mill.example", "asked_by_name": "M. Ashdown"}
    OrderMail.objects.create(**mail, asked_at=NOW, began_at=NOW, sent_at=NOW, went_by="folder")
    page = desk.get(f"/buying/orders/{order.pk}/").content.decode()
    assert "Not sent: kept in the mail folder" in page and "Its mail was not sent" in page
    assert ", by mail" not in page and "sent 9 Dec" not in page
    OrderMail.objects.update(went_by="server")
    assert "sent Wed 9 Dec" in desk.get(f"/buying/orders/{order.pk}/").content.decode()


def test_what_stands_in_the_way_is_told_and_nothing_is_kept(as_, job):
    desk = as_("office")
    order, _ = drafted(desk, job)
    message = desk.post(
        f"/buying/orders/{order.pk}/place/", {"version": "1", "way": "other", "request_key": "k"}, follow=True
    )
    assert "is not released" in message.content.decode() and Order.objects.get().state == "draft"
    message = desk.post(f"/buying/orders/{order.pk}/change/", {"version": "one", "note": "Soon"}, follow=True)
    assert "open the order again" in message.content.decode()


def test_the_lead_sees_no_orders(as_, job):
    lead = as_("lead")
    for url in ("/buying/on-the-way/", "/buying/from/HENNOCK/", f"/jobs/{job.pk}/buying/items/{BASE}/"):
        assert lead.get(url).status_code == 403


def test_the_sheet_of_a_draft_is_made_and_leads_back_to_its_order(as_, job):
    desk = as_("office")
    order, _ = drafted(desk, job)
    desk.post(f"/buying/orders/{order.pk}/sheet/")
    errand = Errand.objects.get(kind="render_order_sheet")
    assert desk.get(f"/papers/errands/{errand.pk}/").status_code in (200, 302)


def test_whatever_is_typed_is_kept_as_meant_or_refused_in_words(as_, job):
    desk = as_("office")
    order, _ = drafted(desk, job)
    names = ["note", "rush", "reason", "way", "to_address", "message", "request_key", "seen_mark"]
    names += ["what", "agreed_by", "item"]
    order_pages = [f"/buying/orders/{order.pk}/{step}/" for step in ("change", "place", "send")] + [
        "/buying/from/HENNOCK/"
    ]
    item_pages = [f"/jobs/{job.pk}/to-order-{step}/{BASE}/" for step in ("release", "sample")]
    for typed in HOSTILE:
        everywhere = dict.fromkeys(names, typed)
        for more in ({"version": "1"}, {"version": typed}, {"version": "1", "take_off": typed}):
            for path in order_pages:
                assert desk.post(path, everywhere | more).status_code == 302
        for more in ({}, {"end": typed}, {"sample": typed}):
            for path in item_pages:
                assert desk.post(path, everywhere | more).status_code in (302, 404)
    assert not Order.objects.exclude(state="draft").exists()
    for path in ("/buying/from/A%00/", f"/jobs/{job.pk}/buying/items/A%00/"):
        assert desk.get(path).status_code == 404


def test_the_list_asks_the_same_of_the_database_for_many_orders(as_, job):
    desk, material = as_("office"), Material.objects.get(code=BASE)
    mill = material.supplier
    placed_order(job, material, mill)
    before = queries_of(desk, "/buying/on-the-way/")
    for _ in range(5):
        placed_order(job, material, mill)
    assert queries_of(desk, "/buying/on-the-way/") == before


@pytest.fixture
def without_suppliers(job):
    Material.objects.update(supplier=None)
    keep_needs(job.pk, *find_needs(job.pk, NOW.date()), NOW)
    return StoredNeed.objects.count()


def test_items_without_a_supplier_are_counted_where_nothing_else_is_to_be_ordered(as_, job, without_suppliers):
    desk, message = as_("office"), f"{without_suppliers} items of 1 job have no supplier yet"
    for page in ("/buying/to-order/", reverse("today")):
        shown = desk.get(page).content.decode()
        assert message in shown and 'href="/catalog/?lacks=supplier"' in shown, page
        assert "Nothing to order" not in shown and "Nothing is due" not in shown
    assert "/catalog/" not in as_("lead").get(reverse("today")).content.decode()


def test_the_link_leads_to_the_materials_without_a_supplier(as_, job):
    Material.objects.filter(code=BASE).update(supplier=None)
    lines = as_("office").get("/catalog/?lacks=supplier").context["grid"].lines
    assert [line.row.material.code for line in lines] == [BASE]


def test_items_without_a_lead_time_are_counted_beside_those_to_be_ordered(as_, job):
    LeadTerm.objects.filter(material__code=BASE).delete()
    keep_needs(job.pk, *find_needs(job.pk, NOW.date()), NOW)
    assert (
        "1 item of 1 job has no lead time yet, so no day to order by."
        in as_("office").get("/buying/to-order/").content.decode()
    )


def test_a_job_that_cannot_be_worked_out_is_named_on_today(as_, job):
    WorkedJob.objects.filter(job=job).update(trouble="The wall turns back on itself.")
    StoredNeed.objects.all().delete()
    shown = as_("office").get(reverse("today")).content.decode()
    assert "cannot be worked out" in shown and "The wall turns back on itself" in shown


def test_what_both_runs_wait_for_is_said_once_with_the_way_to_clear_it(as_, job):
    shown = as_("office").get(reverse("order_item", args=[job.pk, BASE])).content.decode()
    assert shown.count("not measured or confirmed.") == 1
    assert "Base, desk side and Base, waiting side: " in shown.replace("; ", " and ")
    assert f'<a href="{reverse("wall", args=[job.pk, job.walls.get().key])}">Open</a>' in shown


@pytest.mark.parametrize(
    ("until", "text", "label"),
    [
        (date(2026, 12, 9), "Wed 9 Dec. Order after that: in time until Thu 10 Dec.", "can still cancel"),
        (
            date(2026, 12, 11),
            "Fri 11 Dec. Ordered before that, the firm pays for it if they do;",
            "can still cancel",
        ),
        (None, "", "best in time"),
    ],
)
def test_while_the_acceptance_can_be_taken_back_the_item_says_what_that_means(
    as_, job, monkeypatch, until, text, label
):
    agreed = JobStanding(accepted=True, window_until=until)
    monkeypatch.setattr(job_standings, "_agreements", [lambda ids, today: dict.fromkeys(ids, agreed)])
    shown = as_("office").get(reverse("order_item", args=[job.pk, BASE])).content.decode()
    assert f"The client can cancel until {text}" in shown if text else "The client can cancel until" not in shown
    assert label in shown and ("best in time" in shown) is (until is None)


def test_an_item_on_order_offers_no_release_and_says_despite_what_it_was_ordered(as_, job):
    desk = as_("office")
    order, _ = drafted(desk, job)
    released(desk, job)
    sent = {"version": "1", "request_key": "p", "way": "other"}
    desk.post(reverse("order_place", args=[order.pk]), sent)
    WallPiece.objects.filter(wall__job=job).update(rise_mm=30.5 * 25.4)
    shown = desk.get(reverse("order_item", args=[job.pk, BASE])).content.decode()
    assert "On order." in shown and "The wall has changed since" in shown
    # Chord, rise, height and of the door its middle, width and height: 6, for both runs alike.
    assert "Despite: quote not signed, 6 dimensions not measured or confirmed. The mill shuts." in shown
    for offered in ("Release to order</button>", "Release it again", "Undo the release"):
        assert offered not in shown.split("Release to order</h2>")[1].split("</section>")[0]
