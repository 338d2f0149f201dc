"""The chance of finishing by a day, against closed forms of published networks and against the plan of days."""

import math
from dataclasses import replace
from datetime import date
from functools import cache
from itertools import pairwise

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from catalog.core.ground.refusal import Refused
from catalog.core.ground.workdays import WorkCalendar
from jobs.core.schedule.activities import Spread
from jobs.core.schedule.completion_risk import ThreePoint, UncertainActivity, WorkClock, _Chain, finishing_chance
from jobs.core.schedule.critical_path import DatedActivity, Link, schedule
from jobs.core.schedule.job_spec import ActivityChange
from quoting.core.quotes.work_up import work_up
from tests.documents import job_file

# Anderson, Sweeney, Williams, Camm, Martin: An Introduction to Management Science, the ten activities of table 9.6.
# The three times of each are from MEMORY; their means, (a + 4m + b)/6, are the durations of the table, which was read,
# and their variances add up along A-E-H-I-J to the 2.72 remembered.
PRODUCT = {
    "A": (4, 5, 12, ""),
    "B": (1, 1.5, 5, ""),
    "C": (2, 3, 4, "A"),
    "D": (3, 4, 11, "A"),
    "E": (2, 3, 4, "A"),
    "F": (1.5, 2, 2.5, "C"),
    "G": (1.5, 3, 4.5, "D"),
    "H": (2.5, 3.5, 7.5, "BE"),
    "I": (1.5, 2, 2.5, "H"),
    "J": (1, 2, 3, "FGI"),
}


def run_network(activities, links, clock=None, runs=5000, seed=1):
    """Without a clock on plain day numbers, as textbooks have them."""
    chain = _Chain(activities, links, clock)
    return chain.run(chain.drawn(runs, seed), [activity.lasts for activity in chain.activities])


def normal(z):
    return (1 + math.erf(z / math.sqrt(2))) / 2


def of(table, only=""):
    stored = {name: row for name, row in table.items() if not only or name in only}
    activities = [UncertainActivity(name, ThreePoint(*row[:3])) for name, row in stored.items()]
    links = [Link(before, name) for name, row in stored.items() for before in row[3] if before in stored]
    return activities, links


def test_the_three_times_have_the_means_of_the_table_that_was_read():
    durations = {"A": 6, "B": 2, "C": 3, "D": 5, "E": 3, "F": 2, "G": 3, "H": 4, "I": 2, "J": 2}
    assert {name: ThreePoint(*row[:3]).mean for name, row in PRODUCT.items()} == durations
    assert sum(((PRODUCT[n][2] - PRODUCT[n][0]) / 6) ** 2 for n in "AEHIJ") == pytest.approx(2.72, abs=0.005)


def test_the_critical_path_alone_has_the_mean_and_variance_of_the_closed_form():
    # Sums of independent times: means add, and so do variances. 5,000 runs: standard error of the mean 0.023.
    activities, links = of(PRODUCT, "AEHIJ")
    runs = run_network(activities, links).finishes
    mean = sum(runs) / len(runs)
    variance = sum((run - mean) ** 2 for run in runs) / len(runs)
    assert mean == pytest.approx(17, abs=0.08)
    assert variance == pytest.approx(sum(activity.lasts.variance for activity in activities), rel=0.08)


def test_the_chance_of_twenty_weeks_is_that_of_the_normal_form_less_what_the_second_path_takes():
    # Normal form on the critical path: z = (20 - 17)/1.65, 0.9655. It looks at one path only, and the beta's tail is
    # longer: simulated 0.93 (measured beforehand by another program). Of the path alone the two agree within 0.02.
    normal_form = normal(3 / math.sqrt(2.72))
    assert normal_form == pytest.approx(0.9655, abs=0.0005)
    whole = run_network(*of(PRODUCT))
    assert whole.share_by(20) == pytest.approx(0.93, abs=0.012)
    assert run_network(*of(PRODUCT, "AEHIJ")).share_by(20) == pytest.approx(normal_form, abs=0.02)
    assert whole.on_path["A"] == 1 and whole.on_path["E"] == pytest.approx(0.73, abs=0.03)


def test_the_chance_of_the_building_contractor():
    # MEMORY: Hillier and Lieberman, Introduction to Operations Research: mean 44, variance 9, P(T <= 47) about 0.84
    # on the mean critical path A-B-C-E-F-J-L-N.
    path = {
        "A": (1, 2, 3, ""), "B": (2, 3.5, 8, "A"), "C": (6, 9, 18, "B"), "E": (1, 4.5, 5, "C"), "F": (4, 4, 10, "E"),
        "J": (3, 9, 9, "F"), "L": (1, 5.5, 7, "J"), "N": (5, 5.5, 9, "L"),
    }  # fmt: skip
    assert sum(ThreePoint(*row[:3]).mean for row in path.values()) == 44
    assert sum(((row[2] - row[0]) / 6) ** 2 for row in path.values()) == pytest.approx(9)
    assert run_network(*of(path)).share_by(47) == pytest.approx(normal(1), abs=0.025)


def test_the_same_seed_gives_the_same_runs_and_another_gives_others():
    first, again, other = (run_network(*of(PRODUCT), runs=200, seed=seed).finishes for seed in (3, 3, 4))
    assert first == again != other


FIRM = WorkCalendar("firm", frozenset({date(2027, 1, 18), date(2027, 1, 29)}))


@st.composite
def certain_chains(draw):
    lengths = draw(st.lists(st.integers(1, 6), min_size=1, max_size=7))
    links = []
    for after in range(1, len(lengths)):
        for before in draw(st.sets(st.integers(0, after - 1), max_size=2)):
            kind = draw(st.sampled_from(["FS", "SS", "FF", "SF"]))
            hours = draw(st.sampled_from([0, 0, 4, 16, 17, 24, 48, 100]))
            lag = 0 if hours else draw(st.integers(0, 4))
            links.append(Link(str(before), str(after), kind, lag, hours))
    return lengths, links


# Drying from the evening of Mon 4 Jan to 20:00 on Fri 8 Jan; 1 on Mon 11 Jan. 2 may end as 1 starts, on the evening
# of Fri 8 Jan, so 3 goes on by the clock from that morning, and is done on Mon 11 Jan.
WAITS = [Link("0", "1", "FS", 0, 100), Link("1", "2", "SF"), Link("2", "3", "SS", 0, 4)]


@settings(deadline=None, max_examples=150)
@example(([1] * 4, WAITS), date(2027, 1, 2))
@given(certain_chains(), st.dates(date(2027, 1, 1), date(2027, 2, 10)))
def test_with_every_activity_as_long_as_planned_it_ends_on_the_day_of_the_plan(drawn, start):
    # The plan of days is the reference: it counts whole days on the calendar, by another way.
    lengths, links = drawn
    clock = WorkClock(FIRM, start)
    activities = [UncertainActivity(str(n), ThreePoint(*[float(days)] * 3)) for n, days in enumerate(lengths)]
    runs = run_network(activities, links, clock=clock, runs=1)
    plan = schedule([DatedActivity(str(n), days, FIRM) for n, days in enumerate(lengths)], links, start)
    assert clock.day_of_finish(runs.finishes[0]) == plan.finish
    assert runs.share_by(clock.evening_of(plan.finish)) == 1


@cache
def dental():
    read = job_file("larkmoor-dental")
    return work_up(
        replace(read, job=replace(read.job, activities=(), promised_on=date(2027, 1, 27))), date(2026, 11, 25)
    )


def chance_of(chance, runs=400, **changes):
    plan = replace(chance.plan, **changes)
    return finishing_chance(plan, chance.calendar, chance.read.job.start_on, {}, runs=runs, compared_runs=runs)


def test_a_day_so_late_that_it_holds_in_every_run_is_certain_and_nothing_raises_it():
    result = chance_of(dental(), promised_on=date(2027, 6, 1))
    assert (result.chance, result.remedies) == (1.0, ())


def test_a_day_before_the_start_has_no_chance():
    assert chance_of(dental(), promised_on=date(2026, 12, 31)).chance == 0


def test_what_raises_the_chance_is_worked_out_in_the_same_runs_and_sorted():
    result = chance_of(dental())
    gains = [remedy.gain for remedy in result.remedies]
    assert 0 < result.chance < 1 and gains == sorted(gains, reverse=True) and min(gains) > 0
    assert all(remedy.chance == pytest.approx(result.chance + remedy.gain) for remedy in result.remedies)
    # A start a day earlier gives every run at least as much time.
    assert "earlier" in {remedy.what for remedy in result.remedies}
    assert all(later >= sooner for sooner, later in pairwise(result.days.values()))


def test_a_job_started_a_working_day_earlier_has_the_chance_said_of_it():
    # The second work-up is the reference: the same job with its first day moved.
    result = chance_of(dental())
    earlier = dental().calendar.back(dental().read.job.start_on, 1)
    moved = finishing_chance(dental().plan, dental().calendar, earlier, {}, runs=400, compared_runs=400)
    assert next(remedy.chance for remedy in result.remedies if remedy.what == "earlier") == moved.chance


def test_without_spread_every_run_ends_on_the_planned_day():
    result = dental()
    sure = tuple(
        replace(activity, spread=Spread(activity.duration_workdays, activity.duration_workdays, True))
        for activity in result.plan.activities
    )
    results = chance_of(result, runs=5, activities=sure)
    assert set(results.days.values()) == {result.plan.finish} and results.chance == 1


def test_without_a_promised_day_the_days_are_said_and_no_chance():
    result = chance_of(dental(), promised_on=None)
    assert result.chance is None and not result.remedies and result.days[0.5] <= result.days[0.9]


def test_shares_the_firm_does_not_state_are_asked_for_by_name():
    result = dental()
    with pytest.raises(Refused, match="shortest_duration_share and longest_duration_share"):
        chance_of(result, activities=tuple(replace(activity, spread=None) for activity in result.plan.activities))


def test_a_spread_that_leaves_the_planned_days_out_is_said():
    read = job_file("larkmoor-dental")
    changes = (ActivityChange("framing", 4, shortest_workdays=5),)
    plan = work_up(replace(read, job=replace(read.job, activities=changes)), date(2026, 11, 25)).plan
    assert "Track and studs is planned for 4 working days" in next(
        finding.sentence for finding in plan.findings if finding.key == "activities/framing/spread"
    )


@pytest.mark.parametrize("times", [(2, 1, 3), (-1, 1, 2), (1, 2, math.nan), (1, 3, 2)])
def test_times_out_of_order_are_refused(times):
    with pytest.raises(Refused):
        ThreePoint(*times)
