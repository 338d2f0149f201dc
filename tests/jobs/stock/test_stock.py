"""The firm's stock on the dental screen: of what is set aside for it one fewer is bought, and the job is charged."""

from decimal import Decimal

import pytest
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.models import Supplier
from jobs.deliveries.services.claims import correct_receipt
from jobs.deliveries.services.receiving import check_in
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import delete_job, export_job
from jobs.orders.services.drafting import More, draft_order
from jobs.orders.services.placing import place_order
from jobs.stock.models import Stock
from jobs.stock.services.stock import enter_stock, put_back, set_aside, take_out
from jobs.whole_jobs.services.job_entries import import_job, save_job_head
from jobs.work_up.services.job_work_up import stored_work_up
from quoting.platform.people.signatures import Signature
from tests.stored import stored_job
from tests.support.desk import DAY, as_

pytestmark = pytest.mark.django_db
__all__ = ["as_"]
BY = "I. Quarrell"


@pytest.fixture
def job(frozen_clock):
    frozen_clock.move_to(DAY)
    return stored_job("larkmoor-dental")


def bought(job, material):
    work_up = stored_work_up(Job.objects.get(pk=job.pk), DAY.date())
    return next(purchase for purchase in work_up.takeoff.purchases if purchase.material == material)


def packs(purchase):
    return sum(pack.count for pack in purchase.packs)


def stick_of(job):
    stud = job.walls.get().stud
    return stud.code, stud.packs.exclude(length_mm=None).first()


def entered(material, pack, count=1, **more):
    return enter_stock({"material": material, "pack": pack, "count": count, **more})


@pytest.mark.both_engines
def test_a_stick_set_aside_is_bought_one_fewer_and_charged_to_the_job(job):
    code, _ = stick_of(job)
    before = bought(job, code)
    row = entered(code, before.packs[0].pack, unit_cost="4.00")
    assert packs(bought(job, code)) == packs(before), "on the shelf it is nobody's"
    set_aside(row.pk, job, 1, by=BY)
    after = bought(job, code)
    assert packs(after) == packs(before) - 1 and after.stock_cost == Decimal("4.00")
    assert after.net + after.waste + after.rounding == after.buy + after.on_hand
    assert sum(share.cost for share in after.shares) == after.cost + 4
    assert Stock.objects.get().set_aside_by_name == BY


def test_a_sheet_set_aside_is_bought_one_fewer(job):
    before = bought(job, "GB-14")
    pack = before.packs[0]
    set_aside(entered("GB-14", pack.pack, 3, unit_cost="10").pk, job, 1, by=BY)
    after = bought(job, "GB-14")
    assert (packs(after), after.cost, after.stock_cost) == (packs(before) - 1, before.cost - pack.unit_price, 10)
    assert after.net + after.waste + after.rounding == after.buy + after.on_hand
    assert [(row.job_id, row.count) for row in Stock.objects.order_by("count")] == [(job.pk, 1), (None, 2)]


def test_an_off_cut_that_holds_a_piece_is_cut_before_a_stick_is_bought(job):
    code, _ = stick_of(job)
    pieces = [cut.length_mm for stick in bought(job, code).cuts.sticks for cut in stick.cuts]
    row = enter_stock({"material": code, "length": f"{min(pieces) + 10} mm", "count": 1})
    set_aside(row.pk, job, 1, by=BY)
    assert bought(job, code).on_hand > 0 and bought(job, code).stock_cost == 0


def test_what_is_set_aside_for_one_job_is_not_for_another(job):
    code, pack = stick_of(job)
    other = import_job({"client": {"name": "C"}, "job": {"key": "J-B", "title": "B"}}, now=DAY)
    row = set_aside(entered(code, pack.code).pk, job, 1, by=BY)
    with pytest.raises(Refused, match="set aside for"):
        set_aside(row.pk, other, 1, by=BY)
    put_back(row.pk, 1)
    stored = set_aside(Stock.objects.get().pk, other, 1, by=BY)
    assert (stored.job, bought(job, code).on_hand) == (other, 0)


def test_more_than_is_there_is_not_had(job):
    code, pack = stick_of(job)
    row = entered(code, pack.code, 2)
    with pytest.raises(Refused, match="2 are there"):
        set_aside(row.pk, job, 3, by=BY)
    take_out(row.pk, 2)
    with pytest.raises(Refused, match="It is gone"):
        set_aside(row.pk, job, 1, by=BY)


@pytest.mark.both_engines
def test_what_was_set_aside_for_a_job_that_is_deleted_lies_on_the_shelf(job):
    code, pack = stick_of(job)
    set_aside(entered(code, pack.code).pk, job, 1, by=BY)
    delete_job(job)
    assert Stock.objects.get().job is None


@pytest.mark.both_engines
def test_a_job_file_carries_what_is_set_aside(job):
    set_aside(entered("GB-14", bought(job, "GB-14").packs[0].pack, 2, unit_cost="10").pk, job, 2, by=BY)
    exported = export_job(job)
    exported["job"]["key"] = "J-COPY"
    assert export_job(import_job(exported, now=DAY)) == exported
    [entry] = exported["job"]["on_hand"]
    assert (entry["length"], entry["count"], entry["unit_cost"]) == (None, 2, "10.00")


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ({"material": "GHOST", "count": 1}, "not a material"),
        ({"material": "GB-14", "count": 1}, "length"),
        ({"material": "GB-14", "pack": "P", "count": 1}, "not a pack of"),
        ({"material": "GB-14", "pack": "GB-14-8", "count": 0}, "count"),
        ({"material": "GB-14", "pack": "GB-14-8", "length": "3 ft", "count": 1}, "off-cut alone"),
    ],
)
def test_wrong_stock_is_refused_at_its_entry(job, entry, words):
    with pytest.raises(DocumentError, match=words):
        enter_stock(entry)


@pytest.mark.both_engines
def test_what_comes_beyond_the_need_goes_to_the_shelf_at_its_price(job):
    yard, by = Supplier.objects.get(code="TOLLARD"), {"by": BY, "now": DAY, "moment": DAY}
    more = {(job.pk, "TRACK-358"): More(Decimal(2), "The yard sells them in fives.")}
    order = draft_order(yard, [(job.pk, "TRACK-358")], request_key="o", more=more, **by)
    order = place_order(
        order, way="other", seen_version=order.version, request_key="p", unsigned_reason="Agreed.", **by
    )
    line = order.lines.get()
    came = {"request_key": "d", "seen_deliveries": 0, "received_on": "2026-11-25"}
    check_in(order, came | {"lines": [{"place": 1, "good": str(line.quantity)}]}, Signature(BY, DAY.date()), now=DAY)
    row = Stock.objects.get()
    assert (row.job, row.count, row.unit_cost, row.note) == (None, 2, line.unit_price, f"From order {order}")
    receipt = line.receipts.get()
    one_less = {"good": str(line.quantity - 1), "damaged": "1", "note": "Counted again."}
    correct_receipt(receipt, one_less | {"seen": [receipt.good, receipt.damaged, receipt.wrong]})
    assert Stock.objects.get().count == 1
    set_aside(Stock.objects.get().pk, job, 1, by=BY)
    receipt.refresh_from_db()
    with pytest.raises(Refused, match="set aside or used"):
        correct_receipt(
            receipt, one_less | {"good": str(line.quantity - 2), "damaged": "2", "seen": [receipt.good, 1, 0]}
        )


@pytest.mark.both_engines
def test_the_pages_enter_set_aside_and_put_back(as_, job):
    client, (code, pack) = as_("office"), stick_of(job)
    sent = {"material": code, "pack": pack.code, "count": "2", "unit_cost": "4.00"}
    assert client.post(reverse("stock"), sent).status_code == 302
    assert client.post(reverse("stock"), sent | {"count": "x"}).status_code == 422
    row, plans = Stock.objects.get(), reverse("job_plans", args=[job.pk])
    assert ">Set aside<" in client.get(plans).content.decode()
    client.post(reverse("stock_act", args=[row.pk]), {"count": "1", "job": job.pk, "from_job": job.pk})
    assert job.on_hand.get().count == 1 and "on hand, " in client.get(plans).content.decode()
    client.post(reverse("stock_act", args=[job.on_hand.get().pk]), {"count": "1", "back": "1"})
    assert not job.on_hand.exists() and Stock.objects.get().count == 2
    assert as_("lead").get(reverse("stock")).status_code == 403


def test_the_api_enters_and_moves_stock(office, dental):
    made = office("POST", "/api/stock", {"material": "GB-14", "pack": "GB-14-8", "count": 2, "unit_cost": "9.50"})
    assert made.status_code == 201, made.content
    move = {"move": "set_aside", "count": 1, "job": dental.key}
    result = office("POST", f"/api/stock/{made.json()['id']}", move)
    assert result.status_code == 200, result.content
    assert sorted((entry["job"] or "", entry["count"]) for entry in result.json()["stock"]) == [
        ("", 1),
        (dental.key, 1),
    ]


def test_a_lead_sees_what_is_set_aside_and_neither_its_cost_nor_a_supplier(lead, dental):
    row = enter_stock({"material": "GB-14", "pack": "GB-14-8", "count": 1, "unit_cost": "9.57"})
    set_aside(row.pk, dental, 1, by=BY)
    save_job_head(dental, {"job": {"dates": [{"material": "GB-14", "supplier": "HENNOCK"}]}}, seen_version=None)
    for path in ("", "/takeoff?today=2026-11-25", "/schedule?today=2026-11-25"):
        message = lead.get(f"/api/jobs/{dental.key}{path}").content.decode()
        assert "GB-14" in message and not any(
            word in message for word in ("9.57", "stock_cost", "HENNOCK", "Hennock")
        ), path
