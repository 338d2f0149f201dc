"""The money of a job as the API says it."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any

from catalog.core.ground.declared import Amount, As, Choice, Exact, Figure, Of, View, Writing, itself
from quoting.core.money.bridge import BridgeCause, BridgeStep
from quoting.core.money.cost_parts import CostPart, Stage
from quoting.core.money.cost_warnings import CostWarning
from quoting.core.money.job_costs import ItemCost
from quoting.core.money.pace import step_at_this_pace
from quoting.core.money.quoted import CATEGORIES
from quoting.job_money.models import How
from quoting.job_money.services.bridge_words import plain, row_words, says
from quoting.job_money.services.job_costs import JobMoney
from quoting.job_money.services.limits import NewMoneyLimits
from quoting.job_money.services.saying import NewLeft
from quoting.platform.api.declared import answer_shapes, request_shapes
from quoting.platform.formatting import day_words

Money = Annotated[Decimal, Amount()]
Points = Annotated[Decimal, Exact()]


@dataclass(frozen=True)
class _Hundredths(Figure):
    def write(self, value: Any, how: Writing) -> str:
        return plain(value)


@dataclass(frozen=True)
class _Millionths(Figure):
    def write(self, value: Any, how: Writing) -> str:
        return format(Decimal(value.numerator) / value.denominator, ".6f")


Share = Annotated[Fraction, _Millionths()]
Quantity = Annotated[Fraction, _Hundredths()]


def _row_words(part: CostPart) -> str:
    return row_words(part, day_words)


def _cause_words(step: BridgeStep) -> str:
    return says(step, day_words)


def _at_this_pace(item: ItemCost, money: JobMoney) -> Decimal | None:
    return step_at_this_pace(money.costs, item.item) if item.category == "labour" else None


class CostRow(View):
    """One row behind a figure.

    row: of the stored row, empty where none stands behind it. cause: why it is apart from its item; empty where it is
    the item's own.
    """

    stage: Stage
    what: Annotated[str, Of(_row_words)]
    day: date | None
    quantity: Quantity
    amount: Money
    tag: str
    cause: str
    source: str
    row: str


class CostSums(View):
    """The sums of a job, or of an item of it. to_complete: commitments included."""

    quoted: Money
    agreed: Money
    to_date: Money
    committed: Money
    to_complete: Money
    at_completion: Money


class ItemCostShown(View):
    """A step, material or lump. is_coded: something is quoted for it."""

    document_name = "item_cost"

    category: Annotated[str, Choice(CATEGORIES)]
    item: str
    what: str
    is_coded: bool
    sums: Annotated[CostSums, As(spread=True), Of(itself)]
    at_this_pace: Annotated[
        Money | None,
        "What a step still costs if the rest goes as it went, from 25 % on; null while the finished share is finished.",
        Of(_at_this_pace),
    ]
    rows: Annotated[tuple[CostRow, ...], Of("parts")]


class JobCostsShown(View):
    """The cost of a job, before tax.

    agreed: quoted and signed notes. exposure: what waiting notes would add. missing: what is not known beside the
    figures it flatters.
    """

    document_name = "job_costs"
    is_whole = True

    currency: str
    accepted: Annotated[Money, Of("costs.facts.price")]
    contract: Annotated[Money, Of("costs.contract")]
    exposure: Annotated[Money, Of("costs.exposure")]
    sums: Annotated[CostSums, As(spread=True), Of("costs")]
    received_not_billed: Annotated[Money, Of("costs.received_not_billed")]
    margin: Annotated[Share | None, Of("costs.margin")]
    items: Annotated[tuple[ItemCostShown, ...], Of("costs.items")]
    missing: Annotated[tuple[str, ...], Of(lambda money: [gap.sentence for gap in money.costs.gaps])]
    warnings: tuple[CostWarning, ...]


class BridgePartShown(View):
    """What one item adds to a cause."""

    document_name = "bridge_part"

    category: str
    item: str
    what: str
    amount: Money
    quantity: Quantity


class BridgeStepShown(View):
    """One cause."""

    document_name = "bridge_step"

    cause: BridgeCause
    amount: Money
    points: Points
    says: Annotated[str, Of(_cause_words)]
    items: Annotated[tuple[BridgePartShown, ...], Of("parts")]


class MarginBridge(View):
    """From the quoted margin to the one the job makes, in percent of the price as shown.

    points add up to `lost`, with `changes`, which signed notes took.
    """

    quoted_margin: Points
    agreed_margin: Points
    margin: Points
    lost: Points
    changes: Points
    agreed_cost: Money
    cost: Money
    causes: Annotated[tuple[BridgeStepShown, ...], Of("steps")]


class EarnedShown(View):
    """Earned by cost against cost.

    billed: price parts requested, retention included. share_fitted, amount_fitted: without goods not fitted; null where
    they are a tenth of the cost or less. profit: of the whole job.
    """

    document_name = "earned"

    currency: str
    contract: Annotated[Money, Of("earned.contract")]
    share: Annotated[Share | None, Of("earned.share")]
    amount: Annotated[Money, Of("earned.amount")]
    billed: Annotated[Money, Of("earned.billed")]
    held: Annotated[Money, Of("asked.held.price")]
    over_billed: Annotated[Money, Of("earned.over_billed")]
    unfitted: Annotated[Money, Of("earned.unfitted")]
    share_fitted: Annotated[Share | None, Of("earned.share_fitted")]
    amount_fitted: Annotated[Money | None, Of("earned.amount_fitted")]
    profit: Annotated[Money, Of("earned.profit")]


class MoneyLimitsShown(View):
    """From when on the money of a job is warned of."""

    document_name = "money_limits"

    days_without_bill: int
    under_billed: Annotated[Decimal, Figure(), Of("share")]
    points_a_month: Annotated[Decimal, Figure(), Of("points")]


class SaidLeftShown(View):
    """As it was said. It counts until something newer is said of the item."""

    document_name = "said_left"

    category: str
    item: str
    how: Annotated[str, Choice(tuple(How.values))]
    reason: str
    amount: Money | None
    by: Annotated[str, Of("said_by_name")]
    on: Annotated[date, Of("day")]


SHAPES: dict[str, Any] = {
    **answer_shapes(JobCostsShown, MarginBridge, EarnedShown, MoneyLimitsShown, SaidLeftShown),
    **request_shapes(NewMoneyLimits, NewLeft),
}
