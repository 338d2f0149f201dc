from datetime import datetime, timedelta

from quoting.platform.errands.models import Heartbeat

# Red well within the ten minutes promised, and not for one slow errand.
# "alerts" is the look for them, which may fail while the tick goes on.
STALE_AFTER = {"tick": timedelta(minutes=5), "worker": timedelta(minutes=8), "alerts": timedelta(minutes=8)}


def beat(name: str, now: datetime) -> None:
    Heartbeat.objects.update_or_create(name=name, defaults={"beat_at": now})


def heartbeat_ages(now: datetime) -> dict[str, timedelta | None]:
    beats = dict(Heartbeat.objects.filter(name__in=STALE_AFTER).values_list("name", "beat_at"))
    return {name: now - beats[name] if name in beats else None for name in STALE_AFTER}


def is_fresh(name: str, age: timedelta | None) -> bool:
    return age is not None and age <= STALE_AFTER[name]
