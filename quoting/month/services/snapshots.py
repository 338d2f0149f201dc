"""What the close of a month keeps: its figures and the mark of each row, as one text with its SHA-256."""

import json
from datetime import date
from typing import Any

from django.apps import apps
from django.core.serializers.json import DjangoJSONEncoder
from django.db import connection
from django.db.models import Model

from catalog.core.ground.refusal import Refused
from quoting.month.models import ClosedMonth
from quoting.platform.closed_rows import guarded
from quoting.quotes.services.snapshots import hash_of

FORMAT = "closed-month/1"
Document = dict[str, Any]


class MonthChanged(Refused):
    def __init__(self, row: ClosedMonth) -> None:
        super().__init__(f"{row}: what is stored is not what was closed. Restore the database from the backup.")


def snapshot_text(month: date, **figures: Any) -> str:
    document = {"format": FORMAT, "month": f"{month:%Y-%m}", "rows": row_marks(month), **figures}
    return _text(document)


def snapshot_of(row: ClosedMonth) -> Document:
    """Read back what was closed; refused when it no longer has its hash."""
    if hash_of(row.snapshot) != row.snapshot_sha256:
        raise MonthChanged(row)
    document: Document = json.loads(row.snapshot)
    return document


def row_marks(month: date) -> dict[str, dict[str, str]]:
    """Of each table that counts by months: the id of each row of the month, with the SHA-256 of what it says."""
    return {table: _marks(model, column, month) for table, (model, column) in counted().items()}


def counted() -> dict[str, tuple[type[Model], str]]:
    """The models whose rows count by months, by their tables, with the column of the month."""
    columns = guarded()
    models = {model._meta.db_table: model for model in apps.get_models()}
    return {table: (models[table], column) for table, column in columns.items()}


def first_month() -> date | None:
    """The earliest month any row counts in."""
    name = connection.ops.quote_name
    firsts = [f"SELECT MIN({name(column)}) AS first FROM {name(table)}" for table, column in guarded().items()]
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT MIN(first) FROM ({' UNION ALL '.join(firsts)}) AS firsts")
        (first,) = cursor.fetchone()
    # SQLite keeps days as text.
    return date.fromisoformat(str(first)) if first else None


def _marks(model: type[Model], column: str, month: date) -> dict[str, str]:
    rows = model._default_manager.filter(**{column: month}).order_by("pk")
    return {str(row["id"]): hash_of(_text(row)) for row in rows.values()}


def _text(document: Any) -> str:
    return json.dumps(document, cls=DjangoJSONEncoder, sort_keys=True, ensure_ascii=False, allow_nan=False)
