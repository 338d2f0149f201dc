from datetime import timedelta

import pytest

from quoting.platform import clock
from tests.quoting import worked


@pytest.fixture
def job(db):
    return worked.small_job()


@pytest.fixture
def revision(job):
    return worked.issued(job)


@pytest.fixture
def a_minute_later():
    """Errands asked for at worked.NOW are due."""
    with clock.use(clock.FrozenClock(worked.NOW + timedelta(minutes=1))) as frozen:
        yield frozen
