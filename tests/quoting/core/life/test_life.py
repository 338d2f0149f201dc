from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.core.life.facts import (
    ComingFacts,
    ItemFacts,
    JobFacts,
    MoneyFacts,
    OtherwiseFacts,
    OutcomeFacts,
    RequestFacts,
    RevisionFacts,
    ToAskFacts,
    WaitFacts,
    WorkFacts,
)
from quoting.core.life.facts_document import read_facts, write_facts
from quoting.core.life.life import life_of
from quoting.core.life.stations import STATIONS

DAY = date(2026, 11, 30)
OPENED, MEASURED, QUOTED = date(2026, 11, 3), date(2026, 11, 13), date(2026, 11, 20)
VALID = date(2026, 12, 24)
BASE = ItemFacts("BASE", "Base 5-1/4 in", True, decide_by=date(2026, 12, 3), order_by=date(2026, 12, 10))
ENQUIRY = JobFacts(OPENED, "Larkmoor Dental", estimator="Bram Sawtry", lead="Teodor")
PRICED = replace(ENQUIRY, walls=1, measured_on=MEASURED, before_sending=0, priced_on=QUOTED, to_order=(BASE,), wanted=1)
OUT = RevisionFacts(
    1, QUOTED, VALID, "issued", QUOTED, sent_on=date(2026, 11, 24), opened=3, opened_on=date(2026, 11, 29)
)
SENT = replace(PRICED, revision=OUT)
MONEY = MoneyFacts(Decimal("15641.39"), Decimal("5213.80"), Decimal("5213.80"), date(2026, 12, 2))
SIGNED = replace(SENT, revision=replace(OUT, standing="accepted"), signed_on=date(2026, 12, 1), money=MONEY)
ORDERED = replace(SIGNED, to_order=(), ordered=1, placed_on=date(2026, 12, 2))
BUILDING = replace(ORDERED, begun_on=date(2027, 1, 4), work=WorkFacts("framing", "framing", True, date(2027, 1, 6)))
BUILT = replace(BUILDING, last_end=date(2027, 2, 5), work=None)
PAID = replace(BUILT, money=replace(MONEY, received=Decimal("15641.39"), last_on=date(2027, 2, 12)))


@pytest.mark.parametrize(
    ("facts", "station", "text", "who"),
    [
        (ENQUIRY, "enquiry", "Measure the first wall", "estimator"),
        (replace(PRICED, priced_on=None, before_sending=4), "measured", "Clear 4 points and price", "estimator"),
        (replace(PRICED, priced_on=None, before_sending=None), "measured", "Price the job", "estimator"),
        (PRICED, "priced", "Send the quotation", "estimator"),
        (SENT, "sent", "Larkmoor Dental signs", "client"),
        (SIGNED, "signed", "Order Base 5-1/4 in", "office"),
        (BUILDING, "on_site", "End framing", "lead"),
        (BUILT, "done", "Bill the rest", "owner"),
        (PAID, "paid", "Close the job", "owner"),
    ],
)
def test_the_station_is_the_last_whose_fact_is_true_and_has_its_next_step(facts, station, text, who):
    life = life_of(facts, DAY)
    assert (life.station, life.next.text, life.next.who) == (station, text, who)


def test_the_client_signs_by_the_earliest_decide_by_of_a_custom_item():
    assert life_of(SENT, DAY).next.by == date(2026, 12, 3)
    assert life_of(replace(SENT, to_order=(replace(BASE, custom=False),)), DAY).next.by == VALID


def test_a_sent_job_says_how_often_its_page_was_opened():
    life = life_of(SENT, DAY)
    assert life.words == "Sent (opened 3 times)"
    assert "Opened 3 times, last on 2026-11-29." in life.next.why


def test_a_station_passed_over_says_what_it_lacks():
    life = life_of(replace(ORDERED, signed_on=None, money=None, revision=None), DAY)
    lacks = {passed.station: passed.lack for passed in life.passed if passed.lack}
    assert (life.station, lacks) == ("ordered", {"sent": "never sent", "signed": "not signed"})


def test_a_job_counts_as_ordered_until_an_item_is_due_within_15_days():
    # Order by 10 Dec: due within 15 days from 25 Nov on.
    facts = replace(SIGNED, placed_on=date(2026, 11, 20), ordered=11, wanted=13)
    assert life_of(facts, date(2026, 11, 24)).words == "Ordered (11 of 13)"
    assert life_of(facts, date(2026, 11, 25)).station == "signed"
    assert life_of(facts, date(2026, 11, 24)).turns_on == date(2026, 11, 25)


@pytest.mark.parametrize(
    ("facts", "day", "kind"),
    [
        (SENT, VALID, None),
        (SENT, VALID + timedelta(days=1), "expired"),
        (replace(SENT, revision=replace(OUT, standing="declined", why="Too dear")), DAY, "declined"),
        (replace(SENT, revision=replace(OUT, standing="taken_back")), DAY, "taken_back"),
        (replace(SENT, outcome=OutcomeFacts("Lost to price", "by 900", DAY, "Bram Sawtry")), DAY, "lost"),
        (replace(SIGNED, outcome=OutcomeFacts("Lost to price", "by 900", DAY, "Bram Sawtry")), DAY, None),
        (replace(PAID, closed_on=DAY), DAY, "closed"),
    ],
)
def test_the_chain_ends_when_declined_expired_taken_back_lost_or_closed(facts, day, kind):
    end = life_of(facts, day).end
    assert (end.kind if end else None) == kind


def test_a_closed_job_asks_for_nothing_and_a_lost_one_to_be_closed():
    lost = replace(SENT, outcome=OutcomeFacts("Put off", "", DAY, "Bram Sawtry"))
    assert life_of(lost, DAY).next.text == "Close the job"
    assert life_of(replace(lost, closed_on=DAY), DAY).steps == ()


def test_paid_needs_the_acceptance_the_end_of_the_work_and_a_balance_of_nought():
    whole = replace(MONEY, received=Decimal("15641.39"))
    ahead = life_of(replace(ORDERED, money=whole), DAY)
    assert (ahead.station, "paid ahead" in ahead.beside) == ("ordered", True)
    cent = replace(PAID, money=replace(whole, received=Decimal("15641.38")))
    assert life_of(cent, DAY).station == "done"


def test_what_goes_otherwise_and_what_waits_stands_beside_the_station():
    facts = replace(
        ORDERED,
        dimensions=6,
        unsigned=(1,),
        otherwise=(
            OtherwiseFacts("short", "O-0007", "Order again what came bad", DAY, "2 pieces"),
            OtherwiseFacts("wall_moved", "O-0007", "Order again what does not fit.", DAY),
            OtherwiseFacts("dearer", "O-0006", "Accept the price, or ask the mill again.", DAY),
        ),
    )
    assert set(life_of(facts, DAY).beside) == {
        "2 pieces short",
        "wall moved since ordered",
        "confirmed otherwise",
        "change note 1 unsigned",
        "6 dimensions to confirm",
    }


def test_what_is_late_stands_before_what_the_station_asks_for_from_the_day_after():
    # On Tue 1 Dec the goods of Mon 30 Nov are late; the client signs by Thu 3 Dec.
    facts = replace(SENT, coming=(ComingFacts("O-0006", "Track", DAY),))
    life = life_of(facts, DAY)
    assert (life.next.act, "late" in life.beside, life.turns_on) == ("sign", False, DAY + timedelta(days=1))
    late = life_of(facts, life.turns_on)
    assert (late.next.text, "late" in late.beside) == ("Chase Track", True)


def test_a_supplier_who_was_asked_again_is_silent_until_the_answer_is_due():
    fact = OtherwiseFacts("dearer", "O-0006", "Accept the price.", DAY + timedelta(days=2))
    facts = replace(ORDERED, otherwise=(fact,))
    assert "confirmed otherwise" not in life_of(facts, DAY).beside
    assert life_of(facts, DAY).turns_on == DAY + timedelta(days=2)
    assert "confirmed otherwise" in life_of(facts, DAY + timedelta(days=2)).beside


def test_the_next_step_of_a_signed_job_is_the_first_that_is_due():
    wait = WaitFacts("dimension", "lead", "Confirm dimensions.", 6, "reception", by=date(2026, 12, 9))
    coming = ComingFacts("O-0006", "Track", date(2026, 12, 4))
    steps = life_of(replace(SIGNED, waits=(wait,), coming=(coming,)), DAY).steps
    rows = [(step.text, step.who, step.person) for step in steps[:3]]
    assert rows == [
        ("Receive Track", "office", ""),
        ("Confirm 6 dimensions on site", "lead", "Teodor"),
        ("Order Base 5-1/4 in", "office", ""),
    ]


def test_what_is_past_its_day_is_late_and_goods_overdue_are_chased():
    life = life_of(replace(ORDERED, coming=(ComingFacts("O-0006", "Track", date(2026, 11, 27)),)), DAY)
    assert ("late" in life.beside, life.next.text) == (True, "Chase Track")


def test_items_without_a_day_to_order_are_never_silent():
    life = life_of(replace(SIGNED, to_order=(replace(BASE, order_by=None, decide_by=None),)), DAY)
    assert "Give 1 item a day to order by" in [step.text for step in life.steps]


def test_the_site_sees_nothing_of_money_suppliers_or_what_the_client_said():
    declined = replace(SENT, revision=replace(OUT, standing="declined", why="Too dear"))
    assert life_of(declined, DAY).on_site.end.why == ""
    ahead = replace(ORDERED, money=replace(MONEY, received=Decimal("15641.39")), unsigned=(1,))
    seen = life_of(ahead, DAY).on_site
    assert "paid ahead" not in seen.beside and "note" not in {step.act for step in seen.steps}


days = st.none() | st.dates(date(2026, 11, 1), date(2027, 2, 28))
items = st.builds(ItemFacts, st.just("BASE"), st.just("Base"), st.booleans(), days, days)
revisions = st.builds(
    RevisionFacts,
    st.just(1),
    st.just(QUOTED),
    st.dates(QUOTED, date(2027, 1, 31)),
    st.sampled_from(["issued", "accepted", "declined", "lapsed", "taken_back"]),
    st.just(QUOTED),
    days,
    st.integers(0, 3),
    days,
)
D0, D5 = Decimal("0.00"), Decimal("5.00")
every = st.builds(
    JobFacts,
    st.just(OPENED),
    st.just("Larkmoor Dental"),
    walls=st.integers(0, 3),
    measured_on=days,
    before_sending=st.none() | st.integers(0, 4),
    priced_on=days,
    revision=st.none() | revisions,
    signed_on=days,
    money=st.none() | st.just(MONEY),
    placed_on=days,
    to_order=st.lists(items, max_size=3).map(tuple),
    coming=st.lists(st.builds(ComingFacts, st.just("O-1"), st.just("Track"), days), max_size=2).map(tuple),
    otherwise=st.lists(
        st.builds(OtherwiseFacts, st.just("short"), st.just("O-1"), st.just("Order again"), days.filter(bool)),
        max_size=2,
    ).map(tuple),
    requests=st.lists(
        st.builds(
            RequestFacts, st.just(1), st.just("Boards up"), days.filter(bool), st.just(D5), st.sampled_from([D0, D5])
        ),
        max_size=2,
    ).map(tuple),
    to_ask=st.lists(st.builds(ToAskFacts, st.just("Boards up"), days.filter(bool)), max_size=2).map(tuple),
    begun_on=days,
    last_end=days,
    closed_on=days,
)


@given(every, st.dates(date(2026, 11, 1), date(2027, 2, 28)), st.integers(0, 60))
def test_until_the_day_it_turns_station_end_and_next_stay_as_they_are(facts, today, later):
    life = life_of(facts, today)
    day = min(today + timedelta(days=later), (life.turns_on or date.max) - timedelta(days=1))
    then = life_of(facts, max(day, today))
    assert (then.station, then.end, then.next and then.next.by) == (life.station, life.end, life.next and life.next.by)


@given(every, st.dates(date(2026, 11, 1), date(2027, 2, 28)))
def test_every_station_up_to_where_a_job_stands_has_its_day_or_what_it_lacks(facts, today):
    life = life_of(facts, today)
    assert [passed.station for passed in life.passed] == list(STATIONS[: len(life.passed)])
    assert all((passed.on is None) == bool(passed.lack) for passed in life.passed) and life.passed[-1].on is not None


@given(every)
def test_facts_come_back_from_their_document(facts):
    assert read_facts(write_facts(facts)) == facts


def test_a_job_that_was_entered_late_was_an_enquiry_when_it_was_priced():
    late = replace(SIGNED, opened_on=date(2026, 12, 5), measured_on=date(2026, 12, 5))
    days = [passed.on for passed in life_of(late, DAY).passed]
    assert days == [QUOTED, QUOTED, QUOTED, date(2026, 11, 24), date(2026, 12, 1)]


def test_what_is_due_on_signing_is_due_since_that_day():
    owed = replace(SIGNED, money=replace(MONEY, received=Decimal(0), last_on=None))
    (step,) = [entry for entry in life_of(owed, DAY).steps if entry.act == "collect"]
    assert (step.by, step.why) == (date(2026, 12, 1), "Due since signing.")


def test_what_came_short_is_ordered_again_by_its_own_day():
    short = OtherwiseFacts("short", "O-0007", "Order again what came bad", DAY, "2 pieces")
    life = life_of(replace(SIGNED, otherwise=(short,)), DAY)
    assert "2 pieces short" in life.beside and "settle" not in {step.act for step in life.steps}
    assert ("order", date(2026, 12, 10)) in {(step.act, step.by) for step in life.steps}


def test_open_requests_are_collected_by_their_days_and_take_the_place_of_what_is_due_on_signing():
    fact = RequestFacts(3, "Boards up", date(2026, 12, 14), Decimal("8864.59"), Decimal("864.59"))
    paid = replace(fact, number=2, open=Decimal(0))
    owed = replace(SIGNED, money=replace(MONEY, received=Decimal(0), last_on=None), requests=(paid, fact))
    steps = [step for step in life_of(owed, DAY).steps if step.act == "collect"]
    assert [(step.text, step.by) for step in steps] == [("Collect request 3: Boards up", date(2026, 12, 14))]
    assert {"collect", "ask"}.isdisjoint(step.act for step in life_of(owed, DAY).on_site.steps)


def test_what_happened_is_asked_for_within_a_week():
    happened = replace(SIGNED, to_ask=(ToAskFacts("Boards up", DAY),))
    (step,) = [entry for entry in life_of(happened, DAY).steps if entry.act == "ask"]
    assert (step.text, step.by) == ("Ask for the payment: Boards up", DAY + timedelta(days=7))


def test_the_rest_is_billed_until_all_of_the_contract_is_asked_for():
    built = replace(SIGNED, begun_on=DAY, last_end=DAY, money=replace(MONEY, received=Decimal(0)))
    whole = RequestFacts(1, "All", date(2026, 12, 14), MONEY.contract, MONEY.contract)
    assert "bill" in {step.act for step in life_of(built, DAY).steps}
    assert "bill" not in {step.act for step in life_of(replace(built, requests=(whole,)), DAY).steps}
