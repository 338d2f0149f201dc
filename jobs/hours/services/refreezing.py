"""A rate entered late moves nothing by itself: entries of open months it would change are listed, and the owner
freezes them anew by name."""

import hashlib
from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import Items, Text, Whole, read
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import Refused
from catalog.services.row_sync import save_if_changed
from jobs.hours.models import TimeEntry
from jobs.hours.services.rates import RatesOfDays
from quoting.platform.posting import hold_open, month_to_post

EARLIEST = date(2000, 1, 1)
MAX_ENTRIES = 20_000


class RatesMoved(Refused):
    def __init__(self) -> None:
        super().__init__("Rates or hours have changed since. Nothing was saved: look at the list again.")


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


@dataclass(frozen=True)
class RatesToFreeze:
    """Entries that get the rate of their day as it is known now."""

    seen: Annotated[str, Text(64), "The mark of the list they were chosen from."]
    entries: Annotated[tuple[int, ...], Items(Whole(1, 10**12), MAX_ENTRIES)] = ()


@transaction.atomic
def freeze_anew(document: dict[str, Any]) -> int:
    """document: as `RatesToFreeze`. Returns how many changed."""
    sent = read(RatesToFreeze, Reader(document))
    chosen = set(sent.entries)
    if not chosen:
        raise DocumentError.at("entries", "choose at least one entry")
    list(TimeEntry.objects.filter(pk__in=chosen).order_by("pk").select_for_update(of=("self",)).values_list("pk"))
    listed = late_rates()
    if mark_over(listed) != sent.seen:
        raise RatesMoved
    rates = {rate.entry.pk: rate for rate in listed}
    for pk in sorted(chosen & rates.keys()):
        hold_open(rates[pk].entry.posted_month)
        save_if_changed(rates[pk].entry, {"rate": rates[pk].rate})
    return len(chosen & rates.keys())
