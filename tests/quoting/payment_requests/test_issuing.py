"""Requests are issued from events of the accepted quote; figures of the worked example, deposit to release."""

from datetime import date, timedelta
from decimal import Decimal as D

import pytest

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import KeyUsedBefore
from quoting.client.services.acceptance_withdrawal import Notice, take_back
from quoting.core.money.request_parts import Parts
from quoting.payment_requests.models import EventMark, JobRetention, PaymentRequest, RequestTerms
from quoting.payment_requests.services.asked import asked_of
from quoting.payment_requests.services.events import mark_event, take_mark_back
from quoting.payment_requests.services.issuing import credit_request
from quoting.payment_requests.services.payments_received import enter_payment, undo_payment
from quoting.payment_requests.services.request_papers import frozen_request
from quoting.payment_requests.services.standing import requests_of
from quoting.payment_requests.services.terms import set_retention
from quoting.quotes.models import CancellationTerm
from tests.support.answered import accept, with_paper
from tests.support.asked import OWNER, ask, asked, hall, issued_note, marked, office, signed_note
from tests.support.worked import NOW, TODAY, issued, small_job

pytestmark = [pytest.mark.both_engines, pytest.mark.usefixtures("db")]
FIRST = ("deposit", "instalment 0")
ALL = (*FIRST, "instalment 1", "instalment 2", "instalment 3", "release")


@pytest.fixture(autouse=True)
def day(frozen_clock):
    frozen_clock.move_to(NOW)


def credit(row, key="credit", reason="Wrong sum"):
    return credit_request(row, {"request_key": key, "reason": reason}, office(), now=NOW)[0]


def pay(job, amount, key="bank", **more):
    document = {"request_key": key, "amount": amount, "received_on": TODAY.isoformat(), **more}
    return enter_payment(job, document, OWNER, now=NOW)[0]


def test_the_hall_is_asked_for_from_the_deposit_to_the_release_and_all_comes_to_the_contract():
    job = hall()
    rows = asked(job, *FIRST)
    signed_note(job)
    rows += asked(job, *ALL[2:])
    assert [str(row.total) for row in rows] == ["5325.90", "2263.51", "8864.59", "5059.60", "5059.60", "1398.60"]
    assert [row.number for row in rows] == [1, 2, 3, 4, 5, 6]
    request = asked_of([job.pk])[job.pk]
    assert (request.requested, request.held) == (Parts(D("25840.00"), D("2131.80")), Parts(D(0), D(0)))


def test_what_is_billed_counts_what_is_held():
    job = hall()
    asked(job, *FIRST)
    request = asked_of([job.pk])[job.pk]
    assert (request.billed, request.held) == (D("7380.00"), Parts(D("369.00"), D("30.44")))


def test_nothing_is_asked_for_before_its_event_is_marked():
    job = hall()
    with pytest.raises(Refused, match="“Framing up” has not been marked"):
        ask(job, "instalment 0")
    marked(job, "instalment 0")
    assert ask(job, "instalment 0").event_on == TODAY


def test_what_is_due_on_signing_is_marked_by_the_acceptance():
    job = small_job("J-0200")
    accept(with_paper(issued(job, request_key="other")))
    hall()
    assert ask(job, "instalment 0").what == "On acceptance"


def test_nothing_is_asked_for_before_a_quote_is_accepted_or_before_the_owner_says_how_to_pay():
    job = small_job("J-0200")
    with pytest.raises(Refused, match="No quote of"):
        ask(job, "deposit")
    job = hall()
    RequestTerms.objects.all().delete()
    with pytest.raises(Refused, match="How clients pay is not entered"):
        ask(job, "deposit")


def test_one_key_issues_once_and_never_something_else():
    job = hall()
    first = ask(job, "deposit", key="once")
    assert ask(job, "deposit", key="once") == first
    with pytest.raises(KeyUsedBefore):
        ask(job, "instalment 0", key="once")
    assert PaymentRequest.objects.count() == 1


def test_no_other_sum_is_issued_than_was_shown():
    job = hall()
    ask(job, "deposit")
    marked(job, "instalment 0")
    signed_note(job)
    with pytest.raises(Refused, match="Nothing was issued"):
        ask(job, "instalment 0", shown="2263.51")
    assert ask(job, "instalment 0").notes.get().note.number == 1


def test_an_unsigned_note_is_on_no_request():
    job = hall()
    issued_note(job)
    assert [row.notes.count() for row in asked(job, *FIRST)] == [0, 0]


def test_the_paper_states_every_sum_as_it_was_issued():
    job = hall()
    paper = frozen_request(asked(job, *FIRST)[1])
    assert [(line.what, line.price, line.tax, line.total) for line in (*paper.lines, paper.sums)] == [
        ("Framing up", "7,380.00", "608.85", "7,988.85"),
        ("Deposit credited", "-4,920.00", "-405.90", "-5,325.90"),
        ("Held back, 5 %", "-369.00", "-30.44", "-399.44"),
        ("To pay", "2,091.00", "172.51", "2,263.51"),
    ]
    assert (paper.number, paper.tax_words, paper.tax_number) == ("2", "Sales tax 8.25 %", "TX 47 1313")
    assert [row.value for row in paper.contract] == ["USD 26,629.50", "USD 7,589.41", "USD 399.44", "USD 18,640.65"]


def test_the_due_day_follows_the_terms_unless_another_is_said():
    job = hall()
    assert ask(job, "deposit").due == TODAY + timedelta(days=14)
    marked(job, "instalment 0")
    with pytest.raises(DocumentError, match="not a day to pay by"):
        ask(job, "instalment 0", due=(TODAY - timedelta(days=1)).isoformat())
    assert ask(job, "instalment 0", due="2026-12-01").due == date(2026, 12, 1)


def test_a_credit_takes_a_request_back_whole_and_its_part_and_notes_are_asked_for_anew():
    job = hall()
    ask(job, "deposit")
    signed_note(job)
    marked(job, "instalment 0")
    wrong = ask(job, "instalment 0")
    assert credit(wrong).total == -wrong.total
    again = ask(job, "instalment 0", key="again")
    assert (again.number, again.turn, again.total) == (4, 1, wrong.total)
    assert asked_of([job.pk])[job.pk].requested.total == D("5325.90") + wrong.total


def test_a_deposit_credited_elsewhere_and_a_credit_itself_are_not_credited():
    job = hall()
    deposit, first = asked(job, *FIRST)
    with pytest.raises(Refused, match="Request 2 rests on Request 1"):
        credit(deposit)
    back = credit(first)
    with pytest.raises(Refused, match="credited by Request 3 already"):
        credit(first, key="twice")
    with pytest.raises(Refused, match="is a credit"):
        credit(back, key="third")
    assert credit(deposit, key="last").total == D("-5325.90")


def test_what_holds_a_part_of_the_release_is_credited_after_it():
    job = hall()
    rows = asked(job, *ALL)
    with pytest.raises(Refused, match="Request 6 rests on Request 5"):
        credit(rows[4])


def test_an_acceptance_is_taken_back_only_once_its_requests_are_credited():
    CancellationTerm.objects.create(starts_on=TODAY, days=3, counting="calendar", source="our lawyer")
    job = hall(held="")
    revision, notice = requests_of(job).revision, Notice("Ada Client", TODAY)
    row = ask(job, "deposit")
    with pytest.raises(Refused, match="Payment request 1 is out"):
        take_back(revision, notice, now=NOW, today=TODAY)
    credit(row)
    assert take_back(revision, notice, now=NOW, today=TODAY).given_on == TODAY


def test_what_is_held_is_agreed_before_the_first_request():
    job = hall()
    row = ask(job, "deposit")
    with pytest.raises(Refused, match="agreed before the first request"):
        set_retention(job, {"share": "0.1", "event": "Later"}, OWNER, now=NOW)
    credit(row)
    set_retention(job, {"share": "0.1", "event": "Later"}, OWNER, now=NOW)
    assert JobRetention.objects.get().version == 2


def test_an_event_marked_by_mistake_is_taken_back_while_no_request_stands_on_it():
    job = hall()
    marked(job, "instalment 0")
    mark, why = EventMark.objects.get(), {"reason": "The other site"}
    row = ask(job, "instalment 0")
    with pytest.raises(Refused, match="Request 1 asks for “Framing up”"):
        take_mark_back(mark, why, OWNER, now=NOW)
    credit(row)
    take_mark_back(mark, why, OWNER, now=NOW)
    with pytest.raises(Refused, match="has not been marked"):
        ask(job, "instalment 0", key="again")


def test_an_event_is_marked_once_on_a_day_that_has_come():
    job = hall()
    tomorrow = {"request_key": "k", "part": "instalment 0", "happened_on": "2026-11-26"}
    with pytest.raises(DocumentError, match="has not come yet"):
        mark_event(job, tomorrow, OWNER, now=NOW)
    marked(job, "instalment 0")
    with pytest.raises(Refused, match="is marked by O. Owner already"):
        mark_event(job, tomorrow | {"happened_on": TODAY.isoformat()}, OWNER, now=NOW)
    with pytest.raises(DocumentError, match="waits for no event"):
        mark_event(job, {"request_key": "d", "part": "deposit"}, OWNER, now=NOW)


def test_more_than_is_asked_for_is_refused_unless_it_was_paid_ahead():
    job = hall()
    asked(job, *FIRST)  # 5,325.90 + 2,263.51
    with pytest.raises(DocumentError, match=r"7,600\.00 is more than is asked for, 7,589\.41"):
        pay(job, "7600.00")
    pay(job, "7600.00", paid_ahead=True)
    request = asked_of([job.pk])[job.pk]
    assert (request.open, request.ahead, request.requests[0].state) == (D("0.00"), D("10.59"), "paid")


def test_the_deposit_the_quote_states_may_come_without_a_request():
    job = hall()
    pay(job, "5325.90")
    assert asked_of([job.pk])[job.pk].ahead == D("5325.90")


def test_a_payment_undone_pays_nothing():
    job = hall()
    ask(job, "deposit")
    undo_payment(pay(job, "5325.90"), {"reason": "Sent back by the bank"}, OWNER, now=NOW)
    assert asked_of([job.pk])[job.pk].open == D("5325.90")
