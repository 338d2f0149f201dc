"""A wrong entry is voided while its month is open, and reversed once it is closed; rates change by name alone."""

from datetime import date
from decimal import Decimal
from random import Random

import pytest

from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import KeyUsedBefore
from jobs.hours.models import TimeEntry, Worker
from jobs.hours.services.correcting import correct_entry
from jobs.hours.services.entering import enter_hours
from jobs.hours.services.hour_rows import hour_rows_of
from jobs.hours.services.refreezing import RatesMoved, freeze_anew, late_rates, mark_over
from tests.factories.hours import key
from tests.support.hours import LEAD, NOW, TODAY, crew, entry_of, line, rate
from tests.support.months import close

pytestmark = pytest.mark.both_engines
SEPTEMBER = date(2026, 9, 14)


def correct(entry, right=None, **more):
    document = {"request_key": key(), "reason": "Another day", **({"line": right} if right else {}), **more}
    return correct_entry(entry, document, LEAD, now=NOW, among=Worker.objects.all())


def sums(job):
    rows = hour_rows_of([job.pk])[job.pk]
    return sum(row.minutes for row in rows), sum(row.cost for row in rows)


def test_a_wrong_entry_of_an_open_month_is_voided_and_entered_anew(job):
    (sam,) = crew("Sam Orrin")
    wrong = entry_of(job, sam, 480)
    result = correct(wrong, line(sam, 420, job=job.key, step="boards"))
    assert (result.reversal, result.anew.corrects_id, result.anew.minutes) == (None, wrong.pk, 420)
    wrong.refresh_from_db()
    assert (wrong.voided_by_name, wrong.void_reason, wrong.minutes) == ("L. Lead", "Another day", 480)
    # 7 h at 48.00
    assert sums(job) == (420, Decimal("336.00"))


def test_the_same_day_may_be_corrected_without_being_asked_whether_to_add(job):
    (sam,) = crew("Sam Orrin")
    assert correct(entry_of(job, sam, 480), line(sam, 720, job=job.key, step="framing")).anew.minutes == 720


def test_a_wrong_entry_of_a_closed_month_is_reversed_and_entered_anew_in_the_next(job):
    (sam,) = crew("Sam Orrin")
    wrong = entry_of(job, sam, 480, SEPTEMBER)
    close("2026-09")
    rate("60.00", "2026-09-01")
    result = correct(wrong, line(sam, 420, SEPTEMBER, job=job.key, step="framing"))
    october = date(2026, 10, 1)
    assert (result.reversal.minutes, result.reversal.rate, result.reversal.posted_month) == (-480, 48, october)
    assert (result.anew.minutes, result.anew.posted_month, result.anew.day) == (420, october, SEPTEMBER)
    # September stays 8 h at 48.00; October takes them back and has 7 h at the rate known by then.
    assert sum(row.cost for row in hour_rows_of([job.pk], date(2026, 9, 30))[job.pk]) == 384
    assert sums(job) == (420, Decimal("420.00"))


def test_an_entry_is_taken_back_once_and_what_takes_it_back_stays(job):
    (sam,) = crew("Sam Orrin")
    wrong = entry_of(job, sam, 480, SEPTEMBER)
    close("2026-09")
    stays = correct(wrong)
    for row in (wrong, stays.reversal):
        with pytest.raises(Refused, match="Enter the right hours as new"):
            correct(row)
    assert sums(job) == (0, 0)


def test_a_correction_sent_twice_is_one(job):
    (sam,) = crew("Sam Orrin")
    wrong, right = entry_of(job, sam, 480), line(sam, 420, job=job.key, step="framing")
    first, again = (correct(wrong, right, request_key="k") for _ in range(2))
    assert first.anew == again.anew
    with pytest.raises(KeyUsedBefore):
        correct(wrong, line(sam, 60, job=job.key, step="framing"), request_key="k")
    assert TimeEntry.objects.count() == 2


def test_after_a_reversal_the_same_hours_may_be_entered_again(job):
    (sam,) = crew("Sam Orrin")
    wrong = entry_of(job, sam, 480, SEPTEMBER)
    close("2026-09")
    correct(wrong)
    assert entry_of(job, sam, 480, SEPTEMBER).minutes == 480


def test_a_rate_entered_late_lists_what_it_would_change_and_changes_it_by_name(job):
    (sam,) = crew("Sam Orrin")
    row, other = entry_of(job, sam, 480), entry_of(job, sam, 60, step="boards")
    assert late_rates() == []
    rate("49.50", "2026-10-05")
    listed = late_rates()
    # 8 h and 1 h, each 1.50 dearer
    assert [(entry.entry, entry.difference) for entry in listed] == [(row, Decimal("12.00")), (other, Decimal("1.50"))]
    assert freeze_anew({"entries": [row.pk], "seen": mark_over(listed)}) == 1
    assert list(TimeEntry.objects.order_by("pk").values_list("rate", flat=True)) == [Decimal("49.50"), Decimal("48.00")]
    assert [entry.rate for entry in row.history.all()] == [Decimal("49.50"), Decimal("48.00")]


def test_a_late_rate_changes_no_closed_month(job):
    (sam,) = crew("Sam Orrin")
    entry_of(job, sam, 480, SEPTEMBER)
    close("2026-09")
    rate("49.50", "2026-09-01")
    assert late_rates() == []


def test_a_list_that_moved_meanwhile_changes_nothing(job):
    (sam,) = crew("Sam Orrin")
    row = entry_of(job, sam, 480)
    rate("49.50", TODAY.isoformat())
    seen = mark_over(late_rates())
    rate("51.00", TODAY.isoformat())
    with pytest.raises(RatesMoved):
        freeze_anew({"entries": [row.pk], "seen": seen})
    row.refresh_from_db()
    assert row.rate == 48


def test_every_sum_is_that_of_its_rows_whatever_is_entered_corrected_and_closed(job):
    """200 steps by chance, from a seed; beside the rows a ledger kept by hand."""
    chance, (sam,), ledger, months = Random(7), crew("Sam Orrin"), {}, ["2026-07", "2026-08"]
    entry_of(job, sam, 1, date(2026, 7, 1), step="layout")
    ledger[TimeEntry.objects.get().pk] = 1
    for _ in range(200):
        day = date(2026, chance.randint(7, 9), chance.randint(1, 28))
        minutes, result = chance.randint(1, 90), list(ledger)
        if chance.random() < 0.03 and months:
            close(months.pop(0))
        elif chance.random() < 0.4:
            wrong = TimeEntry.objects.get(pk=chance.choice(result))
            right = line(sam, minutes, day, job=job.key, step="framing") if chance.random() < 0.5 else None
            results = correct(wrong, right, adds=True, is_long_day=True)
            del ledger[wrong.pk]
            if results.anew is not None:
                ledger[results.anew.pk] = minutes
        else:
            document = {"request_key": key(), "lines": [line(sam, minutes, day)], "adds": True, "is_long_day": True}
            row = enter_hours(document, LEAD, now=NOW, among=Worker.objects.all(), job=job).rows[0]
            ledger[row.pk] = minutes
        if not ledger:
            ledger[entry_of(job, sam, 1, TODAY).pk] = 1
    # 48.00 an hour: each minute is 0.80 exactly.
    assert sums(job) == (sum(ledger.values()), sum(ledger.values()) * Decimal("0.80"))
