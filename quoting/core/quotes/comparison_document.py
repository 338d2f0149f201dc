"""Builds side by side as answers show them, the same for the API and the pages."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import (
    NOTHING,
    Amount,
    As,
    Count,
    Document,
    Named,
    Of,
    Part,
    Rounded,
    View,
    itself,
    write,
)
from catalog.core.materials.specs import KINDS
from quoting.core.prices.variants import Variant
from quoting.core.quotes.comparison import RISKS, Comparison

Money = Annotated[Decimal, Amount()]


class BoughtShown(View):
    """What a build buys of one material."""

    material: str
    name: str
    buy: Decimal
    unit: str
    cost: Money | None


class KindShown(View):
    """What a build buys of one kind."""

    kind: str
    label: Annotated[str, Of(lambda bought: KINDS[bought.kind])]
    cost: Money | None
    purchases: tuple[BoughtShown, ...]


class LongLeadShown(View):
    """An item that is not stocked, with its days."""

    material: str
    name: str
    order_by: Annotated[date | None, Of("dates.order_by")]
    in_hand: Annotated[int | None, As(name="days_in_hand")]


class LeftBehind(View):
    """A decision that does not go with the build."""

    key: str
    by: str
    reason: str


class DifferenceShown(View):
    """A line that is not as in the build as it stands; hours carry no cost."""

    key: str
    name: str
    unit: str
    before: Decimal | None
    after: Decimal | None
    difference: Annotated[Decimal, Of(lambda line: (line.after or Decimal(0)) - (line.before or Decimal(0)))]
    cost: Annotated[Money | None, As(left_out=True), Of(lambda line: NOTHING if line.unit == "h" else line.cost)]


class Differences(View):
    """Against the build as it stands."""

    purchases: tuple[DifferenceShown, ...]
    steps: tuple[DifferenceShown, ...]


class BuildShown(View):
    """One build. What is not known is null, and `missing` says why. Prices are left out for roles that make none."""

    document_name = "priced_build"

    name: str
    variant: Annotated[Variant | None, Part("BuildVariant", write)]
    walls: tuple[str, ...]
    material_cost: Money | None
    hours: Annotated[float | None, Rounded(1)]
    price: Annotated[Money | None, As(withheld="margins")]
    total: Annotated[Money | None, As(withheld="margins")]
    finish: date | None
    kinds: tuple[KindShown, ...]
    long_lead: tuple[LongLeadShown, ...]
    risks: Annotated[dict[str, int], Named(RISKS, Count()), "How many findings of each weight."]
    missing: tuple[str, ...]
    left_behind: Annotated[tuple[LeftBehind, ...], As(name="decisions_left_behind")]
    differences: Annotated[Differences, Of(itself)]


class ComparisonShown(View):
    """The build as it stands and the others beside it."""

    document_name = "build_comparison"

    job: Annotated[str, Of("present.done.read.job.key")]
    title: Annotated[str, Of("present.done.read.job.title")]
    today: Annotated[date, Of("present.done.today")]
    currency: Annotated[str, Of("present.done.read.book.firm.currency")]
    present: BuildShown
    builds: tuple[BuildShown, ...]
    held: Annotated[tuple[str, ...], "What of the price does not follow the build, in sentences."]


def comparison_document(compared: Comparison) -> Document:
    """The build as it stands and the others beside it.

    compared: as worked out. Returns a JSON value; money as text with two places, hours to a tenth, days as ISO text,
    None for what is not known, with the reason among the build's `missing`.
    """
    return write(compared, ComparisonShown)
