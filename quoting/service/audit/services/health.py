from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import DatabaseError, connection

from quoting.alerts.models import AlertTrouble
from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.errands.services.heartbeats import heartbeat_ages, is_fresh

MAX_WAIT = timedelta(minutes=10)


@dataclass(frozen=True)
class Finding:
    name: str
    well: bool
    says: str


def examine(now: datetime) -> list[Finding]:
    """What the health page says. Anyone may read it, so it tells states and ages and nothing else."""
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
            cursor.fetchone()
        return [Finding("database", True, "answers"), *_beats(now), _queue(now), _items()]
    except DatabaseError:
        return [Finding("database", False, _what_is_wrong())]


def _what_is_wrong() -> str:
    try:
        there = connection.introspection.table_names()
    except DatabaseError:
        return "does not answer"
    missing = set(connection.introspection.django_table_names()) - set(there)
    return "the tables are missing: run manage.py migrate" if missing else "does not answer"


def _beats(now: datetime) -> list[Finding]:
    return [
        Finding(
            name,
            is_fresh(name, age),
            "never heard" if age is None else f"heard {max(0, round(age.total_seconds()))} s ago",
        )
        for name, age in heartbeat_ages(now).items()
    ]


def _queue(now: datetime) -> Finding:
    late = Errand.objects.filter(state=ErrandState.WAITING, due_at__lt=now - MAX_WAIT).count()
    return Finding("errands", late == 0, f"{late} waiting more than 10 minutes")


def _items() -> Finding:
    """Told and no reason to turn the service away: one item nobody can date concerns whoever reads Today."""
    count = AlertTrouble.objects.count()
    return Finding("items", True, f"{count} without alerts, needing attention")
