from typing import Any

from quoting.platform.api.parts import DAY, FLAG, NUMBER, TEXT, WHOLE, many, or_none, ref, thing

Schema = dict[str, Any]

KEPT = thing(
    "How many orders came within the days that would have been planned when they were placed.",
    kept=WHOLE,
    judged=WHOLE,
    share=or_none(NUMBER),
)
RECEIPT = thing(
    "An order line as it came; `received_on` is empty while some of it is still to come, and its days are its age.",
    received_on=or_none(DAY),
    ordered_on=or_none(DAY),
    quoted_workdays=WHOLE,
    actual_workdays=WHOLE,
    ratio=NUMBER,
)
SUGGESTION = thing(
    "Working days of the supplier from order to arrival.",
    quoted_workdays=WHOLE,
    confidence=NUMBER,
    plan_workdays=WHOLE,
    exact_workdays=NUMBER,
    sentence=TEXT,
    receipts=many(RECEIPT),
    kept=KEPT,
)
SHAPES: Schema = {
    "LeadRecord": thing(
        "`suggestion` is empty while nothing is quoted. `standing` dates orders unless `stale`.",
        material=TEXT,
        suggestion=or_none(SUGGESTION),
        kept_by_all=KEPT,
        standing=or_none(ref("PlannedLead")),
        stale={**FLAG, "description": "Accepted against another quote or supplier than now."},
        accepted=many(ref("PlannedLead")),
    ),
    "PlanToAccept": {
        "type": "object",
        "properties": {
            "plan_workdays": {"type": "integer", "minimum": 1, "maximum": 990, "description": "As you saw them."},
            "confidence": {
                "type": ["number", "null"],
                "minimum": 0.5,
                "maximum": 0.995,
                "description": "That they were suggested at; 0.9 when not said.",
            },
        },
        "required": ["plan_workdays"],
        "additionalProperties": False,
    },
    "SupplierScore": thing(
        "Each receipt of an order line counts once. Early and late are the supplier's working days from the promise.",
        supplier=TEXT,
        receipts=WHOLE,
        promised=WHOLE,
        kept=WHOLE,
        on_the_day=WHOLE,
        early=WHOLE,
        late=WHOLE,
        median_early_workdays=or_none(NUMBER),
        median_late_workdays=or_none(NUMBER),
        damaged=WHOLE,
        wrong=WHOLE,
    ),
}
