"""Invariants of closed months; loaded with the other audit checks."""

from collections.abc import Iterable
from datetime import datetime

from quoting.core.money.month import next_month
from quoting.month.models import ClosedMonth
from quoting.month.services.snapshots import MonthChanged, row_marks, snapshot_of
from quoting.service.audit.services.audit import audit_check


@audit_check("closed months")
def months_are_as_they_were_closed(now: datetime) -> Iterable[str]:
    before = None
    for row in ClosedMonth.objects.all():
        if before is not None and row.month != next_month(before):
            yield f"{row}, but the month before it is not."
        before = row.month
        try:
            months = snapshot_of(row)["rows"]
        except (MonthChanged, ValueError, KeyError) as error:
            yield str(error)
            continue
        for table, marks in row_marks(row.month).items():
            if changed := sorted(set(marks.items()) ^ set(months.get(table, {}).items())):
                named = ", ".join(sorted({number for number, _ in changed}, key=int))
                yield f"{row}: rows {named} of {table} are not as they were closed."
