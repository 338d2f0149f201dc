from typing import Any

from jobs.core.results.schedule_shown import ScheduleShown
from quoting.platform.api.declared import answer_shapes
from quoting.platform.api.parts import DAY, FLAG, NUMBER, TEXT, WHOLE, many, or_none, thing

Schema = dict[str, Any]

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
NAME_CLASH = thing(
    "Days in a row on which one person is named to several jobs that have work.",
    name=TEXT,
    first_day=DAY,
    last_day=DAY,
    jobs=many(TEXT),
)
OWN_ACTIVITY = thing(
    "An activity of a job you are on: which of its working days today is, 0 before the first.",
    job=TEXT,
    place=TEXT,
    activity=TEXT,
    name=TEXT,
    first_day=DAY,
    day=WHOLE,
    days=WHOLE,
    signed=FLAG,
    began_on=or_none(DAY),
    ended_on=or_none(DAY),
)
DELIVERY_DUE = thing("Goods expected today or before.", order=TEXT, job=TEXT, what=TEXT, expected_on=or_none(DAY))
NEXT_STEP = thing(
    "What you do before items are ordered; the wall and the run it is done at, null where it is of none.",
    kind=TEXT,
    job=TEXT,
    wall=or_none(TEXT),
    run=or_none(TEXT),
    sentence=TEXT,
    materials=many(TEXT),
    by=or_none(DAY),
)
TODO = thing(
    "One thing to do, of the jobs named; without a day where nobody knows one.",
    what=TEXT,
    why=TEXT,
    by=or_none(DAY),
    days_in_hand=or_none(WHOLE),
    jobs=TEXT,
)
AWAITED = thing("Whom the firm waits for, and for what.", who=TEXT, by=or_none(DAY), **{"for": TEXT})
SHAPES: Schema = {
    "OwnDay": thing(
        "",
        today=DAY,
        jobs=many(TEXT),
        activities=many(OWN_ACTIVITY),
        coming=many(OWN_ACTIVITY),
        deliveries=many(DELIVERY_DUE),
        steps=many(NEXT_STEP),
        next=many(TODO),
        more=WHOLE,
        waiting_for=many(AWAITED),
    ),
    "OnDay": thing("The day; today when not said.", ("on",), on=or_none(DAY)),
    "FinishingChance": thing(
        "The chance that a job is done by its promised day, of so many simulated runs.",
        job=TEXT,
        promised_on=or_none(DAY),
        finish=DAY,
        chance=or_none(NUMBER),
        days=many(thing("The day by which a share of the runs were done.", share=NUMBER, day=DAY)),
        criticality=many(thing("How often an activity lay on the path that set the end.", activity=TEXT, share=NUMBER)),
        remedies=many(REMEDY),
        late_goods=many(thing("Goods that hold an activity until they may be relied on.", what=TEXT, usable_on=DAY)),
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
        named_twice=many(NAME_CLASH),
        being_worked_out=many(TEXT),
    ),
    **answer_shapes(ScheduleShown),
}
