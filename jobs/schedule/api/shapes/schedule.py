from typing import Any

from jobs.core.results.activity_shown import CrewClashesShown, FinishingChanceShown
from jobs.core.results.schedule_shown import ScheduleShown
from quoting.platform.api.declared import answer_shapes
from quoting.platform.api.parts import DAY, FLAG, TEXT, WHOLE, many, or_none, thing

Schema = dict[str, Any]

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
    **answer_shapes(ScheduleShown, FinishingChanceShown, CrewClashesShown),
}
