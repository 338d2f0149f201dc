from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any

from catalog.core.ground.declared import Amount, As, Choice, Of, View, itself
from quoting.core.money.bridge import CAUSES
from quoting.core.money.cost_parts import Stage
from quoting.core.money.job_costs import ItemCost
from quoting.core.money.pace import step_at_this_pace
from quoting.core.money.quoted import CATEGORIES
from quoting.job_money.models import How
from quoting.job_money.models.warning_limits import MAX_DAYS
from quoting.job_money.services.bridge_words import plain, row_words, says
from quoting.job_money.services.job_costs import JobMoney
from quoting.platform.api.declared import answer_shapes
from quoting.platform.api.parts import FIGURE, WHOLE, given, one_of, thing
from quoting.platform.formatting import day_words

Schema = dict[str, Any]
ONE_LINE: Schema = {"type": "string", "minLength": 1, "maxLength": 300, "pattern": r"\S"}
LIMITS: Schema = {"days_without_bill": WHOLE, "under_billed": FIGURE, "points_a_month": FIGURE}
NEW_LIMITS: Schema = {**LIMITS, "days_without_bill": {"type": "integer", "minimum": 0, "maximum": MAX_DAYS}}
Money = Annotated[Decimal, Amount()]


def _text(share: Fraction | None) -> str | None:
    """To a millionth."""
    return None if share is None else format(Decimal(share.numerator) / share.denominator, ".6f")


def _points(name: str) -> Of:
    """Percent as they are shown."""
    return Of(lambda value: str(getattr(value, name)))


class SumsShown(View):
    quoted: Money
    agreed: Money
    to_date: Money
    committed: Money
    to_complete: Money
    at_completion: Money


class CostRow(View):
    """One row behind a figure. row: of the stored row, empty where none stands behind it. cause: why it is apart."""

    stage: Stage
    what: Annotated[str, Of(lambda part: row_words(part, day_words))]
    day: date | None
    quantity: Annotated[str, Of(lambda part: plain(part.quantity))]
    amount: Money
    tag: str
    cause: str
    source: str
    row: str


def _at_this_pace(item: ItemCost, result: JobMoney) -> Decimal | None:
    return step_at_this_pace(result.costs, item.item) if item.category == "labour" else None


class ItemCostShown(View):
    """A step, material or lump. is_coded: something is quoted for it. at_this_pace: what a step still costs if the rest
    goes as it went, from 25 % on; null where nobody said how much of it is finished."""

    document_name = "item_cost"

    category: Annotated[str, Choice(CATEGORIES)]
    item: str
    what: str
    is_coded: bool
    sums: Annotated[SumsShown, As(spread=True), Of(itself)]
    at_this_pace: Annotated[Money | None, Of(_at_this_pace)]
    rows: Annotated[tuple[CostRow, ...], Of("parts")]


class CostWarningShown(View):
    """What of the money of a job is warned of."""

    kind: str
    sentence: str
    amount: Money | None
    item: str


class JobCostsShown(View):
    """The cost of a job, before tax. agreed: quoted and signed notes. to_complete: commitments included. exposure:
    what waiting notes would add. missing: what is not known beside the figures it flatters."""

    document_name = "job_costs"
    is_whole = True

    currency: str
    accepted: Annotated[Money, Of("costs.facts.price")]
    contract: Annotated[Money, Of("costs.contract")]
    exposure: Annotated[Money, Of("costs.exposure")]
    costs: Annotated[SumsShown, As(spread=True)]
    received_not_billed: Annotated[Money, Of("costs.received_not_billed")]
    margin: Annotated[str | None, Of(lambda result: _text(result.costs.margin))]
    items: Annotated[tuple[ItemCostShown, ...], Of("costs.items")]
    missing: Annotated[tuple[str, ...], Of(lambda result: [gap.sentence for gap in result.costs.gaps])]
    warnings: tuple[CostWarningShown, ...]


class BridgePartShown(View):
    """An item's part in a cause."""

    category: str
    item: str
    what: str
    amount: Money
    quantity: Annotated[str, Of(lambda part: plain(part.quantity))]


class CauseShown(View):
    """Why margin went, or came."""

    cause: Annotated[str, Choice(tuple(CAUSES))]
    amount: Money
    points: Annotated[str, _points("points")]
    says: Annotated[str, Of(lambda step: says(step, day_words))]
    items: Annotated[tuple[BridgePartShown, ...], Of("parts")]


class MarginBridge(View):
    """From the quoted margin to the one the job makes, in percent of the price as shown. points add up to `lost`, with
    `changes`, which signed notes took."""

    quoted_margin: Annotated[str, _points("quoted_margin")]
    agreed_margin: Annotated[str, _points("agreed_margin")]
    margin: Annotated[str, _points("margin")]
    lost: Annotated[str, _points("lost")]
    changes: Annotated[str, _points("changes")]
    agreed_cost: Money
    cost: Money
    causes: Annotated[tuple[CauseShown, ...], Of("steps")]


class EarnedShown(View):
    """Earned by cost against cost. billed: price parts requested, retention included. share_fitted, amount_fitted:
    without goods not fitted; null where they are a tenth of the cost or less. profit: of the whole job."""

    document_name = "earned"

    currency: str
    contract: Annotated[Money, Of("earned.contract")]
    share: Annotated[str | None, Of(lambda result: _text(result.earned.share))]
    amount: Annotated[Money, Of("earned.amount")]
    billed: Annotated[Money, Of("earned.billed")]
    held: Annotated[Money, Of("asked.held.price")]
    over_billed: Annotated[Money, Of("earned.over_billed")]
    unfitted: Annotated[Money, Of("earned.unfitted")]
    share_fitted: Annotated[str | None, Of(lambda result: _text(result.earned.share_fitted))]
    amount_fitted: Annotated[Money | None, Of("earned.amount_fitted")]
    profit: Annotated[Money, Of("earned.profit")]


class SaidLeftShown(View):
    """As it was said. It counts until something newer is said of the item."""

    document_name = "said_left"

    category: str
    item: str
    how: Annotated[str, Choice(tuple(How.values))]
    reason: str
    amount: Money | None
    said_by_name: Annotated[str, As(name="by")]
    day: Annotated[date, As(name="on")]


SHAPES: Schema = {
    **answer_shapes(JobCostsShown, MarginBridge, EarnedShown, SaidLeftShown),
    "MoneyLimits": thing("From when on the money of a job is warned of.", **LIMITS),
    "NewMoneyLimits": given(
        "From when on the money of a job is warned of. under_billed: share of the contract, 0.1 for 10 %. "
        "points_a_month: of margin.",
        tuple(LIMITS),
        **NEW_LIMITS,
    ),
    "NewLeft": {
        "description": "What a person says is still to be spent on an item, commitments included.",
        "type": "object",
        "properties": {
            "request_key": {**ONE_LINE, "maxLength": 100},
            "category": one_of(*CATEGORIES),
            "item": {**ONE_LINE, "maxLength": 200},
            "how": one_of(*How.values),
            "amount": {"type": "string", "pattern": r"^[0-9]{1,9}(\.[0-9]{1,2})?$"},
            "reason": ONE_LINE,
        },
        "required": ["request_key", "category", "item", "how", "reason"],
        "additionalProperties": False,
    },
}
