from typing import Any, get_args

from quoting.core.money.bridge import CAUSES
from quoting.core.money.cost_parts import Stage
from quoting.core.money.quoted import CATEGORIES
from quoting.job_money.models import How
from quoting.job_money.models.warning_limits import MAX_DAYS
from quoting.platform.api.parts import DAY, FIGURE, MONEY, TEXT, WHOLE, given, many, one_of, or_none, ref, thing

Schema = dict[str, Any]
ONE_LINE: Schema = {"type": "string", "minLength": 1, "maxLength": 300, "pattern": r"\S"}
SUMS: Schema = {
    "quoted": MONEY,
    "agreed": MONEY,
    "to_date": MONEY,
    "committed": MONEY,
    "to_complete": MONEY,
    "at_completion": MONEY,
}
LIMITS: Schema = {"days_without_bill": WHOLE, "under_billed": FIGURE, "points_a_month": FIGURE}
NEW_LIMITS: Schema = {**LIMITS, "days_without_bill": {"type": "integer", "minimum": 0, "maximum": MAX_DAYS}}
SHAPES: Schema = {
    "CostRow": thing(
        "One row behind a figure. row: of the stored row, empty where none stands behind it. cause: why it is apart "
        "from its item; empty where it is the item's own.",
        stage=one_of(*get_args(Stage)),
        what=TEXT,
        day=or_none(DAY),
        quantity=FIGURE,
        amount=MONEY,
        tag=TEXT,
        cause=TEXT,
        source=TEXT,
        row=TEXT,
    ),
    "ItemCost": thing(
        "A step, material or lump. is_coded: something is quoted for it. at_this_pace: what a step still costs if the "
        "rest goes as it went, from 25 % on; null where nobody said how much of it is finished.",
        category=one_of(*CATEGORIES),
        item=TEXT,
        what=TEXT,
        is_coded={"type": "boolean"},
        **SUMS,
        at_this_pace=or_none(MONEY),
        rows=many(ref("CostRow")),
    ),
    "JobCosts": thing(
        "The cost of a job, before tax. agreed: quoted and signed notes. to_complete: commitments included. exposure: "
        "what waiting notes would add. missing: what is not known beside the figures it flatters.",
        currency=TEXT,
        accepted=MONEY,
        contract=MONEY,
        exposure=MONEY,
        **SUMS,
        received_not_billed=MONEY,
        margin=or_none(FIGURE),
        items=many(ref("ItemCost")),
        missing=many(TEXT),
        warnings=many(thing("", kind=TEXT, sentence=TEXT, amount=or_none(MONEY), item=TEXT)),
    ),
    "MarginBridge": thing(
        "From the quoted margin to the one the job makes, in percent of the price as shown. points add up to `lost`, "
        "with `changes`, which signed notes took.",
        quoted_margin=FIGURE,
        agreed_margin=FIGURE,
        margin=FIGURE,
        lost=FIGURE,
        changes=FIGURE,
        agreed_cost=MONEY,
        cost=MONEY,
        causes=many(
            thing(
                "",
                cause=one_of(*CAUSES),
                amount=MONEY,
                points=FIGURE,
                says=TEXT,
                items=many(thing("", category=TEXT, item=TEXT, what=TEXT, amount=MONEY, quantity=FIGURE)),
            )
        ),
    ),
    "Earned": thing(
        "Earned by cost against cost. billed: price parts requested, retention included. share_fitted, amount_fitted: "
        "without goods not fitted; null where they are a tenth of the cost or less. profit: of the whole job.",
        currency=TEXT,
        contract=MONEY,
        share=or_none(FIGURE),
        amount=MONEY,
        billed=MONEY,
        held=MONEY,
        over_billed=MONEY,
        unfitted=MONEY,
        share_fitted=or_none(FIGURE),
        amount_fitted=or_none(MONEY),
        profit=MONEY,
    ),
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
    "SaidLeft": thing(
        "As it was said. It counts until something newer is said of the item.",
        category=TEXT,
        item=TEXT,
        how=one_of(*How.values),
        amount=or_none(MONEY),
        reason=TEXT,
        by=TEXT,
        on=DAY,
    ),
}
