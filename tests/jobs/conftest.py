from datetime import UTC, datetime

import pytest

from catalog.services.catalog_file import import_catalog
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import import_job
from tests.factories import documents

NOW = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)


@pytest.fixture
def small_catalog(db: None) -> None:
    import_catalog(documents.catalog())


@pytest.fixture
def small_job(small_catalog: None) -> Job:
    return import_job(documents.job(), now=NOW)
