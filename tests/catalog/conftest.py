import pytest

from catalog.core.materials.catalog_data import Book
from catalog.services.catalog_file import import_catalog
from tests.factories import documents


@pytest.fixture
def small_catalog(db: None) -> Book:
    return import_catalog(documents.catalog())
