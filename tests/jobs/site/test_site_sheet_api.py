"""The site sheet over the API: for everybody on the staff, without money or supplier."""

import pytest
from django.urls import reverse

from jobs.deliveries.services.receiving import check_in
from tests.support.asking import reasons
from tests.support.childcare import CAME, NOW, SIGNED, delivery_document, trim_on_order


def sheet_of(person, dental, query=""):
    return person.get(f"/api/jobs/{dental.key}/site-sheet{query}")


def test_ordinates_come_at_the_interval_asked_for(lead, dental):
    answer = sheet_of(lead, dental, "?interval=6%20in")
    assert answer.status_code == 200, answer.content
    table = next(entry for entry in answer.json()["walls"][0]["ordinates"] if entry["line"] == "right_framing")
    # Pythagoras, 36 in along the chord of 168: sqrt(132.6^2 - 48^2) - 102.6 in.
    row = table["rows"][6]
    assert row["along"]["in"] == 36
    assert row["ordinate"]["in"] == pytest.approx((132.6**2 - 48**2) ** 0.5 - 102.6, abs=1e-3)


def test_the_lead_reads_neither_money_nor_supplier(lead, dental):
    text = sheet_of(lead, dental).content.decode()
    assert "price" not in text and "Tollard" not in text and "margin" not in text


def test_a_wrong_interval_names_itself(lead, dental):
    assert "10 mm" in reasons(sheet_of(lead, dental, "?interval=1%20mm"))["interval"]


def test_nobody_without_a_token_reads_it(client, dental):
    assert client.get(f"/api/jobs/{dental.key}/site-sheet").status_code == 401


def test_what_was_checked_in_stands_on_the_sheet_and_its_page(asker, frozen_clock):
    frozen_clock.move_to(NOW)
    line = trim_on_order()
    check_in(line.order, delivery_document(), SIGNED, now=NOW)
    lead = asker("lead")
    rows = lead.get(f"/api/jobs/{line.job.key}/site-sheet").json()["materials"]
    came = next(row["on_site"] for row in rows if row["material"] == "BASE-312-FLEX")
    assert came == [{"on": CAME.isoformat(), "count": "7", "spoilt": "2", "unit": line.unit}]
    lead.client.force_login(lead.person)
    page = lead.client.get(reverse("site_sheet", args=[line.job_id])).content.decode()
    assert "Fri 6 Aug 2027: 7 pieces good, 2 damaged or wrong" in page
