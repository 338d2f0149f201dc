"""What others did on site since somebody was here: what came, what was begun, what was confirmed."""

from collections.abc import Iterator
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.db.models import Count, QuerySet, Sum

from jobs.deliveries.models import Delivery
from jobs.schedule.models import ActualDays, PlannedActivityDays
from jobs.walls.models import DimensionMark
from quoting.service.services.news_item import MOST, News


def deliveries(since: datetime, reader: str) -> Iterator[News]:
    rows = Delivery.objects.filter(entered_at__gt=since).exclude(entered_by_name=reader).select_related("order")
    figures = {name: Sum(f"lines__{name}") for name in ("good", "damaged", "wrong")}
    rows = rows.annotate(count=Count("lines"), **figures)
    for row in rows.order_by("-entered_at")[:MOST]:
        place = ("order", str(row.order_id))
        what = f"{_figure(row.good)} good" if row.count == 1 else f"{row.count} lines"
        sentences = [
            f"{_figure(value)} {word}" for value, word in ((row.damaged, "damaged"), (row.wrong, "wrong")) if value
        ]
        did = f"checked in order {row.order.number}: {what}"
        yield News(row.entered_at, row.entered_by_name, did, place, bad=", ".join(sentences))


def _figure(value: Decimal) -> str:
    return f"{value.normalize():f}"


def work(day: date, reader: str) -> Iterator[News]:
    """Of a begin and an end the day alone is kept."""
    rows = ActualDays.objects.filter(began_on__gte=day) | ActualDays.objects.filter(ended_on__gte=day)
    rows = rows.select_related("job").order_by("-pk")[:MOST]
    keys = [(row.job_id, row.key) for row in rows]
    named: dict[Any, str] = {
        (job, key): name
        for job, key, name in PlannedActivityDays.objects.filter(
            job__in={job for job, _ in keys}, key__in={key for _, key in keys}
        ).values_list("job", "key", "name")
    }
    for row in rows:
        name = named.get((row.job_id, row.key), row.key)
        what = f"{name[:1].lower()}{name[1:]}: {row.job.title}"
        place = ("job_dates", str(row.job_id))
        if row.ended_on is not None and row.ended_on >= day and row.ended_by != reader:
            yield News(row.ended_on, row.ended_by, f"ended {what}", place)
        elif row.began_on >= day and row.began_by != reader:
            yield News(row.began_on, row.began_by, f"began {what}", place)


def confirmed_since(day: date) -> QuerySet[DimensionMark]:
    """Of a mark the day alone is kept. What came with a job file was confirmed elsewhere."""
    return DimensionMark.objects.filter(how="confirmed", on__gte=day, brought_by="")


def field_checks(day: date, reader: str) -> Iterator[News]:
    rows = confirmed_since(day).exclude(by=reader).order_by("-on", "wall")
    of = ("by", "on", "wall__job", "wall__job__title", "wall__key", "wall__name")
    for by, on, job, title, key, wall, count in rows.values_list(*of).annotate(count=Count("pk"))[:MOST]:
        what = f"{count} dimension{'' if count == 1 else 's'} of {wall}"
        yield News(on, by, f"confirmed {what}: {title}", ("field_check", str(job), key))
