"""Payment requests of the worked example: 24,600.00 + 2,029.50, deposit 20 % of the total, 30/30/20/20, held 5 %."""

from decimal import Decimal as D
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.core.money.request_parts import Agreed, Parts, RequestError, Retention, instalment_parts, sum_of
from quoting.core.money.requests import DEPOSIT, NOTES, RELEASE, Request, SignedNote, instalment_part, next_request
from quoting.core.prices.payments import Instalment

HELD = Retention(D("0.05"))
SHARES = ("0.30", "0.30", "0.20", "0.20")
INSTALMENTS = tuple(Instalment(f"event {place}", D(share)) for place, share in enumerate(SHARES))
HALL = Agreed(Parts(D("24600.00"), D("2029.50")), INSTALMENTS, D("5325.90"), HELD)
NOTE = SignedNote(1, Parts(D("1240.00"), D("102.30")))
PARTS = (DEPOSIT, *(instalment_part(place) for place in range(4)), RELEASE)


def asked_one_by_one(agreed, parts=PARTS, signed_before=None):
    """signed_before: the part before which a note is signed."""
    requests = []
    for part in parts:
        signed = [note for note, at in (signed_before or {}).items() if parts.index(part) >= parts.index(at)]
        requests.append(next_request(agreed, part, requests, signed))
    return requests


@pytest.fixture(scope="module")
def hall():
    return asked_one_by_one(HALL, signed_before={NOTE: instalment_part(1)})


def test_the_deposit_has_its_part_of_price_and_of_tax(hall):
    assert hall[0].to_pay == Parts(D("4920.00"), D("405.90"))


def test_the_first_request_credits_the_deposit_and_holds_five_per_cent_before_it(hall):
    first = hall[1]
    assert (first.asked, first.held) == (Parts(D("7380.00"), D("608.85")), Parts(D("369.00"), D("30.44")))
    assert (first.credited.total, first.to_pay.total) == (D("5325.90"), D("2263.51"))


def test_a_signed_note_goes_whole_on_the_next_request(hall):
    second = hall[2]
    assert (second.notes, second.asked + second.noted) == ((1,), Parts(D("8620.00"), D("711.15")))
    assert (second.held.total, second.to_pay.total) == (D("466.56"), D("8864.59"))
    assert [entry.notes for entry in hall if entry is not second] == [()] * 5


def test_the_last_two_hold_a_half_cent_of_tax_up(hall):
    # 5 % of 405.90 is 20.295, half up 20.30.
    assert [entry.to_pay.total for entry in hall[3:5]] == [D("5059.60"), D("5059.60")]
    assert hall[3].held == Parts(D("246.00"), D("20.30"))


def test_what_was_held_is_released_and_all_requests_come_to_the_contract_with_its_tax(hall):
    assert hall[5].to_pay == Parts(D("1292.00"), D("106.60"))
    assert sum_of(entry.to_pay for entry in hall) == Parts(D("25840.00"), D("2131.80"))
    assert sum(entry.to_pay.total for entry in hall) == D("27971.80")


def test_tax_at_once_holds_of_the_price_alone():
    agreed = Agreed(HALL.accepted, INSTALMENTS, HALL.deposit, Retention(D("0.05"), holds_tax=False))
    assert asked_one_by_one(agreed, PARTS[:2])[1].held == Parts(D("369.00"), D("0.00"))


def test_a_note_signed_after_the_last_instalment_is_asked_for_alone_or_goes_with_what_is_released():
    result = asked_one_by_one(HALL, PARTS[:5])
    alone = next_request(HALL, NOTES, result, [NOTE])
    assert alone.to_pay.total == D("1342.30") - D("67.12")  # held 62.00 + 5.115
    late = next_request(HALL, RELEASE, result, [NOTE])
    assert (late.noted, late.held) == (NOTE.parts, Parts())


def test_a_deposit_nobody_asked_for_is_credited_nowhere():
    assert asked_one_by_one(HALL, PARTS[1:2])[0].to_pay.total == D("7589.41")


@pytest.mark.parametrize(
    ("part", "before", "text"),
    [
        ("instalment 0", PARTS[:2], "on a request already"),
        (DEPOSIT, PARTS[1:2], "before anything else"),
        (RELEASE, PARTS[:4], "ask for that first"),
        (NOTES, PARTS[:5], "nothing to ask for"),
        ("instalment 4", PARTS[:2], "there is no number 5"),
        ("the moon", (), "nothing that can be asked for"),
        ("instalment -1", (), "nothing that can be asked for"),
        ("instalment two", (), "nothing that can be asked for"),
        ("instalment ١", (), "nothing that can be asked for"),
    ],
)
def test_what_cannot_be_asked_for_says_why(part, before, text):
    with pytest.raises(RequestError, match=text):
        next_request(HALL, part, asked_one_by_one(HALL, before), ())


def test_nothing_held_is_nothing_to_release_and_no_deposit_is_none_to_ask_for():
    agreed = Agreed(HALL.accepted, INSTALMENTS)
    with pytest.raises(RequestError, match="Nothing is held"):
        next_request(agreed, RELEASE, asked_one_by_one(agreed, PARTS[1:5]), ())
    with pytest.raises(RequestError, match="No deposit"):
        next_request(agreed, DEPOSIT, (), ())


cents = st.integers(0, 10_000_000).map(lambda whole: D(whole) / 100)
weights = st.lists(st.integers(1, 50), min_size=1, max_size=6)


@st.composite
def contracts(draw):
    """A contract, the order its parts are asked for in, and its notes with the step each is signed before."""
    price, tax, counts = draw(cents), draw(cents), draw(weights)
    deposit = ((price + tax) * draw(st.integers(0, 10)) / 10).quantize(D("0.01"))
    shares = st.sampled_from([D("0.05"), D("0.1"), Fraction(1, 3)])
    retention = draw(st.none() | st.builds(Retention, shares, st.booleans()))
    steps = st.tuples(st.integers(0, 8), st.integers(-50_000, 50_000), st.integers(-5_000, 5_000))
    notes = [(at, SignedNote(n, Parts(D(price) / 100, D(tax) / 100))) for n, (at, price, tax) in draw(numbered(steps))]
    agreed = Agreed(Parts(price, tax), by_weight(counts), min(deposit, price + tax), retention)
    return agreed, draw(st.permutations(range(len(counts)))), notes


def numbered(steps):
    return st.lists(steps, max_size=4).map(lambda result: list(enumerate(result)))


def by_weight(counts):
    return tuple(Instalment("at its event", Fraction(count, sum(counts))) for count in counts)


def is_held(result):
    return sum_of(entry.held for entry in result if RELEASE not in {each.part for each in result}) != Parts()


@given(contracts())
def test_all_requests_come_to_the_contract_with_its_tax_whatever_the_order(drawn):
    agreed, order, notes = drawn
    requests: list[Request] = []
    parts = [*([DEPOSIT] if agreed.deposit else []), *(instalment_part(place) for place in order)]
    for step, part in enumerate(parts):
        requests.append(next_request(agreed, part, requests, [note for at, note in notes if at <= step]))
    if is_held(requests):
        requests.append(next_request(agreed, RELEASE, requests, [note for at, note in notes if at <= len(parts)]))
    if len({number for request in requests for number in request.notes}) < len(notes):
        requests.append(next_request(agreed, NOTES, requests, [note for _, note in notes]))
    if is_held(requests):
        requests.append(next_request(agreed, RELEASE, requests, [note for _, note in notes]))
    assert sum_of(request.to_pay for request in requests) == agreed.accepted + sum_of(note.parts for _, note in notes)
    assert sorted(number for request in requests for number in request.notes) == list(range(len(notes)))


@given(cents, cents, weights)
def test_price_and_tax_parts_of_instalments_come_to_price_and_tax(price, tax, counts):
    agreed = Agreed(Parts(price, tax), by_weight(counts))
    assert sum_of(instalment_parts(agreed)) == Parts(price, tax)
