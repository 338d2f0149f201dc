"""Man-hours, man-days and working days of a step of the work."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from catalog.core.ground.workdays import calendar_with
from catalog.core.materials.specs import Fact
from jobs.core.schedule.activities import PlannedActivity, plan_activities
from jobs.core.schedule.hours import Driver, Pace
from jobs.core.takeoff.wall_work_up import work_up_wall
from tests.documents import job_file

NAVEDTRA = "US Navy Builder manual NAVEDTRA 14045"


def test_16_000_sq_ft_at_33_man_hours_a_thousand_are_66_man_days():
    # NAVEDTRA 14045: 16,000 sq ft of board on walls, 33 man-hours per 1,000, days of 8 h.
    assert Pace(1, 8.0).man_days(Driver("Board", 16_000.0, "sq ft", 33.0, 1000.0).hours) == 66.0


def test_70_man_days_take_a_crew_of_12_nine_days_at_its_availability_and_efficiency():
    # NAVEDTRA 14045: crew 12, availability 0.75, efficiency 0.9375: 8.3, so 9 days.
    pace = Pace(12, 8.0, availability=0.75, efficiency=0.9375)
    assert pace.days_for_man_days(70.0) == pytest.approx(8.3, abs=0.05)
    assert pace.workdays(70.0 * 8) == 9


def test_delays_lengthen_the_man_days():
    # NAVEDTRA 14045: man-days = quantity / unit x rate / 8 x delay factor.
    assert Pace(2, 8.0, delay_factor=1.5).man_days(16.0) == 3.0


@pytest.mark.parametrize(
    ("figures", "message"),
    [
        ({"crew": 0}, "a crew must be 1 or more, not 0"),
        ({"hours_per_workday": 0.0}, "hours of a day"),
        ({"delay_factor": float("nan")}, "delay factor must be 1 or more"),
        ({"availability": 0.0}, "availability must be over 0 and at most 1"),
        ({"efficiency": 1.2}, "efficiency must be over 0 and at most 1, not 1.2"),
    ],
)
def test_a_pace_that_cannot_be_is_refused_by_name(figures, message):
    with pytest.raises(ValueError, match=message):
        Pace(**({"crew": 2, "hours_per_workday": 8.0} | figures))


def chain(**standards: str) -> dict[str, PlannedActivity]:
    read = job_file("larkmoor-dental")
    own = {name: Fact(Decimal(value), "The firm's", "firm") for name, value in standards.items()}
    book = replace(read.book, standards=replace(read.book.standards, facts={**read.book.standards.facts, **own}))
    walls = [work_up_wall(spec, book, date(2026, 11, 25), board_rounds=0) for spec in read.job.walls]
    plan = plan_activities(read.job, walls, book.standards, calendar_with("Firm", ()))
    return {activity.key: activity for activity in plan.activities}


def test_the_days_of_a_step_follow_the_firms_own_standards_and_say_so():
    usual, slow = chain()["framing"], chain(crew_availability="0.5")["framing"]
    assert slow.hours == usual.hours
    # Half the crew's days: twice the days, by the manual's division; rounding up takes one off at most.
    assert slow.duration_workdays in (2 * usual.duration_workdays, 2 * usual.duration_workdays - 1)
    assert ("Share of its days on this job", "0.5") in slow.days_explanation.inputs
    assert slow.days_explanation.source == NAVEDTRA


def test_hours_by_opening_and_by_piece_count_once_the_firm_states_them():
    usual, own = chain(), chain(framing_hours_per_opening="2", trim_hours_per_piece="0.25", curve_factor="1")
    assert ("Openings", "1") in own["framing"].explanation.inputs
    assert not any(label == "Openings" for label, _ in usual["framing"].explanation.inputs)
    # One opening at 2 h beside the studs at the firm's rate, on a curve that takes no longer.
    assert own["framing"].hours == pytest.approx(usual["framing"].hours / 1.8 + 2)


def test_a_rate_for_single_things_reads_as_such():
    assert Driver("Studs", 35.0, "", 0.3).in_words == (("Studs", "35"), ("Rate", "0.3 h each"))
    assert Driver("Board", 140.0, "sq ft", 33.0, 1000.0).in_words[1] == ("Rate", "33 h per 1,000 sq ft")
