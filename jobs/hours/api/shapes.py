"""What is sent and answered of workers and hours."""

from typing import Any

from jobs.core.costs.hours import MINUTES_OF_A_DAY, ROUNDINGS
from jobs.hours.models.hours_left import MAX_PERCENT
from quoting.platform.api.parts import (
    DAY,
    FLAG,
    IDENTITY,
    MONEY,
    NEEDED_TEXT,
    ONE_LINE,
    TEXT,
    WHOLE,
    given,
    many,
    or_none,
    page,
    ref,
    thing,
)

Schema = dict[str, Any]
KEY: Schema = {**NEEDED_TEXT, "maxLength": 100, "description": "Made by whoever sends it: sent twice, kept once."}
MINUTES: Schema = {"type": "integer", "minimum": 1, "maximum": MINUTES_OF_A_DAY, "example": 465}
MONTH: Schema = {
    **TEXT,
    "pattern": r"^[0-9]{4}-[0-9]{2}$",
    "description": "The month it counts in.",
    "example": "2027-06",
}
TAG: Schema = {
    **TEXT,
    "maxLength": 40,
    "description": "Empty, rework, late, unforeseen, or note and the number of a change note.",
    "example": "rework",
}
STEP: Schema = {**TEXT, "maxLength": 60, "description": "Key of a step of the job.", "example": "boards"}
RATE: Schema = {**MONEY, "description": "What an hour cost the firm on the day worked; for whoever prices."}
ANSWERS: Schema = {
    "is_long_day": {**FLAG, "description": "More than 12 hours of one day are right."},
    "adds": {**FLAG, "description": "The same work is there already, and this comes to it."},
}
_LINE: Schema = {
    "worker": IDENTITY,
    "day": DAY,
    "minutes": MINUTES,
    "step": STEP,
    "tag": TAG,
    "note": {**TEXT, "maxLength": 300},
}
_ANYWHERE: Schema = {
    **_LINE,
    "job": {**TEXT, "maxLength": 40, "description": "Its number; empty for work on no job."},
    "elsewhere": {**TEXT, "maxLength": 200, "description": "What was done, where it is on no job."},
}
_NEEDED = ("worker", "day", "minutes")

SHAPES: dict[str, Schema] = {
    "Worker": thing(
        "Somebody whose hours are entered.",
        ("rate_name", "login_name"),
        id=IDENTITY,
        name=TEXT,
        rate_name=TEXT,
        first_day=DAY,
        last_day=or_none(DAY),
        login_name=TEXT,
    ),
    "Workers": thing("", workers=many(ref("Worker")), rounding=WHOLE),
    "NewWorker": given(
        "Somebody whose hours are entered, and by which labour rate.",
        ("request_key", "name", "rate_name", "first_day"),
        request_key=KEY,
        name={**ONE_LINE, "maxLength": 120},
        rate_name={**ONE_LINE, "maxLength": 100},
        first_day=DAY,
        last_day=or_none(DAY),
        login_name={**TEXT, "maxLength": 60},
    ),
    "WorkerChanges": given(
        "A worker as they are from now on.",
        ("name", "rate_name", "first_day"),
        name={**ONE_LINE, "maxLength": 120},
        rate_name={**ONE_LINE, "maxLength": 100},
        first_day=DAY,
        last_day=or_none(DAY),
        login_name={**TEXT, "maxLength": 60},
    ),
    "Rounding": given(
        "How minutes count: as typed, or to the nearest 5, 6 or 15.", ("rounding",), rounding={"enum": list(ROUNDINGS)}
    ),
    "TimeEntry": thing(
        "Hours of one worker on one day. `minutes` is negative where an entry of a closed month is taken back.",
        ("rate", "rate_name", "cost"),
        id=IDENTITY,
        worker=IDENTITY,
        worker_name=TEXT,
        day=DAY,
        counts_in=MONTH,
        job=or_none(TEXT),
        step=TEXT,
        elsewhere=TEXT,
        typed_minutes=WHOLE,
        minutes=WHOLE,
        tag=TEXT,
        note=TEXT,
        rate=or_none(RATE),
        rate_name=TEXT,
        cost=or_none(MONEY),
        entered_by=TEXT,
        voided_by=TEXT,
        void_reason=TEXT,
        reverses=or_none(IDENTITY),
        corrects=or_none(IDENTITY),
    ),
    "TimeEntryPage": page("TimeEntry"),
    "EnteredHours": thing(
        "What was entered. `late`: ids of those that count in a later month, since their own is closed.",
        entries=many(ref("TimeEntry")),
        late=many(IDENTITY),
    ),
    "JobHoursLine": given("Hours of one worker on one day.", _NEEDED, **_LINE),
    "HoursLine": given("Hours of one worker on one day, on a job or elsewhere.", _NEEDED, **_ANYWHERE),
    "NewJobHours": given(
        "Hours on one job.",
        ("request_key", "lines"),
        request_key=KEY,
        lines=many(ref("JobHoursLine")),
        **ANSWERS,
    ),
    "NewHours": given(
        "Hours on jobs and elsewhere.",
        ("request_key", "lines"),
        request_key=KEY,
        lines=many(ref("HoursLine")),
        **ANSWERS,
    ),
    "HoursCorrection": given(
        "Why an entry is wrong, and what is right; without a line it is taken back.",
        ("request_key", "reason"),
        request_key=KEY,
        reason={**NEEDED_TEXT, "maxLength": 300},
        line=ref("HoursLine"),
        **ANSWERS,
    ),
    "CorrectedHours": thing(
        "`reversal`: what takes the entry back in the first open month; null where it is voided.",
        entry=ref("TimeEntry"),
        reversal=or_none(ref("TimeEntry")),
        anew=or_none(ref("TimeEntry")),
    ),
    "StepHours": thing(
        "One step of a job, in minutes. `left` is what somebody said, else what is planned and not spent; null is not "
        "known. `at_this_pace`: left that day if the rest goes as it went, from 25 % on. An empty step is work on no "
        "step.",
        step=TEXT,
        name=TEXT,
        planned=or_none(WHOLE),
        spent=WHOLE,
        left=or_none(WHOLE),
        percent_done=or_none(WHOLE),
        at_this_pace=or_none(WHOLE),
        is_done=FLAG,
        said_by=TEXT,
        said_on=or_none(DAY),
    ),
    "JobHours": thing("Hours of a job, planned, spent and left.", steps=many(ref("StepHours")), spent=WHOLE),
    "NewHoursLeft": given(
        "How long steps still take.",
        ("request_key", "steps"),
        request_key=KEY,
        steps=many(
            given(
                "Minutes for the whole crew, or that it is done.",
                ("step",),
                step={**STEP, "pattern": r"\S"},
                minutes=or_none({"type": "integer", "minimum": 0}),
                percent_done=or_none({"type": "integer", "minimum": 1, "maximum": MAX_PERCENT}),
                is_done=FLAG,
            )
        ),
    ),
    "LateRates": thing(
        "Entries of open months whose day has another labour rate by now. `seen` goes back with what is chosen.",
        seen=TEXT,
        entries=many(thing("", entry=ref("TimeEntry"), rate=MONEY, difference=MONEY)),
    ),
    "RatesToFreeze": given(
        "Entries that get the rate of their day as it is known now.",
        ("seen", "entries"),
        seen={**NEEDED_TEXT, "maxLength": 64},
        entries=many(IDENTITY),
    ),
    "FrozenRates": thing("", changed=WHOLE),
}
