"""What closed jobs say of the standards their hours and boards teach: the three jobs of the worked example."""

from datetime import date
from decimal import Decimal

import pytest

from jobs.core.schedule.hours import StepQuantities
from quoting.core.money.closed_jobs import JobRecord, UsedMaterial, of_hours, of_waste
from quoting.core.money.learning import lesson

RATES = {"board_hours_per_1000sqft": 33.0, "curve_factor": 1.4, "framing_hours_per_stud": 0.5, "trim_hours_per_m": 0.25}
BOARDS = ((1040, "55"), (820, "41"), (1400, "70.5"))  # sq ft hung on curves, hours


def record(place, *steps, **more):
    return JobRecord(f"K{place}", date(2027, 1, place), steps, **more)


def boards(place, sqft, hours, **more):
    step = StepQuantities("boards", {"board_hours_per_1000sqft": sqft / 1000}, is_curved=True)
    return record(place, step, hours={"boards": Decimal(hours)}, **more)


def test_boards_teach_the_curve_factor_with_the_flat_rate_held():
    records = [boards(place, *pair) for place, pair in enumerate(BOARDS, 1)]
    result = lesson(Decimal("1.4"), of_hours(records, "curve_factor", RATES))
    # 33 h x 1.4 x 1.040 = 48.048, and so on
    assert [job.by_standard for job in result.used] == [Decimal("48.048"), Decimal("37.884"), Decimal("64.68")]
    assert result.value == Decimal("1.4867")


def test_hours_of_another_rate_of_the_step_are_held():
    """10 studs at 0.5 h and 2 openings at 1 h, on a curve of 1.4: 7 h teach the studs, 2.8 h are held."""
    step = StepQuantities("framing", {"framing_hours_per_stud": 10, "framing_hours_per_opening": 2}, is_curved=True)
    rates = RATES | {"framing_hours_per_opening": 1.0}
    (job,) = of_hours([record(1, step, hours={"framing": Decimal("11.2")})], "framing_hours_per_stud", rates)
    assert (job.by_standard, job.actual) == (Decimal(7), Decimal("8.4"))


def test_every_coat_teaches_the_rate_of_a_coat():
    steps = [StepQuantities(f"coat-{n}", {"coat_hours_per_1000sqft": 1.0}, is_curved=False) for n in (1, 2)]
    hours = {"coat-1": Decimal(9), "coat-2": Decimal(8), "paint": Decimal(50)}
    (job,) = of_hours([record(1, *steps, hours=hours)], "coat_hours_per_1000sqft", {"coat_hours_per_1000sqft": 8.0})
    assert (job.by_standard, job.actual) == (Decimal(16), Decimal(17))


@pytest.mark.parametrize(
    ("more", "why"),
    [
        ({"uncoded": 2}, "2 entries on no step"),
        ({"left_out": {"curve_factor": "a flood"}}, "a flood"),
        ({"hours": {}}, "no hours entered"),
    ],
)
def test_a_job_that_cannot_teach_says_why(more, why):
    entry = boards(1, 1040, "55")
    (job,) = of_hours([JobRecord(**{**vars(entry), **more})], "curve_factor", RATES)
    assert job.why_left_out == why


def test_a_job_without_work_by_a_standard_says_nothing_of_it():
    assert of_hours([boards(1, 1040, "55")], "trim_hours_per_m", RATES) == []


def test_boards_used_teach_their_waste():
    sheets = ((1040, 1216), (820, 928), (1400, 1568))
    records = [
        record(place, hours={}, materials={"GB": UsedMaterial(Decimal(net), Decimal(used))})
        for place, (net, used) in enumerate(sheets, 1)
    ]
    result = lesson(Decimal("1.10"), of_waste(records, "GB", Decimal("0.10")))
    assert (result.value - 1, result.error_was) == (Decimal("0.1239"), Decimal("126.00"))


def test_boards_whose_rest_nobody_counted_are_left_out():
    entry = record(1, hours={}, materials={"GB": UsedMaterial(Decimal(10), None, "left over not counted")})
    assert of_waste([entry], "GB", Decimal("0.1"))[0].why_left_out == "left over not counted"
