"""Activities, need-by days and order dates of whole jobs."""

from dataclasses import replace
from datetime import date, time

import pytest

from catalog.core.ground.workdays import Closure, calendar_with
from catalog.core.leads.lead_times import LeadTerm
from jobs.core.measure.findings import Override
from jobs.core.ordering.needs import DatedNeed, Want, date_want
from jobs.core.schedule.job_spec import ActivityChange, ItemDates
from quoting.core.quotes.job_file import JobFile
from quoting.core.quotes.work_up import WorkUp, work_up
from tests.documents import job_file


def dental(**changes: object) -> JobFile:
    read = job_file("larkmoor-dental")
    return replace(read, job=replace(read.job, **changes))  # type: ignore[arg-type]


def need(result: WorkUp, code: str) -> DatedNeed:
    return next(entry for entry in result.needs if entry.material == code)


def test_the_dental_base_is_ordered_by_10_december() -> None:
    # Worked example: dock 20 Jan, ship 14 Jan, order-by 10 Dec 2026, decide-by 3 Dec.
    dates = need(work_up(dental(), date(2026, 11, 25)), "BASE-514-FLEX").dates
    assert dates is not None
    assert (dates.dock, dates.ship, dates.order_by, dates.decide_by) == (
        date(2027, 1, 20),
        date(2027, 1, 14),
        date(2026, 12, 10),
        date(2026, 12, 3),
    )


def test_ordered_on_16_december_the_dental_base_is_four_working_days_late() -> None:
    late = need(work_up(dental(), date(2026, 12, 16)), "BASE-514-FLEX")
    assert late.if_ordered_today is not None
    assert (late.if_ordered_today.usable, late.late_workdays) == (date(2027, 1, 29), 4)
    assert late.in_hand is not None
    assert late.in_hand < 0


def test_moving_layout_three_days_moves_the_trim_three_working_days() -> None:
    # Feature table, row 60.
    undated = tuple(replace(item, need_by=None) for item in job_file("larkmoor-dental").job.dates)
    walls = tuple(
        replace(w, trims=tuple(replace(t, need_by=None) for t in w.trims))
        for w in job_file("larkmoor-dental").job.walls
    )
    start = job_file("larkmoor-dental").job.start_on
    assert start is not None
    first = work_up(dental(dates=undated, walls=walls, activities=()), date(2026, 11, 25))
    calendar = calendar_with("firm", first.read.book.firm.closures)
    moved = work_up(
        dental(dates=undated, walls=walls, activities=(), start_on=calendar.forward(start, 3)), date(2026, 11, 25)
    )
    days = [need(result, "BASE-514-FLEX").need_by for result in (first, moved)]
    assert days[0] is not None
    assert days[1] == calendar.forward(days[0], 3)


def test_without_a_start_the_need_by_days_are_gaps_and_agreed_days_still_stand() -> None:
    result = work_up(dental(start_on=None), date(2026, 11, 25))
    assert need(result, "BASE-514-FLEX").dates is not None
    tape = need(result, "TAPE-PAPER")
    assert tape.dates is None
    assert [f.key for f in tape.findings] == ["needs/TAPE-PAPER/need-by"]


@pytest.mark.parametrize(("part", "key"), [("lead_terms", "lead-term"), ("supplier", "supplier")])
def test_a_missing_lead_term_or_supplier_is_a_named_gap(part: str, key: str) -> None:
    read = dental()
    bare = replace(read.book.materials["BASE-514-FLEX"], **{part: () if part == "lead_terms" else None})
    result = work_up(replace(read, book=read.book.with_more((), (bare,))), date(2026, 11, 25))
    base = need(result, "BASE-514-FLEX")
    assert base.dates is None
    assert f"needs/BASE-514-FLEX/{key}" in [f.key for f in base.findings]


def test_items_are_sorted_by_days_in_hand_with_gaps_last() -> None:
    read = dental()
    bare = replace(read.book.materials["TAPE-PAPER"], lead_terms=())
    result = work_up(replace(read, book=read.book.with_more((), (bare,))), date(2026, 11, 25))
    hands = [entry.in_hand for entry in result.needs]
    assert hands[-1] is None
    assert hands[:-1] == sorted(hand for hand in hands if hand is not None)


def test_an_agreed_day_stands_before_the_activities() -> None:
    activities = work_up(dental(dates=(ItemDates("PAINT-WALL", date(2027, 2, 26), 2),)), date(2026, 11, 25))
    paint = need(activities, "PAINT-WALL")
    assert (paint.need_by, paint.set_by, paint.cushion_workdays) == (
        date(2027, 2, 26),
        "agreed for this job",
        2,
    )


def test_an_activity_can_be_lengthened_or_left_out() -> None:
    plain = work_up(dental(), date(2026, 11, 25)).plan
    changes = (ActivityChange("framing", 6), ActivityChange("inspection", left_out=True))
    changed = work_up(dental(activities=changes), date(2026, 11, 25)).plan
    assert {a.key: a.duration_workdays for a in changed.activities}["framing"] == 6
    assert {a.key for a in plain.activities} - {a.key for a in changed.activities} == {"inspection"}


def test_a_change_to_an_unknown_activity_is_named() -> None:
    result = work_up(dental(activities=(ActivityChange("plastering"),)), date(2026, 11, 25))
    assert "activities/plastering" in [f.key for f in result.findings if f.weight == "gap"]


def test_the_site_closed_days_are_not_worked() -> None:
    result = work_up(job_file("brightwell-childcare"), date(2027, 5, 3))
    for activity in result.plan.activities:
        assert activity.times is not None
        assert result.calendar.is_workday(activity.times.early_start)


def test_an_item_agreed_for_after_its_activity_begins_is_said() -> None:
    result = work_up(dental(activities=()), date(2026, 11, 25))
    assert [f.weight for f in need(result, "BASE-514-FLEX").findings] == ["caution"]
    held = work_up(dental(activities=(ActivityChange("trim", not_before=date(2027, 1, 25)),)), date(2026, 11, 25))
    assert need(held, "BASE-514-FLEX").findings == ()


@pytest.mark.parametrize("code", ["TRACK-358", "GB-14"])
def test_no_order_by_day_is_late_where_the_supplier_is_shut_on_the_dock_day(code: str) -> None:
    # Worked example: the supply house is shut 21 Dec to 1 Jan; ordered on 11 Dec it is usable on 5 Jan, after 4 Jan.
    late, in_time = (need(work_up(dental(), date(2026, 12, day)), code) for day in (11, 10))
    assert in_time.dates is not None
    assert (in_time.dates.order_by, in_time.late_workdays, in_time.in_hand) == (date(2026, 12, 10), 0, 0)
    assert (late.late_workdays, late.in_hand) == (1, -1)
    assert [f for f in in_time.findings if f.weight == "caution"] == []


def test_on_an_order_by_day_the_supplier_is_shut_on_there_are_no_days_lost() -> None:
    # Five days and one in transit before Friday 25 June 2027, on which the mill is shut: Wednesday the 16th at the
    # latest, and there the firm is shut. The day before counts from it, for the mill is shut then.
    read = dental()
    base = read.book.materials["BASE-514-FLEX"]
    days = [Closure(date(2027, 6, day), date(2027, 6, day)) for day in (15, 16, 25)]
    mill = replace(read.book.suppliers[base.supplier or ""], closures=(days[0], days[2]))
    quick = replace(base, lead_terms=(LeadTerm(5, "workdays", 1, "telephone", date(2027, 1, 4)),))
    book = replace(read.book.with_more((mill,), (quick,)), firm=replace(read.book.firm, closures=(days[1],)))
    want = Want(base.code, None, "length", date(2027, 6, 25), "agreed", agreed_cushion_workdays=0)
    test = date_want(want, book, book.firm.calendar, date(2027, 6, 15), time(9))
    assert test.dates is not None
    assert (test.dates.order_by, test.in_hand, test.late_workdays) == (date(2027, 6, 15), 0, 0)


def test_after_the_cut_off_hour_of_the_order_by_day_it_is_late() -> None:
    read, day = dental(), date(2026, 12, 10)
    assert read.book.suppliers[read.book.materials["BASE-514-FLEX"].supplier or ""].order_cut_off == time(15)
    hands = [need(work_up(read, day, now_at=at), "BASE-514-FLEX").in_hand for at in (time(14, 59), time(15, 1))]
    assert hands == [0, -1]


def test_a_closed_site_does_not_move_the_firms_order_dates() -> None:
    # Trade rules: cushion days, order-by and days in hand run on the firm's calendar.
    shut = (Closure(date(2026, 12, 1), date(2026, 12, 18), "site shut"),)
    open_site, shut_site = (
        need(work_up(dental(closures=closures), date(2026, 11, 25)), "BASE-514-FLEX") for closures in ((), shut)
    )
    assert (open_site.dates, open_site.in_hand) == (shut_site.dates, shut_site.in_hand)


def test_an_item_set_to_nothing_has_no_order_date() -> None:
    decision = Override("reception-screen/trim-1", "client supplies it", "Ines", "2026-11-20", 0.0)
    other = Override("reception-screen/trim-2", "client supplies it", "Ines", "2026-11-20", 0.0)
    result = work_up(dental(overrides=(decision, other)), date(2026, 11, 25))
    assert "BASE-514-FLEX" not in [entry.material for entry in result.needs]


def test_order_data_of_made_trim_knows_its_need_date() -> None:
    result = work_up(dental(), date(2026, 11, 25))
    order = result.walls[0].trims[0].order
    assert order is not None
    assert (order.need_by, "need date" in order.missing) == (date(2027, 1, 25), False)


def test_no_gap_names_the_supplier() -> None:
    read = dental()
    mill = next(iter(read.book.suppliers.values()))
    code = read.book.materials["BASE-514-FLEX"].supplier
    always = tuple(Closure(date(y, 1, 1), date(y + 2, 12, 31)) for y in range(2020, 2034, 3))
    shut = replace(mill, code=code, name="CANARY", closures=always)
    result = work_up(replace(read, book=read.book.with_more((shut,), ())), date(2026, 11, 25))
    message = " ".join(f.sentence for f in need(result, "BASE-514-FLEX").findings)
    assert message
    assert "CANARY" not in message


def test_a_start_on_a_saturday_is_told_with_the_day_work_begins() -> None:
    # 5 December 2026 is a Saturday (ISO 8601 calendar).
    begins = {
        finding.key: finding
        for finding in work_up(dental(start_on=date(2026, 12, 5)), date(2026, 11, 25)).plan.findings
    }
    message = begins["job/start_on/closed"]
    assert (message.weight, "begins on Mon 7 Dec 2026" in message.sentence) == ("caution", True)


def test_a_job_without_walls_has_no_activities_and_no_last_day() -> None:
    plan = work_up(dental(walls=(), dates=(), activities=()), date(2026, 11, 25)).plan
    assert (plan.activities, plan.finish) == ((), None)
