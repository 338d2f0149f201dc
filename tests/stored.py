"""The jobs of fixtures/, stored as the service would hold them.

Storing a catalog row by row, with its history, takes longer than most tests. So what the services stored the first
time is laid down again in bulk wherever the tables are as empty as they were then.
"""

from collections.abc import Callable
from copy import copy
from datetime import UTC, datetime
from functools import cache

from django.apps import apps
from django.core.management.color import no_style
from django.db import connection, transaction
from django.db.models import Model

from catalog.core.materials.catalog_data import Book
from catalog.services.catalog_file import store_book
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import store_job
from quoting.platform.errands.models import Errand
from tests.documents import JOBS, job_file

STORED_AT = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)
Rows = dict[type[Model], list[Model]]
laid: dict[str, Rows] = {}


def stored_job(name: str) -> Job:
    """One of the whole jobs of fixtures/, its catalog with it."""

    def store() -> None:
        read = job_file(name)
        store_book(read.book)
        store_job(read.job, now=STORED_AT)

    lay(f"job {name}", store)
    return Job.objects.get(key=job_file(name).job.key)


def stored_jobs() -> list[Job]:
    return [stored_job(name) for name in JOBS]


def stored_book(book: Book, name: str) -> None:
    lay(f"book {name}", lambda: store_book(book))


@transaction.atomic
def lay(name: str, store: Callable[[], object]) -> None:
    if not _all_empty():
        _without_errands(store)
    elif name not in laid:
        _without_errands(store)
        laid[name] = {model: list(model._base_manager.all()) for model in _models()}
    else:
        filled = {model: rows for model, rows in laid[name].items() if rows}
        for model, rows in filled.items():
            model._base_manager.bulk_create(copy(row) for row in rows)
        with connection.cursor() as cursor:
            for statement in connection.ops.sequence_reset_sql(no_style(), list(filled)):
                cursor.execute(statement)


def _without_errands(store: Callable[[], object]) -> None:
    """What is laid down in bulk asks for none, so neither does what is laid down the first time."""
    there = set(Errand.objects.values_list("pk", flat=True))
    store()
    Errand.objects.exclude(pk__in=there).delete()


@cache
def _models() -> tuple[type[Model], ...]:
    return tuple(model for app in ("catalog", "jobs") for model in apps.get_app_config(app).get_models())


def _all_empty() -> bool:
    return not any(model._base_manager.exists() for model in _models())
