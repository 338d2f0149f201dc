"""Since when things are news to somebody: since their visit before this one."""

from datetime import datetime, timedelta

from quoting.platform.people.models import LastVisit, Person

VISIT_ENDS_AFTER = timedelta(minutes=30)
WRITTEN_EACH = timedelta(minutes=1)
"""Looking again within it writes nothing."""


def news_since(person: Person, now: datetime, first: datetime) -> datetime:
    """Looking now. first: what counts on somebody's first visit."""
    row, made = LastVisit.objects.get_or_create(person=person, defaults={"news_since": first, "seen_at": now})
    if made or now - row.seen_at < WRITTEN_EACH:
        return row.news_since
    since = row.seen_at if now - row.seen_at >= VISIT_ENDS_AFTER else row.news_since
    # Of two looks at once the first one moves it.
    LastVisit.objects.filter(pk=row.pk, seen_at=row.seen_at).update(news_since=since, seen_at=now)
    return since
