from collections.abc import Callable

import pytest
from django.core.cache import cache

from catalog.services.catalog_file import import_catalog
from jobs.jobs.models import Job
from jobs.work_up.services.job_files import import_job_file
from quoting.platform.people.models import Role
from quoting.platform.people.services.tokens import make_token
from tests.documents import document, job_file
from tests.quoting.api.asking import Asker
from tests.stored import stored_book


@pytest.fixture(autouse=True)
def _no_calls_counted_yet():
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
    import_catalog(document("catalog/starter.json"))


@pytest.fixture
def stored(db, frozen_clock) -> Callable[[str], Job]:
    """A whole job of fixtures/, and a catalog that holds just what its file holds, the firm too."""

    def store(name: str) -> Job:
        stored_book(job_file(name).book, name)
        return import_job_file(document(f"jobs/{name}.json"), now=frozen_clock.now())

    return store


@pytest.fixture
def dental(stored) -> Job:
    return stored("larkmoor-dental")
