"""From when on the money of a job is warned of: the owner's to set, on the page and by API."""

from decimal import Decimal

import pytest
from django.urls import reverse

from quoting.job_money.models import MoneyLimits
from quoting.job_money.services.job_costs import money_of
from quoting.job_money.services.limits import limits_of_firm
from tests.support.desk import as_, opened
from tests.support.orrinsby_rows import LAST_OF_MAY, orrinsby_hall
from tests.support.worked import small_job

pytestmark = pytest.mark.django_db
__all__ = ["as_"]
HIGH = {"days_without_bill": 365, "under_billed": "0.6", "points_a_month": "4"}


@pytest.fixture
def owner(as_):
    small_job()
    return as_("owner")


def kinds(hall):
    return {warning.kind for warning in money_of([hall.pk], LAST_OF_MAY.date())[hall.pk].warnings}


@pytest.mark.both_engines
def test_warnings_go_by_what_the_owner_set():
    hall, limited = orrinsby_hall(), {"no_bill", "under_billed", "falls"}
    # 24 boards came on 21 Sep 2026, 52.60 % is earned and not asked for, and the margin fell by 3.61 points.
    assert limited <= kinds(hall)
    MoneyLimits.objects.create(**HIGH)
    assert not limited & kinds(hall)


def test_ten_days_a_tenth_and_two_points_hold_until_the_owner_says_otherwise(owner):
    limit = limits_of_firm()
    assert (limit.days_without_bill, limit.under_billed, limit.points_a_month) == (10, Decimal("0.1"), 2)
    page = owner.get(reverse("money_limits")).content.decode()
    assert all(f'value="{figure}"' in page for figure in ("10", "2"))


def test_the_owner_sets_them_on_the_page(owner):
    entries = {"days_without_bill": "14", "under_billed": "7.5", "points_a_month": "1.5"}
    answer = owner.post(reverse("money_limits"), opened(owner, reverse("money_limits")) | entries)
    assert answer.status_code == 302
    limit = limits_of_firm()
    assert (limit.days_without_bill, limit.under_billed, limit.points_a_month) == (14, Decimal("0.075"), Decimal("1.5"))


@pytest.mark.parametrize(
    ("name", "typed"), [("days_without_bill", "-1"), ("under_billed", "NaN"), ("points_a_month", "101")]
)
def test_what_is_no_limit_names_its_field_and_is_not_kept(owner, name, typed):
    entries = {"days_without_bill": "14", "under_billed": "7.5", "points_a_month": "1.5", name: typed}
    answer = owner.post(reverse("money_limits"), opened(owner, reverse("money_limits")) | entries)
    assert answer.status_code == 422 and answer.context["form"].errors.keys() == {name}
    assert not MoneyLimits.objects.exists()


def test_the_api_sets_them_for_the_owner_alone(asker):
    small_job()
    entry, estimator = asker("owner"), asker("estimator")
    assert estimator.get("/api/money-limits").json() == {
        "days_without_bill": 10,
        "under_billed": "0.1",
        "points_a_month": "2",
    }
    assert estimator.as_read("PUT", "/api/money-limits", HIGH).status_code == 403
    assert entry("PUT", "/api/money-limits", HIGH).status_code == 428
    assert entry.as_read("PUT", "/api/money-limits", HIGH).json() == HIGH
    assert entry.as_read("PUT", "/api/money-limits", HIGH | {"under_billed": "2"}).status_code == 400
