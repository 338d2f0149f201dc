"""What else makes a price, as a document says it: overhead, contingency, allowances, options, the checklist."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, TypeVar

from catalog.core.ground.declared import Declared, Items
from quoting.core.prices.allowances import MAX_ALLOWANCES, Allowance
from quoting.core.prices.checklist import MAX_ITEMS, ChecklistEntry
from quoting.core.prices.figures import PricingError
from quoting.core.prices.options import MAX_BUILD_OPTIONS, MAX_OPTIONS, OptionSpec
from quoting.core.prices.overhead import Contingency, OverheadRule

Document = dict[str, Any]
T = TypeVar("T")
NAMES = ("overhead", "contingency", "allowances", "options", "checklist")


@dataclass(frozen=True)
class PriceTerms:
    """What stands beside costs, policy and tax in the pricing of a job; each part may be left out.

    >>> PriceTerms().options
    ()
    """

    overhead: Annotated[OverheadRule | None, "The firm's overhead; null or nothing for none beside the margin."] = None
    contingency: Annotated[Contingency | None, "A part kept for what cannot be foreseen; null or nothing for none."] = (
        None
    )
    allowances: Annotated[
        tuple[Allowance, ...],
        Items(Declared(Allowance), MAX_ALLOWANCES),
        "Sums in the price for what is not chosen yet; over and under make a change.",
    ] = ()
    options: Annotated[
        tuple[OptionSpec, ...],
        Items(Declared(OptionSpec), MAX_OPTIONS),
        "What the client may tick; total, tax, instalments and deposit follow.",
    ] = ()
    checklist: Annotated[
        tuple[ChecklistEntry, ...],
        Items(Declared(ChecklistEntry), MAX_ITEMS),
        "What gets forgotten, with its answers; the firm's or the usual list is asked beside it.",
    ] = ()

    def __post_init__(self) -> None:
        _refuse_doubled("Options", [option.key for option in self.options])
        _refuse_doubled("Allowances", [allowance.what for allowance in self.allowances])
        _refuse_doubled("Checklist", [entry.item.casefold() for entry in self.checklist])
        builds = sum(option.build is not None for option in self.options)
        if builds > MAX_BUILD_OPTIONS:
            raise PricingError(f"Options: {builds} are builds of their own; at most {MAX_BUILD_OPTIONS} can be.")


def _refuse_doubled(what: str, names: list[str]) -> None:
    for place, name in enumerate(names):
        if name in names[:place]:
            raise PricingError(f"{what}: {name!r} is there twice; name each once.")


NO_TERMS = PriceTerms()
