"""The crew of the demonstration, and the hours its lead entered for what was built so far."""

from collections.abc import Iterable
from datetime import date, datetime, timedelta

from catalog.services.book import firm_of
from jobs.hours.models import Worker
from jobs.hours.services.entering import enter_hours
from jobs.hours.services.steps import steps_of
from jobs.hours.services.workers import enter_worker
from jobs.jobs.models import Job
from jobs.schedule.models import ActualDays
from quoting.platform.people.signatures import Signature
from quoting.service.demo.demo_jobs import LEAD

CREW = (LEAD, "Wilm Ostrey", "Rowan Tarvin")
SECOND_CREW = ("Idris Colm", "Sabra Wenn", "Tavi Orme")
LEAD_LOG_IN = "demo-lead"
USUAL_MINUTES = 480


def crew_of_the_demo(by: str, *, now: datetime, today: date) -> list[Worker]:
    """Once, whoever asks."""
    crew = []
    for name in CREW + SECOND_CREW:
        entries = {
            "request_key": f"demo {name}",
            "name": name,
            "rate_name": "Carpenter",
            "first_day": "2026-01-05",
            "login_name": LEAD_LOG_IN if name == LEAD else "",
        }
        crew.append(enter_worker(entries, Signature(by, today), now=now)[0])
    return crew


def hours_as_worked(job: Job, *, now: datetime, today: date) -> None:
    """Of its people whoever was on no other job, on each working day before today; today's are for whoever looks."""
    steps, worked = steps_of(job, today), dict[date, str]()
    names = set(job.people.values_list("name", flat=True))
    for row in ActualDays.objects.filter(job=job, key__in=steps).order_by("began_on", "pk"):
        last = min(row.ended_on or today, today - timedelta(days=1))
        for day in (row.began_on + timedelta(days=n) for n in range((last - row.began_on).days + 1)):
            if firm_of().calendar.is_workday(day):
                worked.setdefault(day, row.key)
    for day, step in worked.items():
        lines = [_line(who, day) | {"step": step} for who in free_on(day) if who.name in names]
        if lines:
            document = {"request_key": f"demo {job.key} {day}", "lines": lines}
            enter_hours(document, Signature(LEAD, today), now=now, among=Worker.objects.all(), job=job)


def hours_elsewhere(days: Iterable[date], by: str, *, now: datetime, today: date) -> None:
    """Those on no job were at the workshop."""
    for day in days:
        lines = [_line(who, day) | {"elsewhere": "Workshop"} for who in free_on(day)]
        if lines:
            document = {"request_key": f"demo workshop {day}", "lines": lines}
            enter_hours(document, Signature(by, today), now=now, among=Worker.objects.all())


def free_on(day: date) -> list[Worker]:
    return list(Worker.objects.exclude(entries__day=day))


def _line(who: Worker, day: date) -> dict[str, object]:
    return {"worker": who.pk, "day": day.isoformat(), "minutes": USUAL_MINUTES}
