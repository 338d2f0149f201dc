import pytest

from tests.quoting import worked


@pytest.fixture
def job(db):
    return worked.small_job()


@pytest.fixture
def revision(job):
    return worked.issued(job)
