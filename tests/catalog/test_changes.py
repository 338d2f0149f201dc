from dataclasses import replace
from typing import Any

import pytest

from catalog.core.materials.catalog_data import Catalog
from catalog.models import Material
from catalog.services.catalog_file import store_book
from catalog.services.changes import after_change, catalog_number, counted_once

pytestmark = pytest.mark.both_engines


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    numbers: list[int] = []
    monkeypatch.setattr("catalog.services.changes.after_change", [*after_change, lambda: numbers.append(1)])
    return numbers


def test_each_row_that_changes_is_counted_and_told(small_catalog: Catalog, told: list[int]) -> None:
    before = catalog_number()
    for row in Material.objects.all()[:2]:
        row.save()
    assert (catalog_number() - before, len(told)) == (2, 2)


def test_a_whole_catalog_is_counted_and_told_once(small_catalog: Catalog, told: list[int]) -> None:
    before, materials = catalog_number(), dict(small_catalog.materials)
    materials |= {"NEW": _renamed(next(iter(materials.values())), "NEW")}
    store_book(Catalog(small_catalog.firm, small_catalog.standards, small_catalog.suppliers, materials))
    assert (catalog_number() - before, len(told)) == (1, 1)


def test_what_changes_nothing_is_not_counted(small_catalog: Catalog, told: list[int]) -> None:
    before = catalog_number()
    with counted_once():
        pass
    assert (catalog_number(), told) == (before, [])


def test_a_change_that_fails_leaves_the_next_to_be_counted(small_catalog: Catalog, told: list[int]) -> None:
    with pytest.raises(ZeroDivisionError), counted_once():
        Material.objects.first().save()  # type: ignore[union-attr]
        raise ZeroDivisionError
    Material.objects.first().save()  # type: ignore[union-attr]
    assert len(told) == 1


def _renamed(material: Any, code: str) -> Any:
    return replace(material, code=code)
