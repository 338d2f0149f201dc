"""Order dates by the days somebody accepted for planning in the place of the quoted ones."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from catalog.core.leads.lead_times import LeadTerm
from catalog.core.leads.planned_leads import PlannedLead
from jobs.core.ordering.needs import DatedNeed
from quoting.core.quotes.work_up import work_up
from tests.documents import job_file

BASE = "BASE-514-FLEX"
TODAY = date(2026, 11, 25)
# The base of the dental screen is quoted 15 working days and 3 in transit.
PLAN = PlannedLead(22, 15, "workdays", 3, "?", Decimal("0.9"), "three receipts", (), "A. Tester", date(2026, 11, 20))


def base_with(plan: PlannedLead, *more_terms: LeadTerm, supplier: str | None = None) -> DatedNeed:
    read = job_file("larkmoor-dental")
    base = read.book.materials[BASE]
    assert base.supplier is not None
    plan = replace(plan, supplier=supplier or base.supplier)
    base = replace(base, planned_leads=(plan,), lead_terms=(*base.lead_terms, *more_terms))
    result = work_up(replace(read, book=read.book.with_more((), (base,))), TODAY)
    return next(need for need in result.needs if need.material == BASE)


def order_day(need: DatedNeed) -> date:
    assert need.dates is not None
    return need.dates.order_by


def test_accepted_days_move_order_by_and_decide_by_and_say_so() -> None:
    # By hand from worked example B: quoted, Thu 10 Dec; four of the mill's working days earlier is Fri 4 Dec, and
    # five sign-off days before that Fri 27 Nov.
    need = base_with(PLAN)
    assert need.dates is not None
    assert (need.dates.order_by, need.dates.decide_by) == (date(2026, 12, 4), date(2026, 11, 27))
    assert (need.dates.dock, need.dates.ship) == (date(2027, 1, 20), date(2027, 1, 14))
    assert need.term is not None
    assert (need.term.production_days, need.planned_workdays) == (15, 22)
    finding = next(entry for entry in need.findings if entry.key == f"needs/{BASE}/planned")
    assert finding.weight == "note"
    assert "dated by 22 working days, where 18 are quoted; A. Tester accepted" in finding.sentence


def test_an_order_today_is_counted_by_the_accepted_days_too() -> None:
    # Quoted, an order of 16 Dec is usable on 29 Jan (worked example B).
    quoted, planned = base_with(replace(PLAN, accepted_on=date(2026, 12, 1))), base_with(PLAN)
    assert quoted.if_ordered_today is not None
    assert planned.if_ordered_today is not None
    assert quoted.planned_workdays is None
    assert planned.if_ordered_today.usable > quoted.if_ordered_today.usable


def test_days_that_ended_or_that_nobody_accepted_yet_move_nothing() -> None:
    ended = replace(PLAN, ended_on=date(2026, 11, 24))
    later = replace(PLAN, accepted_on=date(2026, 11, 26))
    assert [order_day(base_with(lead)) for lead in (ended, later)] == [date(2026, 12, 10)] * 2


def test_a_newer_quoted_term_makes_them_stale_with_a_caution() -> None:
    need = base_with(PLAN, LeadTerm(16, "workdays", 3, "telephone", date(2026, 11, 24)))
    assert order_day(need) == date(2026, 12, 9)
    finding = next(entry for entry in need.findings if entry.key == f"needs/{BASE}/planned")
    assert finding.weight == "caution"
    assert "against another quote or supplier; dated by the 19 quoted now" in finding.sentence


def test_another_supplier_makes_them_stale_and_the_same_days_said_again_do_not() -> None:
    assert order_day(base_with(PLAN, supplier="ANOTHER")) == date(2026, 12, 10)
    again = LeadTerm(15, "workdays", 3, "telephone", date(2026, 11, 24))
    assert order_day(base_with(PLAN, again)) == date(2026, 12, 4)
