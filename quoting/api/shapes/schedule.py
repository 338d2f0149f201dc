from typing import Any

from quoting.api.shapes.parts import DAY, FIGURE, FINDINGS, NUMBER, TEXT, WHOLE, WHY, many, or_none, thing
from quoting.api.shapes.survey import HOLDS

Schema = dict[str, Any]

ACTIVITY = thing(
    "One step of the building. Days are empty while the job has no start.",
    key=TEXT,
    name=TEXT,
    hours=NUMBER,
    workdays=WHOLE,
    start=or_none(DAY),
    finish=or_none(DAY),
    late_start=or_none(DAY),
    float_workdays=or_none(WHOLE),
    why=WHY,
    days_why=WHY,
)
LEAD_TERM = thing(
    "What the supplier says.",
    production_days=WHOLE,
    production_counts=TEXT,
    transit_workdays=WHOLE,
    source=TEXT,
    stated_on=DAY,
)
ITEM = thing(
    "One material and its days. `supplier` and `lead_term` are left out for roles that see no suppliers.",
    ("supplier", "lead_term"),
    material=TEXT,
    name=TEXT,
    supply=TEXT,
    supplier=or_none(TEXT),
    quantity=FIGURE,
    unit=TEXT,
    driven_by=TEXT,
    safe_to_order=TEXT,
    need_by=or_none(DAY),
    need_by_set_by=TEXT,
    dock=or_none(DAY),
    ship=or_none(DAY),
    order_by=or_none(DAY),
    order_by_hour=or_none({"type": "string", "pattern": "^[0-9]{2}:[0-9]{2}$"}),
    decide_by=or_none(DAY),
    days_in_hand=or_none(WHOLE),
    standing=or_none(TEXT),
    in_words=or_none(TEXT),
    decide_days_in_hand=or_none(WHOLE),
    if_ordered_today=or_none(thing("", ship=DAY, dock=DAY, usable=DAY, workdays_late=or_none(WHOLE))),
    lead_term=or_none(LEAD_TERM),
    cushion_workdays=WHOLE,
    sign_off_workdays=WHOLE,
    holds=HOLDS,
    findings=FINDINGS,
)
SHAPES: Schema = {
    "Schedule": thing(
        "",
        job=TEXT,
        title=TEXT,
        today=DAY,
        start_on=or_none(DAY),
        finish=or_none(DAY),
        activities=many(ACTIVITY),
        items=many(ITEM),
        findings=FINDINGS,
    )
}
