"""A schedule as answers show it: activities with their days, and every material with the days it hangs on."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, time
from decimal import Decimal
from typing import Annotated, Any

from catalog.core.ground.declared import As, Of, Rounded, TimeOfDay, View
from jobs.core.measure.explanation import Why
from jobs.core.measure.findings import ShownFinding
from jobs.core.ordering.needs import SAFE_FROM
from jobs.core.ordering.order_by import days_in_hand_in_words, standing
from jobs.core.results.survey_shown import HoldShown
from jobs.core.schedule.activity_links import Wait
from jobs.core.schedule.critical_path import Link

Day = date | None


class ActivityShown(View):
    """One step of the building. Days are empty while the job has no start, and those it took once it began."""

    key: str
    name: str
    hours: Annotated[float, Rounded(2)]
    duration_workdays: Annotated[int, As(name="workdays")]
    start: Annotated[Day, Of("times.early_start")]
    finish: Annotated[Day, Of("times.early_finish")]
    kind: str
    people: int
    is_own: Annotated[bool, As(name="of_this_job")]
    late_start: Annotated[Day, Of("times.late_start")]
    late_finish: Annotated[Day, Of("times.late_finish")]
    float_workdays: Annotated[int | None, Of("times.total_float_workdays")]
    free_float_workdays: Annotated[int | None, Of("times.free_float_workdays")]
    critical: Annotated[bool | None, Of("times.critical")]
    late_start_for_promise: Annotated[Day, Of("promised.late_start")]
    late_finish_for_promise: Annotated[Day, Of("promised.late_finish")]
    float_to_promise_workdays: Annotated[int | None, Of("promised.total_float_workdays")]
    began_on: Annotated[Day, Of("actual.began_on")]
    ended_on: Annotated[Day, Of("actual.ended_on")]
    explanation: Why
    days_explanation: Annotated[Why, As(name="days_why")]


class OrderedTodayShown(View):
    """When it would come if it were ordered today."""

    ship: Annotated[date, Of("if_ordered_today.ship")]
    dock: Annotated[date, Of("if_ordered_today.dock")]
    usable: Annotated[date, Of("if_ordered_today.usable")]
    late_workdays: Annotated[int | None, As(name="workdays_late")]


class LeadTermShown(View):
    """What the supplier says."""

    production_days: int
    production_counts: str
    transit_workdays: int
    source: str
    stated_on: date


def _in_hand(words: Callable[[int], str]) -> Of:
    return Of(lambda need: None if need.in_hand is None else words(need.in_hand))


class NeedShown(View):
    """One material and its days. `supplier` and `lead_term` are left out for roles that see no suppliers."""

    material: str
    name: str
    supply: str
    supplier: Annotated[str | None, As(withheld="costs")]
    quantity: Decimal
    unit: str
    driven_by: str
    safe_to_order: Annotated[str, Of(lambda need: SAFE_FROM[need.driven_by])]
    need_by: Day
    set_by: Annotated[str, As(name="need_by_set_by")]
    dock: Annotated[Day, Of("dates.dock")]
    ship: Annotated[Day, Of("dates.ship")]
    order_by: Annotated[Day, Of("dates.order_by")]
    order_by_hour: Annotated[time | None, TimeOfDay(), Of("dates.cut_off")]
    decide_by: Annotated[Day, Of("dates.decide_by")]
    in_hand: Annotated[int | None, As(name="days_in_hand")]
    standing: Annotated[str | None, _in_hand(standing)]
    in_words: Annotated[str | None, _in_hand(days_in_hand_in_words)]
    decide_in_hand: Annotated[int | None, As(name="decide_days_in_hand")]
    if_ordered_today: Annotated[
        OrderedTodayShown | None, Of(lambda need: None if need.if_ordered_today is None else need)
    ]
    term: Annotated[LeadTermShown | None, As(name="lead_term", withheld="costs")]
    planned_workdays: Annotated[
        int | None, "Working days of the supplier accepted for planning: they date it in place of the quoted."
    ]
    cushion_workdays: int
    sign_off_workdays: int
    holds: tuple[HoldShown, ...]
    findings: tuple[ShownFinding, ...]


def _findings(work_up: Any) -> list[Any]:
    return [*work_up.plan.findings, *(finding for need in work_up.needs for finding in need.findings)]


class ScheduleShown(View):
    """The schedule of a job. Days are empty while the job has no start."""

    document_name = "schedule"

    job: Annotated[str, Of("read.job.key")]
    title: Annotated[str, Of("read.job.title")]
    today: date
    start_on: Annotated[Day, Of("read.job.start_on")]
    finish: Annotated[Day, Of("plan.finish")]
    promised_on: Annotated[Day, Of("plan.promised_on")]
    slack_workdays: Annotated[int | None, Of("plan.slack_workdays")]
    activities: Annotated[tuple[ActivityShown, ...], Of("plan.activities")]
    links: Annotated[tuple[Link, ...], Of("plan.links")]
    waits: Annotated[tuple[Wait, ...], Of("plan.waits")]
    needs: Annotated[tuple[NeedShown, ...], As(name="items")]
    findings: Annotated[tuple[ShownFinding, ...], Of(_findings)]
