"""What many tests start from: small and whole jobs, somebody who asks the API, papers made once."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest
from django.core.cache import cache

from catalog.core.materials.catalog_data import Catalog
from catalog.services.catalog_file import import_catalog, read_book, store_book
from jobs.jobs.models import Job
from jobs.whole_jobs.services.job_entries import import_job
from quoting.job_files.services.job_files import import_job_file
from quoting.platform import clock
from quoting.platform.papers.typeset import paper_pdf
from quoting.platform.people.models import Role
from quoting.platform.people.services.tokens import make_token
from quoting.quotes.models import QuoteRevision
from tests.documents import document, job_file
from tests.factories import documents
from tests.stored import lay, stored_book
from tests.support import worked
from tests.support.asking import Asker
from tests.support.paper_samples import boutique_order_dates, dental_quote


@pytest.fixture
def small_catalog(db: None) -> Catalog:
    book = read_book(documents.catalog())
    lay("small catalog", lambda: store_book(book))
    return book


NOW = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)


@pytest.fixture
def small_job(small_catalog: None) -> Job:
    return import_job(documents.job(), now=NOW)


@pytest.fixture
def job(db, request):
    if "revision" in request.fixturenames:
        return request.getfixturevalue("revision").quote.job
    return worked.small_job()


@pytest.fixture
def revision(db):
    """Of the small job, issued."""
    lay("revision", lambda: worked.issued(worked.small_job()))
    return QuoteRevision.objects.get()


@pytest.fixture
def a_minute_later():
    """Errands asked for at worked.NOW are due."""
    with clock.use(clock.FrozenClock(worked.NOW + timedelta(minutes=1))) as frozen:
        yield frozen


@pytest.fixture(autouse=True)
def no_calls_counted_yet():
    cache.clear()


@pytest.fixture
def asker(make_person, frozen_clock) -> Callable[[str], Asker]:
    def make(role: str) -> Asker:
        person = make_person(role)
        return Asker(person, make_token(person, "a test", frozen_clock.now())[1])

    return make


@pytest.fixture
def estimator(asker) -> Asker:
    return asker(Role.ESTIMATOR)


@pytest.fixture
def office(asker) -> Asker:
    return asker(Role.OFFICE)


@pytest.fixture
def lead(asker) -> Asker:
    return asker(Role.LEAD)


@pytest.fixture
def starter_catalog(db) -> None:
    lay("starter catalog", lambda: import_catalog(document("catalog/starter.json")))


@pytest.fixture
def stored(db, frozen_clock) -> Callable[[str], Job]:
    """A whole job of fixtures/, and a catalog that holds just what its file holds, the firm too."""

    def store(name: str) -> Job:
        lay(f"job file {name}", lambda: imported(name))
        return Job.objects.get(key=job_file(name).job.key)

    def imported(name: str) -> None:
        stored_book(job_file(name).book, name)
        import_job_file(document(f"jobs/{name}.json"), now=frozen_clock.now())

    return store


@pytest.fixture
def dental(stored) -> Job:
    return stored("larkmoor-dental")


@pytest.fixture(scope="session")
def quote_bytes() -> bytes:
    return paper_pdf(dental_quote())


@pytest.fixture(scope="session")
def order_dates_bytes() -> bytes:
    return paper_pdf(boutique_order_dates())
