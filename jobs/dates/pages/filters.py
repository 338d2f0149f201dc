"""What the list of order dates is narrowed to, the same for rows and for what is worked up live."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta

from django.db.models import Q, QuerySet
from django.http import HttpRequest

from jobs.dates.services.item_schedule import DatedItem
from jobs.dates.services.late_on_order import LateComing
from jobs.jobs.services.signed import SIGNED, of_work, work_typed
from jobs.needs.models import LEFT_TO_ORDER, NOT_LEFT_TO_ORDER, StoredNeed
from jobs.orders.services.ordered_so_far import ItemKey

LATE = "late"
ORDERED = "ordered"
LONGEST = 60


@dataclass(frozen=True)
class Filters:
    """Each empty for everything. ordered: what is on a placed order, in the place of what is still to order.

    work: of signed or of unsigned jobs.
    """

    week: str = ""
    supplier: str = ""
    job: str = ""
    long_lead: bool = False
    ordered: bool = False
    work: str = ""
    sees_suppliers: bool = False

    @classmethod
    def of(cls, request: HttpRequest, *, sees_suppliers: bool) -> "Filters":
        wanted = {name: request.GET.get(name, "") for name in ("week", "supplier", "job", "only", "show")}
        return cls(
            wanted["week"],
            wanted["supplier"],
            wanted["job"].strip(),
            wanted["only"] == "long",
            wanted["show"] == ORDERED,
            work_typed(request.GET.get("work", "")),
            sees_suppliers,
        )

    @property
    def is_narrow(self) -> bool:
        return bool(self.week or self.supplier or self.job or self.long_lead or self.work)

    @property
    def asks_for_nothing(self) -> bool:
        """What no row can be: a name no code can have, a supplier for those who see none, a day that is none."""
        named = (self.week, self.supplier, self.job)
        if any(len(text) > LONGEST or "\x00" in text for text in named):
            return True
        return bool(self.supplier and not self.sees_suppliers) or self._days == ()

    @property
    def _days(self) -> tuple[date, ...] | None:
        """First and last day of the week; () when it is none; None for any and for what is late."""
        if self.week in ("", LATE):
            return None
        try:
            first = date.fromisoformat(self.week)
            return first, first + timedelta(days=6)
        except (ValueError, OverflowError):
            return ()

    def of_rows(self, rows: QuerySet[StoredNeed], today: date) -> QuerySet[StoredNeed]:
        if self.asks_for_nothing:
            return rows.none()
        rows = rows.filter(NOT_LEFT_TO_ORDER if self.ordered else LEFT_TO_ORDER).filter(of_work(self.work))
        if self.week == LATE:
            rows = rows.filter(order_by__lte=today)
        elif self._days:
            rows = rows.filter(order_by__range=self._days)
        wanted = Q(**({"supplier": self.supplier} if self.supplier else {}))
        wanted &= Q(**({"job__key": self.job} if self.job else {}))
        return rows.filter(wanted).exclude(supply="stocked") if self.long_lead else rows.filter(wanted)

    def late_ones(self, late: Iterable[LateComing], signed: Collection[int], today: date) -> list[LateComing]:
        """Of what is on order and comes too late, among the rows listed; of what is to be ordered beside them, in no
        week, for it is ordered."""
        if self.ordered:
            lines = {(coming.item.job.pk, coming.item.need.material) for coming in late}
            return [coming for coming in late if self.keeps(coming.item, lines, today, signed)]
        if self.week not in ("", LATE):
            return []
        anywhere = replace(self, week="")
        return [coming for coming in late if anywhere.keeps(coming.item, (), today, signed)]

    def keeps(self, item: DatedItem, ordered: Collection[ItemKey], today: date, signed: Collection[int]) -> bool:
        """ordered: what is on order. signed: ids of the jobs that are."""
        need = item.need
        day = need.dates.order_by if need.dates else None
        if self.asks_for_nothing or ((item.job.pk, need.material) in ordered) is not self.ordered:
            return False
        if self.work and (item.job.pk in signed) is not (self.work == SIGNED):
            return False
        if self.week == LATE and (day is None or day > today):
            return False
        if self._days and (day is None or not self._days[0] <= day <= self._days[1]):
            return False
        return (
            self.supplier in ("", need.supplier)
            and self.job in ("", item.job.key)
            and (need.is_long_lead or not self.long_lead)
        )
