"""Larkmoor Dental, a closed job: quoted at 8,582.00 for 13,841.94, it cost 9,728.50; the same through rows, services,
page, API and paper."""

from datetime import date
from decimal import Decimal
from io import BytesIO

import pytest
from django.urls import reverse
from pypdf import PdfReader

from jobs.jobs.models import Job
from quoting.job_money.services.job_costs import money_of
from quoting.job_money.services.result_paper import result_paper
from quoting.platform.papers.typeset import paper_pdf
from tests.factories.bills import bill_line, bill_row
from tests.factories.hours import time_entry, worker
from tests.support.answered import accept, with_paper
from tests.support.desk import as_
from tests.support.worked import TODAY, issued, small_job

pytestmark = pytest.mark.django_db
__all__ = ["as_"]
D = Decimal
# 799.00 + 162.50 + 185.00 = 1,146.50 over 13,841.94 are 5.772, 1.174 and 1.337 points; 38.00 - 8.28 = 29.72.
CAUSES = {"hours": ("799.00", "5.77"), "freight": ("185.00", "1.34"), "price": ("162.50", "1.17")}


@pytest.fixture
def larkmoor():
    """96 h at 47.00, goods of 3,180.00, painting 650.00 and delivery 240.00 were quoted; 113 h were worked."""
    job = small_job("J-0310")
    accept(with_paper(issued(job)))
    crew = worker("Ines Quarrell")
    for day, hours in enumerate((24, 24, 24, 24, 17), 1):
        time_entry(crew, job, hours * 60, date(2026, 11, day), step="All work", rate=D("47.00"))
    bill = bill_row("A-1", shop="Tollard")
    bill_line(bill, job, "3342.50", item="as entered", what="Board")
    bill_line(bill, job, "185.00", category="freight", what="Rush")
    bill_line(bill, job, "650.00", category="subcontract", item="Painting", what="Painting")
    bill_line(bill, job, "240.00", category="other", item="Delivery", what="Delivery")
    Job.objects.filter(pk=job.pk).update(closed_on=TODAY)
    return Job.objects.get(pk=job.pk)


def found_of(job):
    return money_of([job.pk], TODAY)[job.pk]


@pytest.mark.both_engines
def test_the_rows_give_the_cost_and_the_margin(larkmoor):
    result = found_of(larkmoor)
    assert (result.costs.quoted, result.costs.to_date, result.costs.at_completion) == (
        D("8582.00"),
        D("9728.50"),
        D("9728.50"),
    )
    assert (result.bridge.quoted_margin, result.bridge.margin, result.bridge.lost) == (
        D("38.00"),
        D("29.72"),
        D("8.28"),
    )


@pytest.mark.both_engines
def test_hours_price_and_freight_took_8_28_points(larkmoor):
    steps = found_of(larkmoor).bridge.steps
    assert {step.cause: (str(step.amount), str(step.points)) for step in steps} == CAUSES


def test_the_page_says_the_same(larkmoor, as_):
    page = as_("owner").get(reverse("job_money", args=[larkmoor.pk])).content.decode()
    for figure in ("29.72 %", "38.00 %", "8,582.00", "9,728.50", "799.00", "162.50", "185.00", "5.77", "1.17", "1.34"):
        assert figure in page


def test_the_api_says_the_same(larkmoor, as_):
    owner = as_("owner")
    costs, bridge = (owner.get(f"/api/jobs/J-0310/{name}").json() for name in ("costs", "bridge"))
    # 4,113.44 / 13,841.94 = 0.297172
    assert (costs["to_date"], costs["at_completion"], costs["margin"]) == ("9728.50", "9728.50", "0.297172")
    assert {entry["cause"]: (entry["amount"], entry["points"]) for entry in bridge["causes"]} == CAUSES
    assert (bridge["lost"], bridge["changes"]) == ("8.28", "0.00")


def test_the_paper_says_the_same(larkmoor):
    paper = result_paper(larkmoor, found_of(larkmoor), by="O. Owner", on=TODAY)
    text = " ".join(page.extract_text() for page in PdfReader(BytesIO(paper_pdf(paper))).pages)
    for figure in ("29.72 %", "38.00 %", "9,728.50", "799.00", "162.50", "185.00", "5.77", "1.17", "1.34"):
        assert figure in text
    # 113 h for 96 agreed.
    assert "17 h more than the 96 h agreed" in text
