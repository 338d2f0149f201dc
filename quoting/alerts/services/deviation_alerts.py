"""What went otherwise than ordered, as alerts: each fact has one row while it stands, and goes out in one mail."""

from collections.abc import Iterable
from datetime import date, datetime

from jobs.core.ordering.deviations import changed_facts
from jobs.deliveries.services.deviations import LineDeviation, otherwise
from quoting.alerts.models import DeviationAlert
from quoting.alerts.services.alert_scope import UNREADABLE
from quoting.platform.firm_day import day_at_the_firm

Holding = frozenset[tuple[int, str, str]]


def holding_now(now: datetime) -> Holding | None:
    """None where a row cannot be read: alerts of items name it, and what was known of orders stays as it is."""
    try:
        return frozenset(one.key for one in otherwise(day_at_the_firm(now)).deviations)
    except UNREADABLE:
        return None


def keep_deviations(holding: Holding | None, now: datetime) -> None:
    """Of two looks at once the database refuses the second row of a fact."""
    if holding is None:
        return
    open_rows = DeviationAlert.objects.filter(ended_at=None)
    known = {(line, kind, mark): pk for pk, line, kind, mark in open_rows.values_list("pk", "line", "kind", "mark")}
    changed = changed_facts(holding, known)  # type: ignore[arg-type]
    open_rows.filter(pk__in=[known[key] for key in changed.ended]).update(ended_at=now)
    rows = [DeviationAlert(line_id=line, kind=kind, mark=mark, came_up_at=now) for line, kind, mark in changed.new]
    DeviationAlert.objects.bulk_create(rows, batch_size=500, ignore_conflicts=True)


def still_otherwise(told: Iterable[DeviationAlert], today: date) -> list[LineDeviation]:
    """What of it still holds, order by order."""
    keys = {(one.line_id, one.kind, one.mark) for one in told}
    return [one for one in otherwise(today).deviations if one.key in keys] if keys else []


def deviation_line(one: LineDeviation) -> str:
    job = one.line.job
    deviation = one.deviation
    line = f"{deviation.order}, {job.key} {job.title}: {deviation.label}. {deviation.sentence} {deviation.action}"
    return " ".join(line.split())
