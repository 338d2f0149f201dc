"""Days going by in a time zone, with what can go wrong as alerts come up: the bench of the alert tests.

Rows are kept as the database keeps them: of two that name the same alert one is refused. Schedulers keep nothing.
What is expected is counted by numpy's working days (numpy.busday_offset), and a local day begins when the IANA
Time Zone Database says so.
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from random import Random
from zoneinfo import ZoneInfo

import numpy as np

from catalog.core.ground.workdays import WorkCalendar
from jobs.core.ordering.alerts import AlertKey, AlertPlan, Watched, due_alerts, last_day_watched
from jobs.core.ordering.deviations import KINDS, Changed, FactKey, changed_facts

MINUTE, DAY = timedelta(minutes=1), timedelta(days=1)
# Two year ends, 29 February 2028 and, in every zone that changes its clocks, both changes.
FIRST_DAY, DAYS = date(2027, 12, 20), 400
# Both hemispheres, a change by half an hour, changes at midnight, and a zone 14 hours ahead.
ZONES = (
    "America/New_York",
    "America/Santiago",
    "Africa/Cairo",
    "Australia/Lord_Howe",
    "Europe/Lisbon",
    "Pacific/Kiritimati",
)
PLAN = AlertPlan((10, 5, 1))
SHUT = frozenset({*(date(2027, 12, 24) + n * DAY for n in range(9)), date(2028, 2, 29), date(2028, 7, 4)})
CALENDAR = WorkCalendar("firm", SHUT)
LATE_MOST, LATE_AFTER_OUTAGE = 10 * MINUTE, 5 * MINUTE


def begins(day: date, zone: ZoneInfo) -> datetime:
    """The first moment of a day; where midnight is skipped, the moment the clock is put on."""
    return datetime(day.year, day.month, day.day, tzinfo=zone).astimezone(UTC)


def some_items(count: int, days: int = DAYS) -> list[Watched]:
    dice = Random(20271220)
    items = []
    for number in range(count):
        order_by = CALENDAR.on_or_before(FIRST_DAY + (25 + dice.randrange(days - 30)) * DAY)
        decide_by = CALENDAR.back(order_by, 5) if number % 2 else None
        items.append(Watched(f"J-{number % 20}", f"M-{number}", order_by, decide_by))
    return items


def expected_days(items: list[Watched]) -> dict[AlertKey, date]:
    holidays = sorted(SHUT)

    def before(day: date, workdays: int) -> date:
        return np.busday_offset(day, -workdays, roll="backward", holidays=holidays).astype(date)

    days = {}
    for item in items:
        of = {str(n): before(item.order_by, n) for n in PLAN.days_ahead}
        of |= {"0": item.order_by, "late": item.order_by + DAY}
        days |= {AlertKey(item.job, item.material, item.order_by, name): day for name, day in of.items()}
        if item.decide_by:
            days[AlertKey(item.job, item.material, item.decide_by, "decide")] = before(item.order_by, 5)
    return days


@dataclass
class Kept:
    guarded: bool = True
    rows: dict[AlertKey, list[datetime]] = field(default_factory=lambda: defaultdict(list))

    def insert(self, keys: list[AlertKey], now: datetime) -> None:
        for key in keys:
            if not (self.guarded and key in self.rows):
                self.rows[key].append(now)


def outages(zone: ZoneInfo, days: int) -> list[tuple[datetime, datetime]]:
    """Three days each, beginning and ending at odd hours."""
    starts = [begins(FIRST_DAY + n * DAY, zone) + timedelta(hours=n % 24, minutes=7) for n in range(30, days, 67)]
    return [(start, start + 3 * DAY) for start in starts]


def minutes_up(zone: ZoneInfo, days: int, down: list[tuple[datetime, datetime]]) -> Iterator[datetime]:
    """The minutes around the beginning of each day, some others, and those after an outage: when things come up."""
    dice = Random(zone.key)
    for number in range(days):
        begun = begins(FIRST_DAY + number * DAY, zone)
        ticks = {begun + n * MINUTE for n in range(-2, 5)}
        ticks |= {begun + dice.randrange(10, 1380) * MINUTE for _ in range(2)}
        ticks |= {end + n * MINUTE for _, end in down for n in range(4) if begun <= end < begun + DAY}
        yield from sorted(tick for tick in ticks if not any(start <= tick < end for start, end in down))


def run(items: list[Watched], zone: ZoneInfo, days: int, *, guarded: bool = True) -> Kept:
    """Two schedulers each minute. Whenever something is due both are killed at first: before they keep anything;
    in the minute after, one is killed and two more start that have read the rows as they were."""
    stored, down, killed = Kept(guarded), outages(zone, days), False
    order = sorted(items, key=lambda entry: entry.decide_by or entry.order_by)
    for now in minutes_up(zone, days, down):
        today = now.astimezone(zone).date()
        until = last_day_watched(today, CALENDAR, PLAN)
        watched = [
            entry for entry in order if (entry.decide_by or entry.order_by) <= until and not _is_over(entry, stored)
        ]
        known = frozenset(key for entry in watched for key in stored.rows if key.material == entry.material)
        finding = due_alerts(watched, today, CALENDAR, PLAN, known)
        assert finding.troubles == ()
        keys = [alert.key for alert in finding.due]
        if keys and not killed:
            killed = True
            continue
        killed = False
        for _ in range(2):
            stored.insert(keys, now)
    return stored


def _is_over(item: Watched, stored: Kept) -> bool:
    return AlertKey(item.job, item.material, item.order_by, "late") in stored.rows


def wrongs(stored: Kept, items: list[Watched], zone: ZoneInfo, days: int) -> list[str]:
    """What is not as it must be: each alert exactly once, never before its day, and not late."""
    expected, down = expected_days(items), outages(zone, days)
    result = [f"never expected: {key}" for key in stored.rows if key not in expected]
    for key, day in expected.items():
        moments = stored.rows.get(key, [])
        if len(moments) != 1:
            result.append(f"told {len(moments)} times: {key}")
            continue
        due = begins(day, zone)
        latest = next((end + LATE_AFTER_OUTAGE for start, end in down if start <= due < end), due + LATE_MOST)
        if not due <= moments[0] <= latest:
            result.append(f"due {due}, told {moments[0]}: {key}")
    return result


@dataclass(frozen=True)
class FactDays:
    """Something that goes otherwise than ordered, from the first to the last day of each span."""

    key: FactKey
    spans: tuple[tuple[date, date], ...]

    def holds(self, day: date) -> bool:
        return any(first <= day <= last for first, last in self.spans)


def some_facts(count: int, days: int) -> list[FactDays]:
    """Each ends and comes back; spans and gaps are longer than an outage, or nobody could tell."""
    dice = Random(20271221)
    facts = []
    for number in range(count):
        first, spans = 1 + dice.randrange(10), []
        while first + 20 < days:
            last = first + 5 + dice.randrange(10)
            spans.append((FIRST_DAY + first * DAY, FIRST_DAY + last * DAY))
            first = last + 6 + dice.randrange(20)
        facts.append(FactDays((number, KINDS[number % len(KINDS)], f"mark {number}"), tuple(spans)))
    return facts


@dataclass
class KeptFacts:
    """rows: when each came up, and when it was seen to have ended. Of two open rows of one fact one is refused."""

    guarded: bool = True
    rows: list[tuple[FactKey, datetime]] = field(default_factory=list)
    open: dict[FactKey, datetime] = field(default_factory=dict)

    def store(self, changed: Changed, now: datetime) -> None:
        for key in changed.ended:
            self.open.pop(key, None)
        for key in changed.new:
            if not (self.guarded and key in self.open):
                self.open[key] = now
                self.rows.append((key, now))


def run_facts(facts: list[FactDays], zone: ZoneInfo, days: int, *, guarded: bool = True) -> KeptFacts:
    """Two schedulers each minute that have read the rows as they were; both are killed whenever anything changed."""
    fact, killed = KeptFacts(guarded), False
    for now in minutes_up(zone, days, outages(zone, days)):
        today = now.astimezone(zone).date()
        changed = changed_facts([day.key for day in facts if day.holds(today)], list(fact.open))
        if (changed.new or changed.ended) and not killed:
            killed = True
            continue
        killed = False
        for _ in range(2):
            fact.store(changed, now)
    return fact


def wrongs_of_facts(stored: KeptFacts, facts: list[FactDays], zone: ZoneInfo, days: int) -> list[str]:
    """What is not as it must be: each time a fact comes up told exactly once, never before, and not late."""
    result, down = [], outages(zone, days)
    for fact in facts:
        moments = [at for key, at in stored.rows if key == fact.key]
        if len(moments) != len(fact.spans):
            result.append(f"told {len(moments)} times for {len(fact.spans)}: {fact.key}")
            continue
        for (first, _), at in zip(fact.spans, moments, strict=True):
            due = begins(first, zone)
            latest = next((end + LATE_AFTER_OUTAGE for start, end in down if start <= due < end), due + LATE_MOST)
            if not due <= at <= latest:
                result.append(f"due {due}, told {at}: {fact.key}")
    return result
