"""A rate entered late moves nothing by itself: entries of open months it would change are listed, and the owner
freezes them anew by name."""

import hashlib
from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from django.db import transaction

from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import Refused
from catalog.services.row_sync import save_if_changed
from jobs.hours.models import TimeEntry
from jobs.hours.services.rates import RatesOfDays
from quoting.platform.posting import hold_open, month_to_post

EARLIEST = date(2000, 1, 1)
MAX_ENTRIES = 20_000


class RatesMoved(Refused):
    def __init__(self) -> None:
        super().__init__("Other rates or hours were entered meanwhile. Nothing was changed: look at the list again.")


@dataclass(frozen=True)
class LateRate:
    """One entry, and the rate of its day as it is known now."""

    entry: TimeEntry
    rate: Decimal

    @property
    def difference(self) -> Decimal:
        """What its cost would move by."""
        before = self.entry.to_core("")
        return replace(before, rate=self.rate).cost - before.cost


def late_rates() -> list[LateRate]:
    """Of what counts in open months and has another rate than its day has by now, or none yet.

    Entries keep the name of the rate they were entered by: whoever has another trade since is no late rate.
    """
    with transaction.atomic():
        first_open = month_to_post(EARLIEST)
        rows = TimeEntry.objects.filter(voided_at=None, posted_month__gte=first_open, reverses=None, reversed_by=None)
        rates = RatesOfDays()
        pairs = [(row, rates.on(row.day, row.rate_name)) for row in rows.select_related("worker", "job")]
    return [LateRate(row, rate) for row, rate in pairs if rate is not None and rate != row.rate]


def mark_over(rates: Collection[LateRate]) -> str:
    text = " ".join(f"{rate.entry.pk}:{rate.entry.rate}:{rate.rate}" for rate in rates)
    return hashlib.sha256(text.encode()).hexdigest()


@transaction.atomic
def freeze_anew(document: dict[str, Any]) -> int:
    """entries: ids of those listed; seen: the mark of the list they were chosen from. Returns how many changed."""
    reader = Reader(document)
    seen = reader.text("seen", longest=64)
    chosen = {_id(value, reader, place) for place, value in enumerate(reader.values("entries", MAX_ENTRIES))}
    reader.finish()
    if not chosen:
        raise reader.error("entries", "choose at least one entry")
    list(TimeEntry.objects.filter(pk__in=chosen).order_by("pk").select_for_update(of=("self",)).values_list("pk"))
    listed = late_rates()
    if mark_over(listed) != seen:
        raise RatesMoved
    rates = {rate.entry.pk: rate for rate in listed}
    for pk in sorted(chosen & rates.keys()):
        hold_open(rates[pk].entry.posted_month)
        save_if_changed(rates[pk].entry, {"rate": rates[pk].rate})
    return len(chosen & rates.keys())


def _id(value: Any, reader: Reader, place: int) -> int:
    return Reader({"id": value}, reader.where(f"entries[{place}]")).whole("id", 1, 10**12)
