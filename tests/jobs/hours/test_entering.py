"""Hours entered: once a sending, under the rate of their day, within the day of whoever worked them."""

from datetime import date
from decimal import Decimal

import pytest

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.request_keys import KeyUsedBefore
from jobs.hours.models import TimeEntry, Worker
from jobs.hours.services.counting import set_rounding
from jobs.hours.services.day_limits import AskFirst
from jobs.hours.services.entering import enter_hours
from quoting.platform.people.signatures import Signature
from tests.factories.hours import worker
from tests.support.hours import LEAD, NOW, TODAY, crew, entry_of, line, rate, send
from tests.support.months import close

pytestmark = pytest.mark.both_engines


def complaint(job, *lines, **more):
    with pytest.raises(DocumentError) as refused:
        send(job, *lines, **more)
    assert not TimeEntry.objects.exists()
    return str(refused.value)


def test_an_entry_has_the_rate_of_the_day_worked_and_a_later_rate_moves_nothing(job):
    (sam,) = crew("Sam Orrin")
    rate("49.50", "2026-10-04")
    before = entry_of(job, sam, 90, date(2026, 10, 3))
    after = entry_of(job, sam, 90)
    rate("60.00", "2026-01-02")
    assert [TimeEntry.objects.get(pk=row.pk).rate for row in (before, after)] == [Decimal("48.00"), Decimal("49.50")]
    # 1.5 h at 49.50
    assert after.to_core("Sam").cost == Decimal("74.25")


def test_without_a_rate_an_entry_has_none_and_not_nought(job):
    assert entry_of(job, worker(rate_name="Plasterer")).rate is None


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"minutes": 0}, "lines[0].minutes: 0 must be from 1 to 1440"),
        ({"minutes": -60}, "lines[0].minutes: -60 must be from 1 to 1440"),
        ({"minutes": 1441}, "1441 must be from 1 to 1440"),
        ({"minutes": "NaN"}, "lines[0].minutes"),
        ({"minutes": 7.5}, "must be a whole number, not 7.5"),
        ({"day": "2026-10-06"}, "lines[0].day: Tue 6 Oct 2026 has not come yet; today is Mon 5 Oct 2026"),
        ({"day": "2026-01-04"}, "is before Sam Orrin began, Mon 5 Jan 2026"),
        ({"step": "roofing"}, 'lines[0].step: "roofing" is not a step of J-0100; its steps are layout, framing'),
        ({"tag": "paid"}, "lines[0].tag"),
        ({"tag": "note 1"}, "lines[0].tag: J-0100 has no change note 1; it has none"),
        ({"elsewhere": "Yard"}, "is for work on no job; write it into the note"),
        ({"worker": 99_999}, "lines[0].worker: is nobody whose hours you enter"),
        ({"hours": 8}, "lines[0].hours: is not a name known here"),
    ],
)
def test_a_wrong_line_names_its_entry_and_nothing_is_kept(job, wrong, says):
    (sam,) = crew("Sam Orrin")
    assert says in complaint(job, {**line(sam, step="framing"), **wrong})


def test_a_day_after_the_last_day_of_a_worker_is_refused(job):
    gone = worker("Ada Gone", last_day=date(2026, 9, 30))
    assert "after the last day of Ada Gone, Wed 30 Sep 2026" in complaint(job, line(gone))


def test_work_on_no_job_says_what_it_was(job):
    (sam,) = crew("Sam Orrin")
    assert "lines[0].elsewhere: is missing: say what was done, or name the job" in complaint(None, line(sam))
    row = send(None, line(sam, elsewhere="Yard cleared")).rows[0]
    assert (row.job, row.elsewhere, row.minutes) == (None, "Yard cleared", 480)


def test_every_wrong_line_is_named_at_once(job):
    (sam,) = crew("Sam Orrin")
    message = complaint(job, line(sam, 0), line(sam, step="framing"), line(sam, day=date(2026, 10, 9)))
    assert ("lines[0].minutes" in message, "lines[1]" in message, "lines[2].day" in message) == (True, False, True)


def test_a_day_of_one_worker_has_24_hours_over_all_jobs(job, small_job):
    (sam,) = crew("Sam Orrin")
    send(None, line(sam, 900, elsewhere="Night haul"), is_long_day=True)
    with pytest.raises(DocumentError, match="Sam Orrin has 24 h 1 min on Mon 5 Oct 2026 with this, over all jobs"):
        send(job, line(sam, 541, step="framing"), is_long_day=True)
    assert send(job, line(sam, 540, step="framing"), is_long_day=True).is_new


def test_more_than_12_hours_of_a_day_are_asked_about_and_kept_once_they_are_right(job):
    (sam,) = crew("Sam Orrin")
    entry_of(job, sam, 720)
    with pytest.raises(
        AskFirst, match="Sam Orrin has 12.25 h on Mon 5 Oct 2026 with this. Is that right?"
    ) as exception:
        send(job, line(sam, 15, step="boards"))
    assert (exception.value.path, exception.value.status) == ("is_long_day", 409)
    assert send(job, line(sam, 15, step="boards"), is_long_day=True).is_new


def test_of_several_the_question_is_asked_once(job):
    sam, ines = crew("Sam Orrin", "Ines Quarrell")
    with pytest.raises(AskFirst) as exception:
        send(job, line(sam, 780), line(ines, 780))
    assert [sentence.endswith("Is that right?") for sentence in exception.value.sentences] == [False, True]


def test_the_same_work_twice_is_offered_to_be_added(job):
    (sam,) = crew("Sam Orrin")
    entry_of(job, sam, 240)
    with pytest.raises(AskFirst, match="Sam Orrin has 4 h of this on Mon 5 Oct 2026 already, J-0100. Add these?"):
        entry_of(job, sam, 60)
    assert send(job, line(sam, 60, step="framing", tag="rework")).is_new
    send(job, line(sam, 60, step="framing"), adds=True)
    assert sum(TimeEntry.objects.values_list("minutes", flat=True)) == 360


def test_the_same_work_twice_in_one_sending_is_refused(job):
    (sam,) = crew("Sam Orrin")
    assert "is here twice for Sam Orrin" in complaint(job, line(sam, 60), line(sam, 90), adds=True)


def test_hours_sent_twice_are_kept_once_and_other_hours_under_the_key_are_refused(job):
    sam, ines = crew("Sam Orrin", "Ines Quarrell")
    lines = [line(sam, step="framing"), line(ines, step="framing")]
    first, again = (send(job, *lines, request_key="k") for _ in range(2))
    assert (first.is_new, again.is_new, first.rows) == (True, False, again.rows)
    with pytest.raises(KeyUsedBefore) as refused:
        send(job, line(sam, 465, step="framing"), request_key="k")
    assert (refused.value.status, refused.value.complaints[0].path) == (409, "request_key")
    assert TimeEntry.objects.count() == 2


def test_a_firm_that_rounds_keeps_what_was_typed(job):
    (sam,) = crew("Sam Orrin")
    set_rounding({"rounding": 15})
    rows = [entry_of(job, sam, minutes, step=step) for minutes, step in ((247, "framing"), (248, "boards"))]
    assert [(row.typed_minutes, row.minutes) for row in rows] == [(247, 240), (248, 255)]
    set_rounding({"rounding": 1})
    assert TimeEntry.objects.get(pk=rows[0].pk).minutes == 240


def test_hours_sent_late_into_a_closed_month_count_in_the_next(job):
    (sam,) = crew("Sam Orrin")
    entry_of(job, sam, 60, date(2026, 9, 1))
    close("2026-09")
    entered = send(job, line(sam, 480, date(2026, 9, 28), step="framing"))
    assert [(row.day, row.posted_month) for row in entered.late] == [(date(2026, 9, 28), date(2026, 10, 1))]
    assert not send(job, line(sam, 480, step="framing")).late


def test_nobody_enters_hours_of_workers_they_do_not_enter_for(job):
    sam, ines = crew("Sam Orrin", "Ines Quarrell")
    document = {"request_key": "k", "lines": [line(ines)]}
    with pytest.raises(DocumentError, match="nobody whose hours you enter"):
        enter_hours(document, LEAD, now=NOW, among=Worker.objects.filter(pk=sam.pk), job=job)


def test_an_entry_says_who_entered_it(job):
    (sam,) = crew("Sam Orrin")
    row = send(job, line(sam), signature=Signature("A. Office", TODAY)).rows[0]
    assert (row.entered_by_name, row.history.count()) == ("A. Office", 1)
