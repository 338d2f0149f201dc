"""Activities, links, waits and people of a job's own in its chain, and its promised day.

Days worked by hand on the worked example of Larkmoor Dental: start Mon 4 Jan 2027, the firm closed on 18 Jan. Without
changes: setting out 4, framing 5 and 6, inspection 7, boards 8 and 11, coats 12 to 15, primer 19, trim 20, paint 21.
"""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.ground.declared import entry_of, write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.materials.specs import Fact
from catalog.core.materials.standards import Standards, starter_standards
from jobs.core.ordering.job_work_up import calendar_of
from jobs.core.schedule.activities import plan_activities
from jobs.core.schedule.critical_path import Link
from jobs.core.schedule.job_activities import ADDED_KINDS, LINK_KINDS, AddedActivity, LinkChange, OwnActivityError
from jobs.core.schedule.job_spec import ActivityChange, JobSpec
from quoting.core.quotes.work_up import work_up
from tests.documents import job_file

READ = replace(job_file("larkmoor-dental"), job=replace(job_file("larkmoor-dental").job, activities=(), dates=()))
DONE = work_up(READ, date(2026, 11, 25))


def planned(standards=READ.book.standards, **changes):
    return plan_activities(replace(READ.job, **changes), DONE.walls, standards, calendar_of(READ))


def with_standard(**values):
    facts = {name: Fact(Decimal(value), "Invented", "firm") for name, value in values.items()}
    return Standards({**starter_standards().facts, **facts}, ())


def days_of(plan, key):
    times = next(activity.times for activity in plan.activities if activity.key == key)
    return times.early_start.day, times.early_finish.day


def said(plan):
    return [finding.sentence for finding in plan.findings]


def test_an_own_activity_stands_between_the_two_it_names_and_moves_what_follows():
    plan = planned(
        own_activities=(AddedActivity("fire", "Fire stopping", duration_workdays=2, after="framing", before="boards"),)
    )
    assert [activity.key for activity in plan.activities][1:4] == ["framing", "fire", "inspection"]
    assert (days_of(plan, "fire"), days_of(plan, "inspection"), days_of(plan, "boards")) == ((7, 8), (7, 7), (11, 12))


def test_crew_hours_become_days_at_the_pace_of_its_own_crew_and_count_as_hours():
    # 33 h by two people at 8 h a day are 2.06 days: three. By three people 1.4: two (NAVEDTRA 14045).
    lasts = []
    for crew in (None, 3):
        plan = planned(own_activities=(AddedActivity("scaffold", "Scaffold", crew_hours=33.0, crew=crew),))
        scaffold = next(activity for activity in plan.activities if activity.is_own)
        lasts.append((scaffold.duration_workdays, scaffold.people, scaffold.hours))
    assert lasts == [(3, 2, 33.0), (2, 3, 33.0)]


def test_one_activity_of_the_chain_can_have_a_crew_of_its_own():
    # Its hours are over two working days and at most three for one; for two people, two days.
    plan = planned(activities=(ActivityChange("framing", crew=1),))
    framing = next(activity for activity in plan.activities if activity.key == "framing")
    assert (framing.duration_workdays, framing.people) == (3, 1) and 16 < framing.hours <= 24
    assert {activity.people for activity in plan.activities if activity.key not in ("framing", "inspection")} == {2}


def test_a_hold_keeps_what_waits_for_it_until_its_day():
    hold = AddedActivity("word", "Word of the landlord", "hold", before="boards", not_before=date(2027, 1, 13))
    assert days_of(planned(own_activities=(hold,)), "boards") == (13, 14)


def test_a_hold_without_a_day_is_a_gap_and_nothing_is_dated():
    plan = planned(own_activities=(AddedActivity("word", "Word of the landlord", "hold", before="boards"),))
    assert plan.finish is None and any('Enter the day "Word of the landlord"' in entry for entry in said(plan))


def test_a_link_of_the_job_stands_in_place_of_the_chain_s():
    # Boards may start a day after framing does: framing 5, boards from 6 once no inspection lies between.
    links = (
        LinkChange("framing", "boards", "SS", lag_workdays=1),
        LinkChange("inspection", "boards", left_out=True),
    )
    plan = planned(links=links)
    assert days_of(plan, "boards") == (6, 7)
    assert Link("inspection", "boards") not in plan.links


def test_a_wait_by_the_clock_of_the_job_runs_over_nights_and_then_to_a_working_morning():
    # Boards end Mon 11 Jan at 16:00; 72 h are Thu 14 Jan 16:00, so Fri 15 Jan.
    plan = planned(links=(LinkChange("boards", "coat-1", lag_elapsed_hours=72, name="glue curing"),))
    assert days_of(plan, "coat-1") == (15, 15)
    assert "72 h glue curing" in [wait.in_words for wait in plan.waits]


def test_the_default_chain_names_its_waits():
    waits = {(wait.before, wait.after): wait.in_words for wait in DONE.plan.waits}
    assert waits["coat-1", "coat-2"] == "24 h drying"
    assert waits["primer", "trim"] == "4 h drying" and waits["trim", "paint"] == "12 h curing"


def test_trim_that_acclimatises_must_be_on_site_so_long_before():
    # Trim starts Wed 20 Jan; 48 h before its morning is Mon 18 Jan, a closed day: Fri 15 Jan, the last morning worked.
    plan = planned(with_standard(trim_acclimatise_hours="48"))
    assert plan.start_of("trim") == date(2027, 1, 20) and plan.wanted_on("trim") == date(2027, 1, 15)
    needs = work_up(
        replace(
            READ,
            book=replace(READ.book, standards=with_standard(trim_acclimatise_hours="48")),
            job=replace(
                READ.job,
                walls=tuple(replace(w, trims=tuple(replace(t, need_by=None) for t in w.trims)) for w in READ.job.walls),
            ),
        ),
        date(2026, 11, 25),
    ).needs
    assert next(need.need_by for need in needs if need.material == "BASE-514-FLEX") == date(2027, 1, 15)


def test_hours_that_make_more_days_than_can_be_planned_are_a_gap():
    # 20,000 h by one person at 8 h a day are 2,500 days.
    plan = planned(own_activities=(AddedActivity("x", "Carving", crew_hours=20_000.0, crew=1),))
    assert plan.finish is None and "Carving would take 2,500 working days, and at most 1,000" in said(plan)[-1]


def test_a_circle_is_told_by_the_names_of_its_activities():
    plan = planned(links=(LinkChange("coat-2", "boards"),))
    assert plan.finish is None
    assert said(plan)[-1] == (
        'These activities wait for each other in a circle: first "Hanging board", then "Tape and first coat", then '
        '"Coat 2", then "Hanging board" again. Take one of the links between them out.'
    )


@pytest.mark.parametrize(
    "changes",
    [
        {"links": (LinkChange("boards", "varnish"),)},
        {"own_activities": (AddedActivity("x", "X", duration_workdays=1, after="varnish"),)},
    ],
)
def test_a_link_to_what_is_not_there_is_a_gap(changes):
    plan = planned(**changes)
    assert plan.finish is None and any('There is no activity "varnish"' in entry for entry in said(plan))


def test_the_promised_day_gives_slack_and_late_days_and_leaves_the_early_ones():
    # Done on Thu 21 Jan; promised for Wed 27: four working days.
    plan = planned(promised_on=date(2027, 1, 27))
    assert (plan.finish, plan.slack_workdays) == (date(2027, 1, 21), 4)
    paint = next(activity for activity in plan.activities if activity.key == "paint")
    assert paint.promised.late_start == date(2027, 1, 27) and paint.times.critical
    # Trim may start on Tue 26: its material may come as late as that.
    assert plan.late_wanted_on("trim") == date(2027, 1, 26)


def test_a_promised_day_that_cannot_be_kept_is_said():
    plan = planned(promised_on=date(2027, 1, 19))
    assert plan.slack_workdays == -2
    assert "as planned it is done on Thu 21 Jan 2027, 2 working days later." in said(plan)[-1]


@given(st.integers(0, 20), st.integers(0, 10))
def test_more_lag_never_ends_sooner(lag, more):
    """A property of the forward pass."""
    first, second = (planned(links=(LinkChange("boards", "coat-1", lag_workdays=n),)).finish for n in (lag, lag + more))
    assert first <= second


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ({"name": "X"}, "own_activities[0].duration_workdays: of work, give either"),
        ({"name": "X", "duration_workdays": 1, "crew_hours": 3}, "of work, give either"),
        ({"name": "X", "kind": "hold", "duration_workdays": 1}, "a hold has no length"),
        ({"name": "X", "kind": "inspection", "duration_workdays": 1, "crew": 2}, "crew: is of work"),
        ({"name": "X", "crew_hours": "0"}, "crew_hours: 0 must be over 0"),
        ({"name": "X", "duration_workdays": 1, "after": "trim", "before": "trim"}, "both before and after"),
        ({"name": "X", "duration_workdays": 4, "shortest_workdays": 5, "longest_workdays": 2}, "must not be less"),
        ({"name": "X", "duration_workdays": 501}, "501 must be from 0 to 500"),
    ],
)
def test_what_an_own_activity_cannot_be_is_refused_at_its_entry(entry, words):
    with pytest.raises(DocumentError) as refused:
        entry_of(JobSpec, "own_activities").read(Reader({"own_activities": [entry]}))
    assert words in str(refused.value)


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ({"before": "a", "after": "a"}, "links[0].after"),
        ({"before": "a", "after": "b", "lag_workdays": 1, "lag_elapsed_hours": 4}, "not both"),
        ({"before": "a", "after": "b", "left_out": True, "lag_workdays": 1}, "empty the wait"),
        ({"before": "a", "after": "b", "kind": "XX"}, "FS, SS, FF, SF"),
    ],
)
def test_what_a_link_cannot_be_is_refused_at_its_entry(entry, words):
    with pytest.raises(DocumentError) as refused:
        entry_of(JobSpec, "links").read(Reader({"links": [entry]}))
    assert words in str(refused.value)


def test_an_entry_of_the_wrong_kind_is_refused_in_the_core_too():
    with pytest.raises(OwnActivityError, match="nap"):
        AddedActivity("x", "X", "nap", 1)  # type: ignore[arg-type]


own = st.builds(
    lambda number, kind, days, after: AddedActivity(
        f"own-{number}", "Own", kind, None if kind == "hold" else days, after=after, not_before=date(2027, 1, 5)
    ),
    st.integers(0, 99),
    st.sampled_from(ADDED_KINDS),
    st.integers(0, 500),
    st.sampled_from([None, "framing", "trim"]),
)
links = st.builds(
    lambda kind, days, hours, name: LinkChange("a", "b", kind, 0 if hours else days, hours, name=name),
    st.sampled_from(LINK_KINDS),
    st.integers(-250, 250),
    st.integers(0, 8760),
    st.sampled_from(["", "curing"]),
)


@given(own, links)
def test_what_is_written_is_read_back_the_same(activity, link):
    written = Reader({"own_activities": [write(activity)], "links": [write(link)]})
    assert entry_of(JobSpec, "own_activities").read(written) == (activity,)
    assert entry_of(JobSpec, "links").read(written) == (link,)
