"""How long a quote can be accepted: no longer than the prices it is made of are held, and by when is too late."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from catalog.core.ground.day_words import day_words
from catalog.core.materials.catalog_data import Catalog
from jobs.core.measure.findings import Finding
from jobs.core.ordering.needs import DatedNeed
from jobs.core.takeoff.takeoff import Purchase

MAX_NAMED = 3


@dataclass(frozen=True)
class PriceHold:
    """How long a supplier holds the price of something the quote is made of.

    Args:
        material: its code.
        name: its name, for people.
        until: the last day of the hold; None when nobody has said.

    Source: firm data, entered with each price.

    >>> PriceHold("GB-14", "Board", date(2026, 12, 4)).until
    datetime.date(2026, 12, 4)
    """

    material: str
    name: str
    until: date | None


@dataclass(frozen=True)
class Validity:
    """The last day on which a quote can be accepted, and what to know of it.

    Args:
        until: that day, itself included.
        findings: cautions for whoever issues it.

    Source: own rule.

    >>> Validity(date(2026, 12, 4), ()).until
    datetime.date(2026, 12, 4)
    """

    until: date
    findings: tuple[Finding, ...]


def holds_of(purchases: Sequence[Purchase], book: Catalog, today: date) -> tuple[PriceHold, ...]:
    """Gather how long the prices of what is bought are held.

    Args:
        purchases: of the takeoff.
        book: the catalog they are priced from.
        today: the day whose prices are used.

    Returns:
        One hold for each pack with a price.

    Source: own rule.

    >>> holds_of((), None, date(2026, 11, 25))
    ()
    """
    holds: list[PriceHold] = []
    for purchase in purchases:
        packs = {pack.code: pack for pack in book.materials[purchase.material].packs}
        prices = [packs[pack.pack].price_on(today) for pack in purchase.packs if pack.pack in packs]
        holds += [
            PriceHold(purchase.material, purchase.name, price.held_until) for price in prices if price is not None
        ]
    return tuple(holds)


def validity(quoted_on: date, valid_days: int, holds: Sequence[PriceHold], needs: Iterable[DatedNeed]) -> Validity:
    """Say until when a quote can be accepted.

    Args:
        quoted_on: the day of issue.
        valid_days: how long the firm would let it stand, in calendar days after that day, 0 or more.
        holds: of the prices it is made of; none when the materials are entered as a sum. One that is past bounds
            nothing: the takeoff cautions of it, and the price is asked for again.
        needs: the items of the job with their dates.

    Returns:
        The last day: that of the firm or of the shortest hold, whichever is the earlier; with a caution where a hold
        shortens it, where holds are not known, and where an item must be decided before the quote lapses.

    Source: own rule (an offer is not made longer than one's own suppliers stand by their prices).

    >>> board = PriceHold("GB-14", "Board", date(2026, 12, 4))
    >>> validity(date(2026, 11, 25), 30, [board], ()).until
    datetime.date(2026, 12, 4)
    """
    until, findings = quoted_on + timedelta(days=valid_days), list[Finding]()
    shortest = min(
        (hold for hold in holds if hold.until is not None and hold.until >= quoted_on), key=_day, default=None
    )
    if shortest is not None and shortest.until is not None and shortest.until < until:
        message = (
            f"It can be accepted until {day_words(shortest.until)} and no longer: so long is the price of "
            f"{shortest.name} held."
        )
        until = shortest.until
        findings.append(Finding("pricing/price-hold", "caution", message))
    unknown = list(dict.fromkeys(hold.name for hold in holds if hold.until is None))
    if unknown:
        message = f"No supplier has said how long the price is held of {_named(unknown)}; it may rise before then."
        findings.append(Finding("pricing/price-hold-unknown", "caution", message))
    findings.extend(_decided_before(until, needs))
    return Validity(until, tuple(findings))


def _decided_before(until: date, needs: Iterable[DatedNeed]) -> Iterable[Finding]:
    early = [need for need in needs if need.is_long_lead and need.dates is not None and need.dates.decide_by < until]
    if early:
        first = min(early, key=lambda need: need.dates.decide_by if need.dates else date.max)
        assert first.dates is not None
        others = f" (and {len(early) - 1} more)" if len(early) > 1 else ""
        message = (
            f"It can be accepted until {day_words(until)}, but {first.name}{others} must be decided by "
            f"{day_words(first.dates.decide_by)}: accepted later, the planned days do not hold. Shorten the validity, "
            "or agree other days."
        )
        yield Finding("pricing/accepted-too-late", "caution", message)


def _day(hold: PriceHold) -> date:
    assert hold.until is not None
    return hold.until


def _named(names: Sequence[str]) -> str:
    if len(names) <= MAX_NAMED:
        return "; ".join(names)
    return f"{'; '.join(names[:MAX_NAMED])} and {len(names) - MAX_NAMED} more"
