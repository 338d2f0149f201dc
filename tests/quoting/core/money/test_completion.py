"""What is still to go: hours left, lumps, allowances, what a person says, and what is missing."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from jobs.core.costs.hours import HourRow, StepHoursLeft
from jobs.core.costs.received_goods import OrderedFreight
from quoting.core.money.completion import SaidToGo
from quoting.core.money.job_costs import JobFacts, job_costs
from quoting.core.money.quoted import NoteCosts, QuotedCost
from tests.support.orrinsby import bill, on_order

D = Decimal
RATES = {"": D("50.00")}
FRAMING = QuotedCost("labour", "framing", "Framing", D(46), D("48.00"))
BASE = QuotedCost("materials", "base", "Base", D(9), D("212.00"))
PAINTER = QuotedCost("subcontract", "painter", "Painter", D(1), D("1850.00"))
LAMP = QuotedCost("materials", "lamp", "Lamp", D(1), D("500.00"), "allowance")


def job(*quoted: QuotedCost, **more: object) -> JobFacts:
    return JobFacts(D("24600.00"), quoted, **{"rates": RATES, **more})


def worked(hours: int, day: int = 5, tag: str = "") -> HourRow:
    return HourRow("1", date(2027, 5, day), "Ines", "framing", hours * 60, D("48.00"), tag)


def left(hours: int, *, is_done: bool = False) -> StepHoursLeft:
    return StepHoursLeft("framing", hours * 60, is_done, "Ines", date(2027, 5, 12))


def said(category: str, item: str, amount: str | None) -> SaidToGo:
    return SaidToGo(
        category, item, None if amount is None else D(amount), "Odile", "Agreed by phone", date(2027, 5, 12)
    )


def to_go(facts: JobFacts) -> Decimal:
    return job_costs(facts).of("to_go")


def test_agreed_hours_that_are_not_spent_are_to_go_at_the_rate_of_today():
    # 46 - 6 h at 50.00.
    assert to_go(job(FRAMING, hours=(worked(6),))) == D("2000.00")


def test_rework_spends_none_of_the_agreed_hours():
    assert to_go(job(FRAMING, hours=(worked(6, tag="rework"),))) == D("2300.00")


def test_a_signed_note_adds_its_hours():
    more = replace(FRAMING, quantity=D(4))
    note = NoteCosts(1, "Niche", D(300), True, (more,))
    assert to_go(job(FRAMING, notes=(note,))) == D("2500.00")
    assert to_go(job(FRAMING, notes=(replace(note, is_signed=False),))) == D("2300.00")


def test_the_hours_the_lead_says_count_less_what_was_worked_since():
    hours = (worked(20, 5), worked(3, 13))
    assert to_go(job(FRAMING, hours=hours, hours_left=(left(10),))) == D("350.00")


def test_a_step_that_is_done_has_nothing_to_go():
    assert to_go(job(FRAMING, hours=(worked(20),), hours_left=(left(0, is_done=True),))) == 0


def test_hours_all_spent_with_nothing_said_are_a_gap():
    costs = job_costs(job(FRAMING, hours=(worked(46),)))
    assert [gap.kind for gap in costs.gaps] == ["hours_left"]
    assert costs.of("to_go") == 0


def test_hours_without_a_rate_are_a_gap_and_never_a_silent_nought():
    costs = job_costs(job(FRAMING, hours=(replace(worked(6), rate=None),)))
    assert [gap.kind for gap in costs.gaps] == ["no_rate"]
    assert costs.gaps[0].sentence.startswith("No rate was known for Ines on Wed 5 May 2027")


def test_hours_left_of_a_step_without_any_rate_are_a_gap():
    costs = job_costs(job(PAINTER, rates={}, hours_left=(left(10),)))
    assert [(gap.kind, gap.item) for gap in costs.gaps] == [("no_rate", "framing")]


def test_a_step_a_note_took_off_before_anyone_began_waits_for_no_hours():
    off = NoteCosts(1, "No framing", D("-2208.00"), True, (replace(FRAMING, quantity=D(-46)),))
    costs = job_costs(job(FRAMING, notes=(off,)))
    assert (costs.at_completion, costs.gaps) == (D("0.00"), ())


def test_an_option_whose_cost_nobody_said_is_a_gap():
    costs = job_costs(job(QuotedCost("other", "Niche", "Niche", D(1), D("62.00"), is_assumed=True)))
    assert [gap.sentence for gap in costs.gaps] == ["Niche: its cost is not entered; 62.00 is assumed."]


def test_goods_neither_ordered_nor_bought_are_to_go_at_their_quoted_cost():
    ordered = (on_order("1", "P-1", "base", 4, 0, "218.00"),)
    # 9 - 4 ordered - 2 from a shop.
    assert to_go(job(BASE, ordered=ordered, bills=(bill("1", "card", "base", "2", "230.00"),))) == D("636.00")


def test_goods_that_replace_bad_ones_are_not_counted_twice():
    ordered = (on_order("1", "P-1", "base", 9, 8, "218.00"), on_order("2", "P-3", "base", 1, 0, "0.00", replaces=True))
    assert to_go(job(BASE, ordered=ordered)) == 0


def test_what_comes_in_the_place_of_bad_goods_is_not_bought_again():
    # 8 of 9 came good and the line ended; the ninth comes once more at nothing.
    first = replace(on_order("1", "P-1", "base", 9, 8, "218.00"), has_ended=True)
    again = on_order("2", "P-3", "base", 1, 0, "0.00", replaces=True)
    assert to_go(job(BASE, ordered=(first, again))) == 0
    assert to_go(job(BASE, ordered=(first,))) == D("212.00")


def test_an_ended_order_commits_nothing_and_leaves_the_rest_to_buy():
    ended = replace(on_order("1", "P-1", "base", 9, 5, "218.00"), has_ended=True)
    costs = job_costs(job(BASE, ordered=(ended,)))
    assert (costs.committed, costs.of("to_go")) == (0, D("848.00"))


def test_nothing_more_to_buy_ends_a_material():
    costs = job_costs(job(BASE, said=(said("materials", "base", None),)))
    assert costs.to_complete == 0


def test_a_person_may_say_what_a_line_still_costs_commitments_included():
    ordered = (on_order("1", "P-1", "base", 4, 0, "218.00"),)
    costs = job_costs(job(BASE, ordered=ordered, said=(said("materials", "base", "1500.00"),)))
    assert (costs.committed, costs.to_complete) == (D("872.00"), D("1500.00"))


def test_an_order_replaces_a_quoted_lump_and_a_bill_is_taken_off_it():
    ordered = on_order("1", "P-6", "painter", 1, 0, "1700.00", category="subcontract")
    assert job_costs(job(PAINTER, ordered=(ordered,))).at_completion == D("1700.00")
    billed = bill("1", "S-1", "painter", "1", "600.00", "subcontract")
    assert to_go(job(PAINTER, bills=(billed,))) == D("1250.00")


def test_an_allowance_stands_as_quoted_until_its_choice_is_billed():
    assert job_costs(job(LAMP)).at_completion == D("500.00")
    chosen = job_costs(job(LAMP, bills=(bill("1", "L-1", "lamp", "1", "420.00"),)))
    assert (chosen.at_completion, [gap.kind for gap in chosen.gaps]) == (D("420.00"), ["allowance"])


def test_contingency_is_never_forecast_as_cost():
    cost = QuotedCost("other", "contingency", "Contingency", D(1), D("400.00"), "contingency")
    assert job_costs(job(cost)).at_completion == 0


def test_a_line_without_a_price_stands_at_its_quoted_cost_and_says_so():
    costs = job_costs(
        job(BASE, ordered=(replace(on_order("1", "P-1", "base", 9, 4, "1"), price=None, asked_price=None),))
    )
    assert (costs.to_date, costs.committed) == (D("848.00"), D("1060.00"))
    assert {gap.kind for gap in costs.gaps} == {"no_price"}


def test_freight_is_committed_until_goods_come_then_received():
    on_its_way = OrderedFreight("P-3", D("35.00"), False, D("0.00"))
    assert job_costs(job(freight=(on_its_way,))).committed == D("35.00")
    costs = job_costs(job(freight=(replace(on_its_way, has_come=True),)))
    assert (costs.received_not_billed, costs.committed) == (D("35.00"), 0)


def test_a_closed_job_has_nothing_to_go():
    assert to_go(job(FRAMING, BASE, PAINTER, is_closed=True)) == 0
