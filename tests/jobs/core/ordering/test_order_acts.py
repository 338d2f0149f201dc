"""What is to be done about an order, by when. The firm works Monday to Friday; 30 Nov 2026 is a Monday."""

from datetime import date
from decimal import Decimal

from catalog.core.ground.workdays import WorkCalendar
from jobs.core.ordering.chasing import ClaimFacts, OrderFacts
from jobs.core.ordering.deviations import Deviation
from jobs.core.ordering.order_acts import order_acts, state_words
from jobs.core.ordering.order_lines import count_in_words

FIRM, TODAY = WorkCalendar("firm"), date(2026, 11, 30)
FRI_27, FRI_4 = date(2026, 11, 27), date(2026, 12, 4)
CLAIM = ClaimFacts("16", "Base, 2 damaged", FRI_27, FRI_4, "2 damaged pieces")


def order(**more):
    return OrderFacts("O-3", "Hennock", date(2026, 10, 27), **{"confirmed_on": date(2026, 10, 28)} | more)


def short(by, late=18):
    return Deviation("O-3", "short", "short 16", "2 pieces came bad.", "", "office", FRI_27, date(2027, 1, 12), late,
                     by=by, count="2 pieces", place=1)  # fmt: skip


def acts(facts, today=TODAY):
    return [(act.words, act.by, act.in_hand) for act in order_acts(facts, today, FIRM)]


def test_of_a_damaged_delivery_the_order_whose_day_is_past_stands_before_the_claim():
    # From Fri 13 to Mon 30 Nov: eleven working days; to Fri 4 Dec four.
    test = acts(order(is_complete=True, claims=(CLAIM,), deviations=(short(date(2026, 11, 13)),)))
    assert test == [("Order 2 pieces again", date(2026, 11, 13), -11), ("Claim 2 damaged pieces", FRI_4, 4)]


def test_with_time_to_order_again_the_claim_stands_first():
    result = acts(order(is_complete=True, claims=(CLAIM,), deviations=(short(date(2026, 12, 10), 0),)))
    assert [words for words, _, _ in result] == ["Claim 2 damaged pieces", "Order 2 pieces again"]


def test_the_claim_is_there_on_the_day_the_goods_came():
    assert acts(order(is_complete=True, claims=(CLAIM,)), FRI_27) == [("Claim 2 damaged pieces", FRI_4, 5)]


def test_of_its_delivery_an_order_asks_one_thing_and_else_says_when_it_arrives():
    silent = order(confirmed_on=None, promised_on=date(2027, 1, 12))
    assert [words for words, _, _ in acts(silent)] == ["Enter the confirmation"]
    heard = order(promised_on=date(2027, 1, 12), is_promised=True, last_word_on=TODAY)
    assert acts(heard) == [("Check in what comes", date(2027, 1, 12), 31)]


def test_what_is_not_confirmed_has_one_act_before_its_day_and_after_it():
    silent = OrderFacts("O-3", "Hennock", date(2026, 11, 25))
    before, after = (order_acts(silent, day, FIRM)[0] for day in (date(2026, 11, 26), TODAY))
    assert (before.words, before.in_hand, before.says) == ("Enter the confirmation", 1, "")
    says = "Placed Wed 25 Nov 2026, not confirmed: ask Hennock for it."
    assert (after.words, after.in_hand, after.says) == (before.words, -1, says)


def test_what_has_no_day_stands_last_and_a_complete_order_asks_nothing():
    waiting = order(is_complete=True, claimed=(CLAIM,), uncredited=(("4", "2 pieces"),), claims=(CLAIM,))
    assert [in_hand for _, _, in_hand in acts(waiting)] == [4, None, None]
    assert acts(order(is_complete=True)) == []


def test_the_state_names_the_gravest_first_and_each_once():
    otherwise = [Deviation("O-3", kind, "m", "", "", "office") for kind in ("dearer", "other_radius", "wall_moved")]
    facts = order(deviations=(*otherwise, short(None)))
    result = state_words(facts, here=3, lines=4, late_workdays=2)
    assert result == ("2 pieces short", "confirmed otherwise", "wall moved", "late 2", "3 of 4 here")


def test_one_of_several_is_counted_in_the_singular():
    counted = [count_in_words(Decimal(1), unit) for unit in ("pieces", "boxes", "sticks", "ft")]
    assert counted == ["1 piece", "1 box", "1 stick", "1 ft"]


def test_what_somebody_decides_today_is_pressing_and_not_late_before_its_day_is_past():
    dearer = Deviation("O-3", "dearer", "m", "", "", "office", TODAY)
    (act,) = order_acts(order(is_complete=True, deviations=(dearer,)), TODAY, FIRM)
    assert (act.in_hand, act.is_late, act.is_pressing) == (0, False, True)
