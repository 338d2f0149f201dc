"""What is on no wall, from the catalog to the receipt, on the dental screen: adhesive by the foot of its trim, and a
door set. The bases are 143.99 in and 137.63 in long by its worked example; trim begins on Mon 25 Jan 2027."""

from datetime import date
from decimal import Decimal

import pytest
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.services.entries import add_material
from jobs.deliveries.services.receiving import check_in, state_of
from jobs.jobs.services.jobs import export_job
from jobs.needs.models import StoredNeed
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.orders.services.drafting import draft_order
from jobs.orders.services.items import live_item
from jobs.orders.services.placing import place_order
from jobs.orders.services.releasing import release_item
from jobs.orders.services.sheets import request_sheet
from jobs.whole_jobs.services.job_entries import import_job, save_job_head
from jobs.work_up.services.job_work_up import stored_work_up
from quoting.alerts.models import FeedEvent
from quoting.core.quotes.work_up import work_up
from quoting.job_files.services.job_files import job_file_of
from quoting.platform.people.signatures import Signature
from quoting.pricing.services.pricing import store_pricing
from tests.documents import job_file
from tests.stored import stored_job
from tests.support.desk import DAY, as_

pytestmark = pytest.mark.django_db
__all__ = ["as_"]
TODAY = DAY.date()
ITEMS = [
    {"material": "ADHESIVE", "rule": "ft_of_trim", "quantity": "0.05", "activity": "trim"},
    {"material": "DOOR-SET", "quantity": "1", "need_by": "2027-01-20"},
]


def own(code, own_kind, bought, price, waste, production):
    return {
        "code": code,
        "name": own_kind,
        "kind": "own",
        "own_kind": own_kind,
        "unit_used": "each",
        "unit_bought": bought,
        "waste": waste,
        "supplier": "TOLLARD",
        "packs": [
            {
                "code": "P",
                "label": bought,
                "quantity": 1,
                "prices": [{"amount": price, "starts_on": "2026-01-01", "source": "list"}],
            }
        ],
        "lead_terms": [
            {"production": production, "transit_workdays": 2, "source": "telephone", "stated_on": "2026-09-01"}
        ],
    }


@pytest.fixture
def job(frozen_clock):
    frozen_clock.move_to(DAY)
    row = stored_job("larkmoor-dental")
    add_material(own("ADHESIVE", "Adhesive", "tube", "6.50", "0.1", "1 day"))
    add_material(own("DOOR-SET", "Door set", "set", "410.00", "0", "4 weeks"))
    save_job_head(row, {"job": {"items": ITEMS}}, seen_version=None)
    return row


def bought(job):
    return {purchase.material: purchase for purchase in stored_work_up(job, TODAY).takeoff.purchases}


def test_adhesive_follows_the_feet_of_trim_and_says_why(job):
    result = bought(job)["ADHESIVE"]
    # 281.62 in of base are 23.47 ft; at 0.05 tubes a foot 1.17, with a tenth of waste 1.29: two tubes at 6.50.
    assert (round(result.net, 2), result.buy, result.cost) == (Decimal("1.17"), 2, Decimal("13.00"))
    assert result.net + result.waste + result.rounding == result.buy
    [line] = [entry for entry in stored_work_up(job, TODAY).takeoff.lines if entry.material == "ADHESIVE"]
    assert ("Of this wall", "23.47 ft") in line.explanation.inputs


def test_what_is_by_count_serves_the_whole_job_and_is_in_its_price(job):
    pricing = job_file("larkmoor-dental").pricing
    without = work_up(job_file("larkmoor-dental"), TODAY).takeoff.cost
    store_pricing(job, pricing)
    result = work_up(job_file_of(job, TODAY), TODAY)
    # 13.00 of adhesive and 410.00 for the door set.
    assert result.takeoff.cost == without + Decimal("423.00")
    [share] = next(purchase for purchase in result.takeoff.purchases if purchase.material == "DOOR-SET").shares
    assert (share.wall, share.cost) == ("", Decimal("410.00"))


def test_the_door_set_is_dated_by_its_four_weeks_and_the_adhesive_by_the_trim(job):
    needs = {need.material: need for need in stored_work_up(job, TODAY).needs}
    door, adhesive = needs["DOOR-SET"], needs["ADHESIVE"]
    assert (door.need_by, adhesive.need_by, adhesive.set_by) == (date(2027, 1, 20), date(2027, 1, 25), "start of trim")
    # Three days of cushion before Wed 20 Jan is Thu 14 (Mon 18 is closed), two of transit Tue 12. The yard is shut from
    # 21 Dec to 1 Jan: 6 of its 20 days lie in January, 14 end on Fri 18 Dec, so Tue 1 Dec.
    assert door.dates.order_by == date(2026, 12, 1)


def placed_order(job):
    by, moment = {"by": "I. Quarrell", "now": DAY}, DAY
    item = live_item(job, "DOOR-SET", moment)
    release_item(job, "DOOR-SET", seen_mark=item.statement.mark, reason="Agreed by telephone.", moment=moment, **by)
    supplier = job.items.first().material.supplier
    chosen = [(job.pk, "DOOR-SET"), (job.pk, "ADHESIVE")]
    order = draft_order(supplier, chosen, request_key="o", moment=moment, **by)
    texts = {"request_key": "p", "unsigned_reason": "Agreed by telephone."}
    return place_order(order, way="other", seen_version=order.version, moment=moment, **texts, **by)


@pytest.mark.both_engines
def test_both_go_the_whole_way_to_a_receipt(job):
    order = placed_order(job)
    assert [(line.quantity, line.unit) for line in order.lines.all()] == [(1, "set"), (2, "tubes")]
    paper = request_sheet(order, "I. Quarrell", DAY, DAY).payload["paper"]
    assert [line["what"] for line in paper["lines"]] == ["Door set (DOOR-SET)", "Adhesive (ADHESIVE)"]
    came = {
        "request_key": "d",
        "received_on": "2026-11-25",
        "seen_deliveries": 0,
        "lines": [{"place": 1, "good": 1}, {"place": 2, "good": 2}],
    }
    check_in(order, came, Signature("L. Abara", TODAY), now=DAY)
    assert [state_of(line).open for line in order.lines.all()] == [0, 0]


def test_the_calendar_and_the_order_dates_hold_them(job):
    keep_needs(job.pk, *find_needs(job.pk, TODAY), DAY)
    assert StoredNeed.objects.get(material="DOOR-SET").order_by == date(2026, 12, 1)
    assert FeedEvent.objects.filter(summary__contains="Door set", first_day=date(2026, 12, 1)).exists()


@pytest.mark.both_engines
def test_a_job_file_with_items_comes_back_the_same(job):
    exported = export_job(job)
    assert [entry["material"] for entry in exported["job"]["items"]] == ["ADHESIVE", "DOOR-SET"]
    exported["job"]["key"] = "J-COPY"
    assert export_job(import_job(exported, now=DAY)) == exported


def test_days_agreed_for_what_no_wall_and_no_item_takes_are_said(job):
    def idle():
        return [finding.sentence for finding in stored_work_up(job, TODAY).findings if finding.key.endswith("/idle")]

    assert idle() == []
    save_job_head(
        job, {"job": {"items": [], "dates": [{"material": "DOOR-SET", "need_by": "2027-01-20"}]}}, seen_version=None
    )
    [message] = idle()
    assert message.startswith("Days are agreed for Door set, but this job does not buy it")


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ({"quantity": 1, "activity": "trim"}, "items[2].material: is missing"),
        ({"material": "DOOR-SET", "quantity": 1}, "give the day it must be on site, or the activity"),
        ({"material": "GHOST", "quantity": 1, "activity": "trim"}, "not a material in the catalog"),
        ({"material": "DOOR-SET", "quantity": 0, "activity": "trim"}, "items[2].quantity"),
        ({"material": "DOOR-SET", "quantity": 1, "activity": "trim", "rule": "per mood"}, "items[2].rule"),
        (ITEMS[1], '"door-set" is given twice'),
    ],
)
def test_a_wrong_item_is_refused_at_its_entry(job, entry, words):
    with pytest.raises(DocumentError) as refused:
        save_job_head(job, {"job": {"items": [*ITEMS, entry]}}, seen_version=None)
    assert words in str(refused.value)


def test_hire_by_the_day_follows_the_days_of_its_activity_or_of_the_whole_work(job):
    add_material(own("FAN", "Hire of a fan", "day", "19.00", "0", "1 day"))
    hire = {"material": "FAN", "rule": "workday", "quantity": 2, "need_by": "2027-01-11"}
    # Boards take two working days; from Mon 4 to Tue 26 Jan, the 18th closed, are 16.
    for more, days in (({"activity": "boards"}, 2), ({}, 16)):
        save_job_head(job, {"job": {"items": [hire | more]}}, seen_version=None)
        assert bought(job)["FAN"].net == 2 * days


def test_an_item_for_an_activity_the_job_does_not_have_is_said(job):
    save_job_head(job, {"job": {"items": [{**ITEMS[0], "activity": "plinth"}]}}, seen_version=None)
    result = stored_work_up(job, TODAY)
    assert any('is for the activity "plinth"' in finding.sentence for finding in result.findings)
    assert [need.dates for need in result.needs if need.material == "ADHESIVE"] == [None]


def test_a_kind_of_the_firms_own_must_be_named(job):
    with pytest.raises(DocumentError, match="own_kind: is missing"):
        add_material(own("CAP", "", "piece", "1", "0", "1 day") | {"name": "Cap"})


def test_boards_by_count_alone_are_bought_by_the_sheet(job):
    item = {"material": "GB-14", "quantity": 40, "need_by": "2027-01-08"}
    bare = import_job({"client": {"name": "C"}, "job": {"key": "J-B", "title": "B", "items": [item]}}, now=DAY)
    # 40 sq ft of a board of 4 x 8 ft and more, with its waste: two sheets of 32, or one longer.
    assert bought(bare)["GB-14"].buy >= 40


def test_the_page_keeps_items_and_shows_what_is_wrong_beside_its_field(as_, job):
    client, url = as_("office"), reverse("job_items", args=[job.pk])
    sent = {"seen_version": job.version, "items-0-material": "DOOR-SET", "items-0-quantity": "2", "items-0-need_by": ""}
    page = client.post(url, sent)
    assert page.status_code == 422 and "give the day it must be on site" in page.content.decode()
    assert client.post(url, sent | {"items-0-activity": "trim"}).status_code == 302
    assert [(item.quantity, item.activity) for item in job.items.all()] == [(2, "trim")]
    assert "Net quantities of other items" in client.get(reverse("job_quantities", args=[job.pk])).content.decode()


def test_a_lead_has_no_part_in_it(as_, job):
    assert as_("lead").get(reverse("job_items", args=[job.pk])).status_code == 403


@pytest.mark.both_engines
def test_the_api_changes_items_with_the_job(estimator, dental):
    path = f"/api/jobs/{dental.key}"
    item = {"material": "BASE-514-FLEX", "quantity": "3", "need_by": "2027-01-08"}
    answer = estimator("PATCH", path, {"job": {"items": [item]}}, If_Match=estimator.get(path)["ETag"])
    assert answer.status_code == 200, answer.content
    [stored] = answer.json()["job"]["items"]
    assert (stored["rule"], stored["quantity"], stored["activity"]) == ("count", "3", None)
    lines = estimator.get(f"{path}/takeoff?today=2026-11-25").json()["lines"]
    assert [(line["wall"], line["net"]) for line in lines if line["key"].startswith("items/")] == [(None, "3")]
