"""A job's price from its row: worked out once, and told with its day where a list shows an older one."""

from datetime import timedelta
from unittest import mock

import pytest

from quoting.job_files.services.job_files import work_up_job
from quoting.platform.read_once import one_page
from quoting.quotes.services import stored_prices
from quoting.quotes.services.stored_prices import prices_of_jobs, stored_price
from tests.support.worked import TODAY, small_job

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


@pytest.fixture
def worked():
    with mock.patch.object(stored_prices, "work_up_job", wraps=work_up_job) as counted:
        yield counted


def test_the_price_of_the_small_job_is_worked_out_once_for_any_number_of_readers(job, worked):
    """8,582.00 of cost at a margin of 38 %: 13,841.94 by hand, and with 13 % tax 15,641.39."""
    for _ in range(3):
        fact = stored_price(job, TODAY)
        with one_page():
            assert stored_price(job, TODAY) == fact
    assert (str(fact.cost), str(fact.price), str(fact.total)) == ("8582.00", "13841.94", "15641.39")
    assert worked.call_count == 1


def test_a_job_without_a_price_is_asked_about_once(worked):
    job = small_job("J-0101", pricing=None)
    assert stored_price(job, TODAY) is None and stored_price(job, TODAY) is None
    assert worked.call_count == 1


def test_a_list_shows_the_last_price_with_its_day_and_says_that_it_is_older(job):
    stored_price(job, TODAY)
    (now,) = prices_of_jobs([job.pk], TODAY).values()
    (later,) = prices_of_jobs([job.pk], TODAY + timedelta(days=1)).values()
    assert now.is_current and not later.is_current
    assert later.facts == now.facts and later.on == TODAY
