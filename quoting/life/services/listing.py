"""Jobs by the day their next step is due: some columns of all of them, and all of one page."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import F, Q, QuerySet

from jobs.jobs.models import Job
from quoting.core.life.stations import STATIONS
from quoting.life.services.reading import ReadLife, lives_of

MAX_SEARCH = 100
MAX_LIVES = 40
COLUMNS = ("pk", "client_id", "client__name", "life__station", "life__ended", "life__next_by", "life__turns_on")


@dataclass(frozen=True)
class ListedJob:
    """What a list sorts and counts by. ended: what stopped the chain, empty while it goes on."""

    pk: int
    client_id: int
    client: str
    station: str
    ended: str
    next_by: date | None

    @property
    def order(self) -> tuple[bool, date, int]:
        """Those that go on first, by the day of their next step; of those without a day the newest."""
        return bool(self.ended), self.next_by or date.max, -self.pk


def lives_at_hand(today: date) -> list[ReadLife]:
    """Of open jobs whose next step is due first; of those without a day the newest."""
    rows = Job.objects.filter(closed_on=None, life__isnull=False).select_related("client")
    nearest = rows.order_by(F("life__next_by").asc(nulls_last=True), "-pk")[:MAX_LIVES]
    return list(lives_of(nearest, today).values())


def found_jobs(search: str, *, closed: bool, today: date) -> list[ListedJob]:
    """By the day their next step is due. Rows that the day has turned are worked out anew; they are few."""
    rows = searched(Job.objects.filter(closed_on__isnull=not closed), search)
    jobs, turned = [], []
    for pk, client_id, client, station, ended, next_by, turns_on in rows.order_by().values_list(*COLUMNS):
        if station is None or (turns_on is not None and turns_on <= today):
            turned.append(pk)
        else:
            jobs.append(ListedJob(pk, client_id, client, station, ended, next_by))
    jobs += _anew(turned, today) if turned else []
    return sorted(jobs, key=lambda job: job.order)


def _anew(job_ids: list[int], today: date) -> Iterable[ListedJob]:
    jobs = Job.objects.filter(pk__in=job_ids).select_related("client")
    for pk, read in lives_of(jobs, today).items():
        life, job = read.life, read.job
        ended = life.end.kind if life.end else ""
        yield ListedJob(pk, job.client_id, job.client.name, life.station, ended, life.next.by if life.next else None)


def searched(rows: QuerySet[Job], search: str) -> QuerySet[Job]:
    """By words of the key, the title, the client and the site, or the number of an order."""
    for word in search.split():
        named = Q(key__icontains=word) | Q(title__icontains=word) | Q(client__name__icontains=word)
        named |= Q(site_address__icontains=word) | Q(order_lines__order__number__iexact=word)
        rows = rows.filter(named)
    return rows.distinct() if search.split() else rows


def counts_of(jobs: Iterable[ListedJob]) -> list[tuple[str, int]]:
    """How many stand at each station, in their order; what ended is counted by none."""
    counted = Counter(job.station for job in jobs if not job.ended)
    return [(station, counted[station]) for station in STATIONS if counted[station]]
