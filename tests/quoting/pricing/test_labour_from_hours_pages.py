"""The choice to take labour from the walls' hours, on the pages and over the API."""

from decimal import Decimal

import pytest
from django.urls import reverse

from jobs.jobs.models import Job
from quoting.pricing.models import Pricing
from quoting.pricing.services.pricing import fill_from_usual, pricing_of, save_pricing
from quoting.pricing.services.taxes import set_labour_rate
from tests.documents import job_file
from tests.quoting.quotes.test_quotes_pages import dental, typed
from tests.stored import stored_job
from tests.support.desk import DAY, as_

__all__ = ["as_", "dental"]

HOURS = {"labour_from_hours-rate": "47.00"}
USUAL = {"policy": {"mode": "margin", "target_margin": "0.4"}, "materials": "takeoff"}


def page_of(client, job: Job) -> str:
    return client.get(reverse("quote", args=[job.pk])).content.decode()


def test_an_hour_s_cost_saves_the_rate_and_shows_every_step_with_the_curve_factor(as_, dental):
    estimator = as_("estimator")
    sent = typed(estimator, dental) | HOURS | {"labour-0-what": "", "labour-0-hours": "", "labour-0-rate": ""}
    assert estimator.post(reverse("quote", args=[dental.pk]), sent).status_code == 302
    assert Pricing.objects.get(job=dental).hour_cost == Decimal("47.00")
    shown = page_of(estimator, dental)
    factor = job_file("larkmoor-dental").book.standards.fact("curve_factor").number
    assert "Hours of the walls" in shown and "Track and studs" in shown and f"curve factor {factor:g}" in shown


def test_what_is_saved_is_offered_again_and_emptying_takes_it_out(as_, dental):
    estimator, url = as_("estimator"), reverse("quote", args=[dental.pk])
    estimator.post(url, typed(estimator, dental) | HOURS)
    sent = typed(estimator, dental)
    assert sent["labour_from_hours-rate"] == "47.00"
    estimator.post(url, sent | {"labour_from_hours-rate": ""})
    assert Pricing.objects.get(job=dental).hour_cost is None


@pytest.mark.parametrize("rate", ["dear", "-1", "1e9", "99999999999"])
def test_a_wrong_rate_is_told_at_its_field_and_nothing_is_saved(as_, dental, rate):
    estimator = as_("estimator")
    sent = typed(estimator, dental) | HOURS | {"labour_from_hours-rate": rate}
    response = estimator.post(reverse("quote", args=[dental.pk]), sent)
    assert response.status_code == 422
    field = response.context["part"].head["labour_from_hours-rate"]
    assert "Cost of an hour of the walls" in field.errors[0] and field.value() == rate
    assert Pricing.objects.get(job=dental).hour_cost is None


def test_the_labour_rates_in_force_are_offered(as_, dental):
    set_labour_rate({"name": "Carpenter", "rate": "45.50", "starts_on": "2026-01-01"})
    set_labour_rate({"name": "Carpenter", "rate": "99.00", "starts_on": "2027-06-01"})
    shown = page_of(as_("estimator"), dental)
    assert '<option value="Carpenter">45.50</option>' in shown and "99.00</option>" not in shown
    assert shown.count('list="labour-rates"') == 3


def test_a_new_job_takes_the_firm_s_usual_rate(frozen_clock, db):
    frozen_clock.move_to(DAY)
    job = stored_job("larkmoor-dental")
    save_pricing(None, USUAL | {"labour_from_hours": {"rate": "52.25"}}, seen_version=None, on_day=DAY.date())
    fill_from_usual(job)
    assert pricing_of(job).hour_cost == Decimal("52.25")


def test_the_office_sees_hours_and_their_cost_and_the_lead_nothing(as_, dental):
    save_pricing(dental, USUAL | {"labour_from_hours": {"rate": "47"}}, seen_version=None, on_day=DAY.date())
    assert "Hours of the walls" in page_of(as_("office"), dental)
    assert as_("lead").get(reverse("quote", args=[dental.pk])).status_code == 403
