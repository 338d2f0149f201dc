"""What a proposed order comes to, in words."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from jobs.core.ordering.order_sums import Bundle
from quoting.platform.formatting import money_words


@dataclass(frozen=True)
class ShownSums:
    """place: of the order on its page. ticked: how many items. Amounts are empty where there is nothing to tell."""

    place: str
    ticked: int
    goods: str = ""
    freight: str = ""
    top_up: str = ""
    unpriced: tuple[str, ...] = ()
    early: str = ""
    early_workdays: int = 0
    saved: tuple[str, ...] = ()

    @property
    def is_of_something(self) -> bool:
        return self.ticked > 0


def shown_sums(bundle: Bundle | None, currency: str, place: str) -> ShownSums:
    """bundle: of the items that are ticked, None where none is."""
    if bundle is None:
        return ShownSums(place, 0)
    return ShownSums(
        place=place,
        ticked=len(bundle.keys),
        goods=_words(bundle.goods, currency),
        freight=_words(bundle.freight, currency),
        top_up=_words(bundle.top_up, currency) if bundle.top_up else "",
        unpriced=bundle.unpriced,
        early=_words(bundle.early_goods, currency) if bundle.early_goods else "",
        early_workdays=bundle.early_workdays,
        saved=tuple(_saved(bundle, currency)),
    )


def _saved(bundle: Bundle, currency: str) -> Iterator[str]:
    for amount, what in ((bundle.saved_freight, "of freight"), (bundle.saved_top_up, "short of least orders")):
        if amount:
            yield f"{money_words(amount, currency)} {what}"


def _words(amount: Decimal | None, currency: str) -> str:
    return "not known" if amount is None else money_words(amount, currency)
