"""Days of a calendar feed going by, and what becomes of the items of a job: the bench of the feed's test.

Items are signed off, ordered, promised for another day, come good or damaged, are ordered again; days of need move.
Whoever stores any of it is killed first and does it again. What the feed must hold is counted from this story alone.
"""

import os
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, timedelta
from random import Random
from zoneinfo import ZoneInfo

from django.db import transaction

from catalog.models import Material, Supplier
from jobs.deliveries.models import Delivery, ReceiptLine
from jobs.needs.models import StoredNeed
from jobs.needs.services.stored_needs import after_redating
from jobs.orders.models import OrderLine, SignOff
from jobs.orders.services.order_changes import orders_changed
from quoting.alerts.services.calendar_events import NEED_KINDS
from quoting.alerts.services.feed_events import PAST_SHOWN, feed_events
from quoting.platform.firm_day import day_at_the_firm
from tests.factories.orders import placed_order
from tests.jobs.core.alert_days import DAY, DAYS, FIRST_DAY, MINUTE, begins, some_items
from tests.support.alerted import need

# make faults asks for two zones and all days.
WHOLE = bool(os.environ.get("CURVEWRIGHT_FAULT_ROUNDS"))
SOME_ZONES = ("America/Santiago", "Europe/Lisbon") if WHOLE else ("America/Santiago",)
HOW_LONG, HOW_MANY = (DAYS, 12) if WHOLE else (120, 8)
HAPPENS = {"moved", "signed off", "ordered", "promised", "came good", "came bad", "ordered again"}
BY, SUPPLIERS = "O. Office", ("HENNOCK", "TOLLARD")
DECIDE_AHEAD, NEED_AFTER, COMES_AFTER = 7 * DAY, 30 * DAY, 20 * DAY
Shown = Counter[tuple[str, date, frozenset[str]]]


@dataclass
class Item:
    """What has become of an item. line: on its way. was_ordered: ever. is_here: all of it, good."""

    material: str
    supplier: str
    order_by: date
    signed_off: bool = False
    was_ordered: bool = False
    is_here: bool = False
    line: OrderLine | None = None
    expected_on: date = date.max

    @property
    def is_open(self) -> bool:
        return self.line is None and not self.is_here


class Killed(Exception):
    pass


class FeedDays:
    """guarded: whether events are stored in the transaction of what they follow."""

    def __init__(self, job, clock, zone: ZoneInfo, *, count: int, days: int, guarded: bool = True) -> None:
        self.job, self.clock, self.zone, self.days, self.guarded = job, clock, zone, days, guarded
        self.dice, self.wrongs, self.shown_before, self.seen = Random(zone.key), [], {}, Counter()
        for code in SUPPLIERS:
            Supplier.objects.get_or_create(code=code, defaults={"name": code})
        codes = Material.objects.order_by("code").values_list("code", flat=True)[:count]
        self.items = [
            Item(code, SUPPLIERS[number % 2], watched.order_by)
            for number, (code, watched) in enumerate(zip(codes, some_items(count, days), strict=True))
        ]

    def run(self) -> list[str]:
        self.clock.move_to(begins(FIRST_DAY, self.zone))
        figures = {"statement": {"quantity": "4", "unit": "pieces"}}
        for item in self.items:
            need(self.job, item.material, item.order_by, supplier=item.supplier, **figures)
        self._redated([self.job.pk])
        for number in range(self.days):
            self.clock.move_to(begins(FIRST_DAY + number * DAY, self.zone) + MINUTE)
            self.look()
            for item in self.items:
                self.clock.move_on(minutes=1)
                self.happen(item)
            self.look()
        return self.wrongs

    @property
    def today(self) -> date:
        return day_at_the_firm(self.clock.now())

    def happen(self, item: Item) -> None:
        """Whatever the dice say of an item on a day."""
        chance, today = self.dice.random(), self.today
        if item.is_open and not item.was_ordered and chance < 0.02:
            self.move(item, (self.dice.randrange(5) - 1) * 7 * DAY)
        elif item.is_open and not item.signed_off and chance < 0.06:
            self.sign_off(item)
        elif item.is_open and today >= item.order_by - 5 * DAY and chance < 0.4:
            self.order(item, today + COMES_AFTER)
        elif item.line is not None and chance < 0.03:
            self.promise(item, item.expected_on + 7 * DAY)
        elif item.line is not None and today >= item.expected_on and chance < 0.6:
            self.come(item, good=self.dice.random() < 0.7)

    def move(self, item: Item, by: timedelta) -> None:
        days = ("decide_by", "order_by", "ship", "dock", "need_by")

        def does() -> None:
            row = StoredNeed.objects.get(material=item.material)
            StoredNeed.objects.filter(pk=row.pk).update(**{day: getattr(row, day) + by for day in days})

        self.store("moved", does, self._redated)
        item.order_by += by

    def sign_off(self, item: Item) -> None:
        text = {"what": "Sample", "agreed_on": self.today, "agreed_by": "The client", "entered_by_name": BY}
        self.store(
            "signed off",
            lambda: SignOff.objects.create(
                job=self.job, material_id=item.material, entered_at=self.clock.now(), **text
            ),
        )
        item.signed_off = True

    def order(self, item: Item, expected_on: date) -> None:
        material, seller = Material.objects.get(code=item.material), Supplier.objects.get(code=item.supplier)
        self.store(
            "ordered again" if item.was_ordered else "ordered",
            lambda: placed_order(self.job, material, seller, quantity=4, promised_on=expected_on),
        )
        item.line, item.expected_on, item.was_ordered = OrderLine.objects.latest("pk"), expected_on, True

    def promise(self, item: Item, day: date) -> None:
        assert item.line is not None
        rows = OrderLine.objects.filter(pk=item.line.pk)
        self.store("promised", lambda: rows.update(promised_on=day))
        item.expected_on = day

    def come(self, item: Item, *, good: bool) -> None:
        line, now = item.line, self.clock.now()
        assert line is not None

        def does() -> None:
            came = {"request_key": f"d-{line.pk}", "received_on": self.today, "entered_at": now, "entered_by_name": BY}
            delivery = Delivery.objects.create(order=line.order, **came)
            figures = {"good": 4} if good else {"damaged": 4}
            ReceiptLine.objects.create(delivery=delivery, line=line, actual_workdays=15, **figures)

        self.store("came good" if good else "came bad", does)
        item.line, item.is_here = None, good

    def store(self, what: str, does: Callable[[], object], follow: Callable = orders_changed) -> None:
        self.seen[what] += 1
        if not self.guarded:
            does()  # and killed before the events are stored
            return
        for killed in (True, False):
            with suppress(Killed), transaction.atomic():
                does()
                follow([self.job.pk])
                if killed:
                    raise Killed
        follow([self.job.pk])  # by another at the same time

    @staticmethod
    def _redated(job_ids: list[int]) -> None:
        for follow in after_redating:
            follow(job_ids)

    def look(self) -> None:
        now, today = self.clock.now(), self.today
        given = [event for event in feed_events(NEED_KINDS, today, now) if not event.cancelled]
        result: Shown = Counter((g.event.kind.value, g.event.first_day, frozenset(g.event.members)) for g in given)
        wanted: Shown = Counter(row for row in self.wanted() if row[1] >= today - PAST_SHOWN)
        self.wrongs += [f"{today}, in it and done, gone or on another day: {row}" for row in result - wanted]
        self.wrongs += [f"{today}, open and dated and not in it: {row}" for row in wanted - result]
        stored = dict(StoredNeed.objects.values_list("material", "order_by"))
        orders = [row for row in result if row[0] == "order"]
        self.wrongs += [f"{today}, {m} is not stored by {day}" for _, day, ms in orders for m in ms if stored[m] != day]
        self.count_numbers({g.event.uid: (g.sequence, g.event) for g in given})

    def wanted(self) -> Iterator[tuple[str, date, frozenset[str]]]:
        groups: dict[tuple[str, date, str], set[str]] = defaultdict(set)
        for item in self.items:
            if item.is_open and not (item.signed_off or item.was_ordered):
                groups["decide", item.order_by - DECIDE_AHEAD, item.supplier].add(item.material)
            if item.is_open:
                groups["order", item.order_by, item.supplier].add(item.material)
            if item.line is not None:
                groups["delivery", item.expected_on, item.supplier].add(f"line {item.line.pk}")
            if not item.is_here:
                groups["need", item.order_by + NEED_AFTER, ""].add(item.material)
        for (kind, day, _), members in groups.items():
            yield kind, day, frozenset(members)

    def count_numbers(self, shown: dict) -> None:
        """An event that says something else has its number raised."""
        for uid, (number, event) in shown.items():
            was, text = self.shown_before.get(uid, (-1, event))
            if number < was or (event != text and number == was):
                self.wrongs.append(f"{self.today}, another event under the same number: {event.summary}")
        self.shown_before |= shown
