"""The firm's workers, and hours left of a step as somebody says them."""

from datetime import date

import pytest

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import KeyUsedBefore
from jobs.hours.services.hour_rows import hours_left_of
from jobs.hours.services.saying_left import say_left
from jobs.hours.services.workers import change_worker, enter_worker, workers_for
from tests.support.hours import LEAD, NOW, crew, entry_of, rate

SAM = {"request_key": "k", "name": "Sam  Orrin ", "rate_name": "Carpenter", "first_day": "2026-01-05"}


def entered(**more):
    return enter_worker({**SAM, **more}, LEAD, now=NOW)[0]


def refusal(act):
    with pytest.raises(DocumentError) as refused:
        act()
    return str(refused.value)


def left(job, *steps, request_key="k"):
    return say_left(job, {"request_key": request_key, "steps": list(steps)}, LEAD, now=NOW)


def test_a_worker_is_entered_once_and_may_log_in(db, make_person):
    rate()
    make_person("lead", "sorrin")
    row = entered(login_name="sorrin")
    assert (row.name, row.person.login_name, entered(login_name="sorrin")) == ("Sam Orrin", "sorrin", row)
    with pytest.raises(KeyUsedBefore):
        entered(name="Ada")


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"name": ""}, "name: must not be empty"),
        ({"rate_name": "Roofer"}, 'rate_name: "Roofer" is not a labour rate in force; these are: Carpenter'),
        ({"last_day": "2026-01-04"}, "last_day: Sun 4 Jan 2026 is before the first day"),
        ({"login_name": "nobody"}, 'login_name: nobody logs in as "nobody"'),
    ],
)
def test_a_wrong_worker_names_the_entry(db, wrong, says):
    rate()
    assert says in refusal(lambda: entered(**wrong))


def test_no_two_workers_have_one_name_or_one_login(db, make_person):
    rate()
    make_person("lead", "sorrin")
    entered(login_name="sorrin")
    assert "is a worker already" in refusal(lambda: entered(request_key="k2", name="sam orrin"))
    message = refusal(lambda: entered(request_key="k3", name="Ada", login_name="sorrin"))
    assert '"sorrin" is Sam Orrin already' in message


def test_a_worker_keeps_the_days_hours_are_on(job):
    (sam,) = crew("Sam Orrin")
    entry_of(job, sam, day=date(2026, 10, 1))
    gone = {"name": "Sam Orrin", "rate_name": "Carpenter", "first_day": "2026-01-05", "last_day": "2026-09-30"}
    with pytest.raises(Refused, match="Sam Orrin has hours on Thu 1 Oct 2026"):
        change_worker(sam, gone, LEAD)
    assert change_worker(sam, gone | {"last_day": "2026-10-01"}, LEAD).last_day == date(2026, 10, 1)


def test_a_lead_enters_for_all_and_an_estimator_for_themselves(db, make_person):
    sam, _ = crew("Sam Orrin", "Ines Quarrell")
    estimator, lead = make_person("estimator"), make_person("lead")
    sam.person = estimator
    sam.save()
    assert ([entry.name for entry in workers_for(estimator)], workers_for(lead).count()) == (["Sam Orrin"], 2)


def test_what_is_left_is_said_once_a_key_and_the_newest_counts(job):
    rows, is_new = left(job, {"step": "boards", "minutes": 1980})
    assert (is_new, left(job, {"step": "boards", "minutes": 1980})) == (True, (rows, False))
    left(job, {"step": "boards", "is_done": True}, request_key="k2")
    assert [(entry.minutes, entry.is_done) for entry in hours_left_of([job.pk])[job.pk]] == [(0, True)]
    for other in ({"minutes": 60}, {"minutes": 1980, "percent_done": 40}):
        with pytest.raises(KeyUsedBefore):
            left(job, {"step": "boards", **other})


@pytest.mark.parametrize(
    ("step", "says"),
    [
        ({"step": "roofing", "minutes": 60}, '"roofing" is not a step of J-0100'),
        ({"step": "boards"}, "steps[0].minutes: is missing: say how long it still takes, or that it is done"),
        ({"step": "boards", "minutes": -1}, "steps[0].minutes: -1 must be from 0"),
        ({"step": "boards", "minutes": 60, "is_done": True}, "say one of the two"),
        ({"step": "boards", "is_done": True, "percent_done": 40}, "say one of the two"),
        ({"step": "boards", "minutes": 60, "percent_done": 100}, "percent_done: 100 must be from 1 to 99"),
    ],
)
def test_hours_left_that_cannot_be_name_the_entry(job, step, says):
    assert says in refusal(lambda: left(job, step))
