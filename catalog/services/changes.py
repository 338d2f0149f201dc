"""Every row of the catalog that changes is counted and told, in the transaction that changes it."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any

from django.apps import apps
from django.db.models import F
from django.db.models.signals import post_delete, post_save

from catalog.models import CatalogChanges
from quoting.platform.read_once import read_once

after_change: list[Callable[[], None]] = []
_as_one: ContextVar[list[str] | None] = ContextVar("rows changed that are counted as one change", default=None)


def catalog_number() -> int:
    """How often the catalog has changed, so far as this transaction sees."""
    return CatalogChanges.objects.values_list("number", flat=True).first() or 0


def catalog_number_once() -> int:
    """The same for what a page looks at, read once for it."""
    return read_once("catalog number", catalog_number)


def catalog_changed() -> None:
    if not CatalogChanges.objects.update(number=F("number") + 1):
        CatalogChanges.objects.get_or_create(pk=CatalogChanges.ONLY_ID, defaults={"number": 1})
    for message in after_change:
        message()


@contextmanager
def counted_once() -> Iterator[None]:
    """For what writes hundreds of rows in one transaction: they are counted and told as one change, at its end."""
    if _as_one.get() is not None:
        yield
        return
    seen: list[str] = []
    token = _as_one.set(seen)
    try:
        yield
    finally:
        _as_one.reset(token)
    if seen:
        catalog_changed()


def watch_the_catalog() -> None:
    """Histories and the count itself are no part of what is worked out of a catalog."""
    for model in apps.get_app_config("catalog").get_models():
        if model is CatalogChanges or hasattr(model, "history_object"):
            continue
        post_save.connect(_told, sender=model, dispatch_uid=f"catalog changed {model.__name__}")
        post_delete.connect(_told, sender=model, dispatch_uid=f"catalog removed {model.__name__}")


def _told(sender: Any, raw: bool = False, **about: Any) -> None:
    if raw:
        return
    seen = _as_one.get()
    if seen is None:
        catalog_changed()
    else:
        seen.append(sender.__name__)
