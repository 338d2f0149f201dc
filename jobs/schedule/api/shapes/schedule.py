from typing import Any

from jobs.walls.api.shapes.survey import HOLDS
from quoting.platform.api.parts import DAY, FIGURE, FINDINGS, FLAG, NUMBER, TEXT, WHOLE, WHY, many, or_none, thing

Schema = dict[str, Any]

ACTIVITY = thing(
    "One step of the building. Days are empty while the job has no start.",
    key=TEXT,
    name=TEXT,
    hours=NUMBER,
    workdays=WHOLE,
    start=or_none(DAY),
    finish=or_none(DAY),
    kind=TEXT,
    people=WHOLE,
    of_this_job=FLAG,
    late_start=or_none(DAY),
    late_finish=or_none(DAY),
    float_workdays=or_none(WHOLE),
    free_float_workdays=or_none(WHOLE),
    critical=or_none(FLAG),
    late_start_for_promise=or_none(DAY),
    late_finish_for_promise=or_none(DAY),
    float_to_promise_workdays=or_none(WHOLE),
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
    planned_workdays={
        **or_none(WHOLE),
        "description": "Working days of the supplier accepted for planning: they date it in place of the quoted.",
    },
    cushion_workdays=WHOLE,
    sign_off_workdays=WHOLE,
    holds=HOLDS,
    findings=FINDINGS,
)
LINK = thing(
    "What waits for what; the lag is in working days or in hours by the clock.",
    before=TEXT,
    after=TEXT,
    kind=TEXT,
    lag_workdays=WHOLE,
    lag_elapsed_hours=WHOLE,
)
WAIT = thing(
    "Time between two activities that is nobody's work.",
    before=TEXT,
    after=TEXT,
    hours=WHOLE,
    workdays=WHOLE,
    for_=TEXT,
)
REMEDY = thing(
    "Something that raises the chance: `shorter` by a working day, one more `person`, or the whole begun `earlier`.",
    what=TEXT,
    activity=TEXT,
    chance=NUMBER,
    gain=NUMBER,
)
CLASH_PART = thing(
    "People on one activity of one job.",
    job=TEXT,
    activity=TEXT,
    first_day=DAY,
    last_day=DAY,
    people=WHOLE,
    signed=FLAG,
)
CLASH = thing(
    "Days in a row on which more people are wanted than there are. wanted_signed: of those, by signed jobs.",
    first_day=DAY,
    last_day=DAY,
    wanted=WHOLE,
    wanted_signed=WHOLE,
    there=WHOLE,
    parts=many(CLASH_PART),
)
SHAPES: Schema = {
    "FinishingChance": thing(
        "The chance that a job is done by its promised day, of so many simulated runs.",
        job=TEXT,
        promised_on=or_none(DAY),
        finish=DAY,
        chance=or_none(NUMBER),
        days=many(thing("The day by which a share of the runs were done.", share=NUMBER, day=DAY)),
        criticality=many(thing("How often an activity lay on the path that set the end.", activity=TEXT, share=NUMBER)),
        remedies=many(REMEDY),
        runs=WHOLE,
        compared_runs=WHOLE,
        seed=WHOLE,
        distribution=TEXT,
    ),
    "CrewClashes": thing(
        "Days on which open jobs together want more people than the firm has on site.",
        today=DAY,
        people_on_site=or_none(WHOLE),
        clashes=many(CLASH),
        being_worked_out=many(TEXT),
    ),
    "Schedule": thing(
        "",
        job=TEXT,
        title=TEXT,
        today=DAY,
        start_on=or_none(DAY),
        finish=or_none(DAY),
        promised_on=or_none(DAY),
        slack_workdays=or_none(WHOLE),
        activities=many(ACTIVITY),
        links=many(LINK),
        waits=many(WAIT),
        items=many(ITEM),
        findings=FINDINGS,
    ),
}
