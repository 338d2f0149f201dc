"""One material from several suppliers, on the dental screen: its quarter-inch board is had from the yard; the mill asks
10.00 a sheet and takes three weeks."""

from datetime import date
from decimal import Decimal

import pytest
from django.urls import reverse

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.core.materials.specs import Offer
from catalog.models import Material, Supplier
from catalog.services.book import book_of
from catalog.services.entries import change_material
from catalog.services.offers import prefer
from jobs.jobs.models import Job
from jobs.needs.models import StoredNeed
from jobs.needs.services.date_recalculation import recompute_dates
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.orders.services.drafting import draft_order
from jobs.orders.services.other_supplier import others_for, put_to
from jobs.orders.services.placing import standing_of_order
from jobs.whole_jobs.services.job_entries import save_job_head
from jobs.work_up.services.job_work_up import stored_work_up
from quoting.job_files.services.job_files import export_job_file, import_job_file
from tests.stored import stored_job
from tests.support.desk import DAY, as_

pytestmark = pytest.mark.django_db
__all__ = ["as_"]
BOARD, YARD, MILL = "GB-14", "TOLLARD", "HENNOCK"
TODAY = DAY.date()


@pytest.fixture
def job(frozen_clock):
    frozen_clock.move_to(DAY)
    row = stored_job("larkmoor-dental")
    packs = Material.objects.get(code=BOARD).packs.values_list("code", flat=True)
    prices = [{"pack": pack, "amount": "10.00", "starts_on": "2026-01-01", "source": "list"} for pack in packs]
    term = {"production": "3 weeks", "transit_workdays": 3, "source": "telephone", "stated_on": "2026-09-01"}
    change_material(BOARD, {"offers": [{"supplier": MILL, "lead_terms": [term], "prices": prices}]})
    return row


def of(job):
    work_up = stored_work_up(Job.objects.get(pk=job.pk), TODAY)
    bought = next(purchase for purchase in work_up.takeoff.purchases if purchase.material == BOARD)
    return bought, next(need for need in work_up.needs if need.material == BOARD)


def had_from(job, supplier):
    save_job_head(job, {"job": {"dates": [{"material": BOARD, "supplier": supplier}]}}, seen_version=None)


def drafted(job):
    yard = Supplier.objects.get(code=YARD)
    return draft_order(yard, [(job.pk, BOARD)], request_key="o", by="I. Quarrell", now=DAY, moment=DAY)


def test_the_preferred_supplier_counts_until_the_job_says_another(job):
    bought, need = of(job)
    assert (bought.supplier, need.supplier) == (YARD, YARD) and {pack.unit_price for pack in bought.packs} != {10}
    had_from(job, MILL)
    bought, need = of(job)
    assert (bought.supplier, need.supplier, need.term.production_days) == (MILL, MILL, 15)
    assert bought.cost == 10 * sum(pack.count for pack in bought.packs)


@pytest.mark.both_engines
def test_stored_dates_follow_the_supplier_of_the_job_when_they_are_counted_again(job):
    had_from(job, MILL)
    keep_needs(job.pk, *find_needs(job.pk, TODAY), DAY)
    before = StoredNeed.objects.get(material=BOARD)
    Material.objects.filter(code=BOARD).update(cushion_workdays=5)
    recompute_dates(TODAY)
    row = StoredNeed.objects.get(material=BOARD)
    assert (row.supplier, row.production_days) == (MILL, 15) and row.order_by < before.order_by


def test_of_one_who_offers_nothing_price_and_lead_time_are_gaps(job):
    had_from(job, YARD)
    change_material(BOARD, {"offers": []})
    had_from(job, MILL)
    bought, need = of(job)
    assert bought.cost is None and any(finding.key.endswith("/lead-term") for finding in need.findings)


@pytest.mark.both_engines
def test_a_draft_is_put_to_the_other_supplier_with_their_price_and_days(job):
    order = drafted(job)
    assert [supplier.code for supplier in others_for(order)] == [MILL]
    order = put_to(order, Supplier.objects.get(code=MILL), seen_version=order.version, moment=DAY)
    line = order.lines.get()
    assert (order.supplier_id, line.unit_price, line.amount) == (MILL, 10, 10 * line.quantity)
    assert of(job)[1].supplier == MILL and not standing_of_order(order, DAY).stops


def test_a_draft_is_not_placed_where_the_job_has_it_from_another(job):
    order = drafted(job)
    had_from(job, MILL)
    assert any("not bought from Tollard" in stop for stop in standing_of_order(order, DAY).stops)


def test_who_offers_nothing_gets_no_order(job):
    order = drafted(job)
    other = Supplier.objects.create(code="X", name="Xylo")
    with pytest.raises(Refused, match="Xylo offers no"):
        put_to(order, other, seen_version=order.version, moment=DAY)


@pytest.mark.both_engines
def test_preferring_another_swaps_their_prices_and_terms_and_loses_none(job):
    before = book_of().materials[BOARD]
    prefer(BOARD, MILL)
    after = book_of().materials[BOARD]
    assert (after.supplier, after.offers[0].supplier) == (MILL, YARD)
    assert after.offers[0].lead_terms == before.lead_terms
    prefer(BOARD, YARD)
    assert book_of().materials[BOARD] == before


@pytest.mark.parametrize(
    ("offer", "words"),
    [
        ({"supplier": YARD}, "the preferred one not again"),
        ({"supplier": "GHOST"}, "not the code of a supplier"),
        ({"supplier": MILL, "prices": [{"pack": "?", "amount": "1", "starts_on": "2026-01-01"}]}, "not a pack of it"),
    ],
)
def test_a_wrong_offer_is_refused(job, offer, words):
    with pytest.raises(DocumentError, match=words):
        change_material(BOARD, {"offers": [offer]})


def test_a_job_file_carries_offers_and_the_supplier_of_the_job(job):
    had_from(job, MILL)
    exported = export_job_file(job, TODAY)
    exported["job"]["key"] = "J-COPY"
    assert export_job_file(import_job_file(exported, now=DAY), TODAY) == exported
    assert exported["job"]["dates"] == [
        {"material": BOARD, "need_by": None, "cushion_workdays": None, "sign_off_workdays": None, "supplier": MILL}
    ]


def test_the_pages_take_an_offer_and_show_it(as_, job):
    client, row = as_("office"), Material.objects.get(code="TRACK-358")
    sent = {"supplier": MILL, "pack": row.packs.first().code, "amount": "31.00", "starts_on": "2026-11-01"}
    url = reverse("offer_add", args=[row.pk])
    assert (
        client.post(url, sent | {"production": "2 weeks", "transit_workdays": "2", "source": "mail"}).status_code == 302
    )
    assert client.post(url, {"supplier": MILL}).status_code == 422
    offer = book_of().materials["TRACK-358"].offers[0]
    assert offer.prices[sent["pack"]][0].amount == Decimal("31.00") and offer.lead_terms[0].stated_on == date(
        2026, 11, 1
    )
    assert "31.00" in client.get(reverse("material", args=[row.pk])).content.decode()
    assert client.post(reverse("offer_prefer", args=[row.pk]), {"supplier": MILL}).status_code == 302
    assert Material.objects.get(code="TRACK-358").supplier_id == MILL


def test_the_dates_page_chooses_the_supplier(as_, job):
    client, url = as_("office"), reverse("job_dates", args=[job.pk])
    form = client.get(url).context["form"]
    sent = {entry.html_name: entry.value() for row in form.dates.forms for entry in row if entry.value()}
    name = next(entry.add_prefix("supplier") for entry in form.dates.forms if entry.name == BOARD)
    assert client.post(url, sent | {"seen_version": job.version, name: MILL}).status_code == 302
    assert of(job)[1].supplier == MILL


def test_the_api_puts_a_draft_to_another(office, dental):
    prices = [
        {"pack": pack.code, "amount": "10.00", "starts_on": "2026-01-01"}
        for pack in Material.objects.get(code=BOARD).packs.all()
    ]
    term = {"production": "3 weeks", "transit_workdays": 3, "source": "telephone", "stated_on": "2026-09-01"}
    change_material(BOARD, {"offers": [{"supplier": MILL, "lead_terms": [term], "prices": prices}]})
    new = {"request_key": "k", "supplier": YARD, "items": [{"job": dental.key, "material": BOARD}]}
    made = office("POST", "/api/orders", new)
    path = f"/api/orders/{made.json()['number']}"
    changed = office("PATCH", path, {"supplier": MILL}, If_Match=made["ETag"])
    assert changed.status_code == 200 and changed.json()["supplier"] == MILL, changed.content


def test_an_offer_comes_back_as_it_was_written():
    from catalog.core.ground.document_reader import Reader

    document = {
        "supplier": MILL,
        "lead_terms": [],
        "prices": [{"pack": "P", "amount": "10.00", "starts_on": "2026-01-01", "source": "", "held_until": None}],
    }
    assert write(read(Offer, Reader(document))) == document
