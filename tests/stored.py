"""The jobs of fixtures/, stored as the service would hold them.

Storing a catalog row by row, with its history, takes longer than most tests. So the rows that the services stored the
first time are put in again as they were, wherever the tables are as empty as they were then. The workers of one run
share them.
"""

import os
import pickle
from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from django.apps import apps
from django.core.management.color import no_style
from django.db import connection, transaction
from django.db.models import Model

from catalog.core.materials.catalog_data import Catalog
from catalog.services.catalog_file import store_book
from jobs.jobs.models import Job
from jobs.whole_jobs.services.job_store import store_job
from quoting.platform import clock
from quoting.platform.errands.models import Errand
from tests.documents import JOBS, job_file

STORED_AT = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)
Rows = dict[type[Model], list[tuple[Any, ...]]]
laid: dict[str, Rows] = {}
shared: list[Path] = []
"""The folder in which the workers of a run leave rows for one another, where there is one."""


def stored_job(name: str) -> Job:
    """One of the whole jobs of fixtures/, its catalog with it."""
    lay(f"job {name}", lambda: _without_errands(lambda: _store([name])))
    return Job.objects.get(key=job_file(name).job.key)


def stored_jobs() -> list[Job]:
    lay("jobs", lambda: _without_errands(lambda: _store(JOBS)))
    return [Job.objects.get(key=job_file(name).job.key) for name in JOBS]


def stored_book(book: Catalog, name: str) -> None:
    lay(f"book {name}", lambda: _without_errands(lambda: store_book(book)))


@transaction.atomic
def lay(name: str, store: Callable[[], object], at: datetime = STORED_AT) -> None:
    """at: what the clock says to store, the same whoever comes first."""
    filled, rows = _filled(), _laid(name)
    if rows and not filled & (rows.keys() | _grounds()):
        _put_in(rows)
        return
    with clock.use(clock.FrozenClock(at)):
        store()
    if not filled:
        now_filled = _filled()
        # Closed months last: nothing is entered on one afterwards.
        ordered = sorted(_models(), key=lambda model: model.__name__ == "ClosedMonth")
        laid[name] = {model: _rows_of(model) for model in ordered if model in now_filled}
        for file in _shared_file(name):
            own = file.with_suffix(f".{os.getpid()}")
            own.write_bytes(pickle.dumps({model._meta.label: rows for model, rows in laid[name].items()}))
            own.replace(file)


def _laid(name: str) -> Rows:
    for file in _shared_file(name):
        if name not in laid and file.exists():
            laid[name] = {apps.get_model(label): rows for label, rows in pickle.loads(file.read_bytes()).items()}
    return laid.get(name, {})


def _shared_file(name: str) -> list[Path]:
    return [folder / f"{sha256(name.encode()).hexdigest()}.rows" for folder in shared]


def _store(names: Iterable[str]) -> None:
    for name in names:
        read = job_file(name)
        store_book(read.book)
        store_job(read.job, now=STORED_AT)


def _without_errands(store: Callable[[], object]) -> None:
    there = set(Errand.objects.values_list("pk", flat=True))
    store()
    Errand.objects.exclude(pk__in=there).delete()


@cache
def _models() -> tuple[type[Model], ...]:
    return tuple(model for app in ("catalog", "jobs", "quoting") for model in apps.get_app_config(app).get_models())


@cache
def _grounds() -> frozenset[type[Model]]:
    """What storing a job looks at: where any of it is there, what would be stored may be something else."""
    return frozenset(model for model in _models() if model._meta.app_label != "quoting")


def _filled() -> set[type[Model]]:
    looks = (f"SELECT {place} WHERE EXISTS (SELECT 1 FROM {_table(model)})" for place, model in enumerate(_models()))
    with connection.cursor() as cursor:
        cursor.execute(" UNION ALL ".join(looks))
        return {_models()[place] for (place,) in cursor.fetchall()}


def _rows_of(model: type[Model]) -> list[tuple[Any, ...]]:
    # The plus keeps SQLite's values from being converted.
    plus = "+" if connection.vendor == "sqlite" else ""
    columns = ", ".join(plus + connection.ops.quote_name(field.column) for field in model._meta.local_concrete_fields)
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT {columns} FROM {_table(model)}")
        return cursor.fetchall()


def _put_in(rows: Rows) -> None:
    with connection.cursor() as cursor:
        for model, values in rows.items():
            columns = [connection.ops.quote_name(field.column) for field in model._meta.local_concrete_fields]
            marks = ", ".join(["%s"] * len(columns))
            cursor.executemany(f"INSERT INTO {_table(model)} ({', '.join(columns)}) VALUES ({marks})", values)
        for statement in connection.ops.sequence_reset_sql(no_style(), list(rows)):
            cursor.execute(statement)


def _table(model: type[Model]) -> str:
    return connection.ops.quote_name(model._meta.db_table)
