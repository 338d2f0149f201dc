"""People named to jobs, and named to two at once."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.ground.declared import entry_of, write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.workdays import WorkCalendar
from jobs.core.schedule.job_spec import JobSpec
from jobs.core.schedule.people import NamedDays, NamedPerson, name_clashes, named_days

FIRM, INES = WorkCalendar("firm"), "Ines Quarrell"


def january(day):
    return date(2027, 1, day)


def days(job, first, last, name=INES):
    return NamedDays(name, job, january(first), january(last))


def clashes(*named, since=1):
    result = name_clashes(named, FIRM, january(since))
    return [(clash.name, clash.first_day.day, clash.last_day.day, clash.jobs) for clash in result]


def test_somebody_named_to_two_jobs_is_told_on_the_days_both_have_work():
    assert clashes(days("J-1", 5, 7), days("J-2", 7, 8)) == [(INES, 7, 7, ("J-1", "J-2"))]
    assert clashes(days("J-1", 5, 6), days("J-2", 7, 8)) == []


def test_another_name_is_nobodys_clash_and_capitals_are_the_same_name():
    assert clashes(days("J-1", 5, 7), days("J-2", 5, 7, "R. Sallow")) == []
    assert len(clashes(days("J-1", 5, 7), days("J-2", 5, 7, "ines  quarrell"))) == 1


def test_a_weekend_joins_two_stretches_and_is_none_itself():
    # Fri 8 and Mon 11 are neighbouring working days; Sat 9 and Sun 10 are none.
    assert clashes(days("J-1", 8, 11), days("J-2", 8, 8), days("J-2", 11, 11)) == [(INES, 8, 11, ("J-1", "J-2"))]
    assert clashes(days("J-1", 9, 10), days("J-2", 9, 10)) == []


def test_days_gone_by_are_passed_over():
    assert clashes(days("J-1", 4, 8), days("J-2", 4, 8), since=7) == [(INES, 7, 8, ("J-1", "J-2"))]


def test_somebody_is_wanted_on_the_days_they_are_named_to_on_which_there_is_work():
    person = NamedPerson(INES, "crew", january(6), january(12))
    worked = [(january(4), january(7)), (january(12), january(15)), (january(20), january(20))]
    pairs = [(day.first_day.day, day.last_day.day) for day in named_days("J-1", [person], worked)]
    assert pairs == [(6, 7), (12, 12)]


@given(st.lists(st.tuples(st.integers(0, 2), st.integers(0, 25), st.integers(0, 6)), max_size=8))
def test_every_day_is_told_that_counting_each_day_by_itself_finds(stretches):
    named = [NamedDays(INES, f"J-{job}", january(1) + timedelta(first), january(1) + timedelta(first + length))
             for job, first, length in stretches]  # fmt: skip
    message = {
        clash.first_day + timedelta(step)
        for clash in name_clashes(named, FIRM, january(1))
        for step in range((clash.last_day - clash.first_day).days + 1)
    }
    for day in (january(1) + timedelta(step) for step in range(40)):
        wanted = {entry.job for entry in named if entry.first_day <= day <= entry.last_day}
        assert (FIRM.is_workday(day) and day in message) == (FIRM.is_workday(day) and len(wanted) > 1)


def test_people_are_written_as_they_are_read():
    people = (NamedPerson(INES, "lead"), NamedPerson("R. Sallow", "crew", january(5), january(6)))
    assert entry_of(JobSpec, "people").read(Reader({"people": [write(person) for person in people]})) == people


@pytest.mark.parametrize(
    ("wrong", "path"),
    [
        ({"name": " "}, "people[0].name"),
        ({"name": "A", "part": "boss"}, "people[0].part"),
        ({"name": "A", "first_day": "2027-01-05", "last_day": "2027-01-04"}, "people[0].last_day"),
    ],
)
def test_an_entry_that_cannot_be_is_named(wrong, path):
    with pytest.raises(DocumentError) as refused:
        entry_of(JobSpec, "people").read(Reader({"people": [wrong]}))
    assert refused.value.complaints[0].path == path
