"""What becomes of a placed order. The figures are those of the worked example of the childcare's trim; working days
are counted there on the mill's calendar, shut 5 July and 19 to 30 July 2027."""

from datetime import date
from decimal import Decimal

import pytest

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from jobs.deliveries.models import Delivery, ReceiptLine
from jobs.deliveries.services.arrivals import arrivals_of
from jobs.deliveries.services.claims import claim, correct_receipt, open_claims, settle_claim, standing_words
from jobs.deliveries.services.due_deliveries import due_orders
from jobs.deliveries.services.ending_orders import call_off, end_line
from jobs.deliveries.services.promises import add_promise
from jobs.deliveries.services.receiving import check_in, state_of
from jobs.deliveries.services.replacements import check_of_receipt, draft_replacement, left_to_replace
from jobs.deliveries.services.returns import credit_return, send_back
from jobs.orders.models import Order, OrderLine
from jobs.site.services.on_site import arrival_words
from quoting.service.audit.order_audit import what_became_of_orders_adds_up
from tests.support.childcare import CAME, NOW, SIGNED, delivery_document, five_days_to_claim, trim_on_order

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


@pytest.fixture
def line(db):
    return trim_on_order()


def checked_in(line, **more):
    return check_in(line.order, delivery_document(**more), SIGNED, now=NOW)[0]


def receipt_of(line):
    checked_in(line)
    return ReceiptLine.objects.get()


def again(row, key="again", quantity=None):
    return draft_replacement(row, request_key=key, quantity=quantity, by=SIGNED.by, now=NOW)


def test_seven_good_and_two_damaged_leave_two_to_order_again_and_none_to_come(line):
    row = receipt_of(line)
    state = state_of(row.line)
    assert (state.open, state.short, state.standing) == (0, 2, "short")


def test_a_receipt_keeps_what_was_quoted_promised_and_actual(line):
    add_promise(line, {"promised_on": "2027-08-05"}, SIGNED, now=NOW)
    row = receipt_of(line)
    assert (row.quoted_workdays, row.promised_on, row.actual_workdays) == (17, date(2027, 8, 5), 17)


def test_a_delivery_sent_twice_is_kept_once(line):
    first, second = (check_in(line.order, delivery_document(), SIGNED, now=NOW) for _ in range(2))
    assert (first[0], first[1], second[1]) == (second[0], True, False)
    assert Delivery.objects.count() == ReceiptLine.objects.count() == 1


def test_without_its_key_the_same_delivery_would_count_twice(line):
    """The control of the test above: another key and it is another delivery."""
    checked_in(line)
    checked_in(line, request_key="phone-2", seen_deliveries=1)
    assert state_of(ReceiptLine.objects.first().line).good == 14


def test_one_key_for_other_figures_is_refused_and_not_swallowed(line):
    checked_in(line)
    with pytest.raises(DocumentError, match="request_key: has entered"):
        checked_in(line, lines=[{"place": 1, "good": "9"}])


def test_who_has_not_seen_the_delivery_before_is_told_of_it(line):
    checked_in(line)
    with pytest.raises(Refused, match="I. Quarrell has checked in a delivery of O-0001 since"):
        checked_in(line, request_key="another phone")


WRONG = [
    ({"received_on": "2027-08-07"}, "received_on"),
    ({"received_on": "2027-06-28"}, "received_on"),
    ({"lines": []}, "lines"),
    ({"lines": [{"place": 2, "good": "1"}]}, "lines[0].place"),
    ({"lines": [{"place": 1}]}, "lines[0].good"),
    ({"lines": [{"place": 1, "good": "-1"}]}, "lines[0].good"),
    ({"lines": [{"place": 1, "good": "1"}] * 2}, "lines"),
]


def test_what_cannot_have_come_is_refused_by_name_and_nothing_kept(line):
    for wrong, path in WRONG:
        with pytest.raises(DocumentError) as refused:
            checked_in(line, **wrong)
        assert [complaint.path for complaint in refused.value.complaints] == [path]
    assert not Delivery.objects.exists()


def test_damage_is_to_be_claimed_five_days_after_it_came(line):
    five_days_to_claim(line)
    assert receipt_of(line).claim_by == date(2027, 8, 11)
    (result,) = open_claims(CAME, line.order.supplier.to_core().calendar)
    assert result.days_left == 3


def test_without_stated_terms_the_deadline_is_a_gap(line):
    assert receipt_of(line).claim_by is None
    (result,) = open_claims(CAME, line.order.supplier.to_core().calendar)
    assert result.days_left is None


def test_more_than_was_ordered_is_an_excess_to_tell_the_supplier(line):
    five_days_to_claim(line)
    checked_in(line, lines=[{"place": 1, "good": "11"}])
    row = ReceiptLine.objects.get()
    assert (state_of(row.line).excess, row.claim_by) == (2, date(2027, 8, 11))


def test_an_excess_without_stated_terms_is_listed_until_it_is_kept_or_sent_back(line):
    checked_in(line)
    assert len(listed(line)) == 1, "what came damaged"
    checked_in(line, request_key="phone-2", seen_deliveries=1, lines=[{"place": 1, "good": "3"}])
    both = listed(line)
    assert [standing_words(entry.receipt) for entry in both][1] == (
        "1 more than ordered: decide to keep them or send them back"
    )
    send_back(line, {"request_key": "back", "quantity": "2", "reason": "Cracked"}, SIGNED, now=NOW)
    assert len(listed(line)) == 2, "the damaged went back first"
    send_back(line, {"request_key": "more", "quantity": "1", "reason": "Too many"}, SIGNED, now=NOW)
    assert [entry.receipt for entry in listed(line)] == [both[0].receipt]


def listed(line):
    return sorted(open_claims(CAME, line.order.supplier.to_core().calendar), key=lambda entry: entry.receipt.pk)


def test_an_excess_that_is_kept_is_decided(line):
    checked_in(line, lines=[{"place": 1, "good": "11"}])
    (result,) = listed(line)
    settle_claim(result.receipt, {"outcome": "kept"}, SIGNED)
    assert listed(line) == []


def test_a_claim_is_told_before_the_supplier_decides_it(line):
    row = receipt_of(line)
    with pytest.raises(Refused, match="is not claimed yet"):
        settle_claim(row, {"outcome": "replaced"}, SIGNED)
    assert claim(row, {}, SIGNED).claimed_on == CAME
    assert settle_claim(row, {"outcome": "credited", "credit": "40.00"}, SIGNED).credit == Decimal("40.00")


def test_ordered_again_on_the_day_it_is_seventeen_working_days_late(line):
    row = receipt_of(line)
    check = check_of_receipt(row, order_day=CAME)
    assert (
        check.sentence
        == "Ordered again on Fri 6 Aug 2027 it is usable Fri 3 Sep 2027, 17 working days after Wed 11 Aug 2027."
    )


def test_a_replacement_is_a_new_order_linked_to_the_line_and_made_once(line):
    row = receipt_of(line)
    (order, is_new), (same, again_new) = again(row), again(row)
    (ordered,) = order.lines.all()
    assert (order, is_new, again_new) == (same, True, False)
    assert (ordered.replaces, ordered.quantity, ordered.need_by, order.state) == (line, 2, date(2027, 8, 11), "draft")
    with pytest.raises(Refused, match="No pieces of .* are not ordered again yet"):
        again(row, key="once more")


def test_what_is_ordered_again_is_awaited_by_that_order_alone(line):
    order, _ = again(receipt_of(line))
    assert due_orders() == [], "what came damaged is not awaited of the order it came of"
    placed = {"state": "placed", "placed_at": NOW, "placed_on": CAME, "counted_from": CAME, "placed_by_name": "I. Q."}
    Order.objects.filter(pk=order.pk).update(way="other", **placed)
    assert [(entry.order, entry.lines[0].awaited) for entry in due_orders()] == [(order, 2)]


def test_a_replacement_given_up_may_be_ordered_again(line):
    row = receipt_of(line)
    order, _ = again(row)
    order.lines.update(ended_on=CAME, ended_reason="The mill cannot.")
    assert left_to_replace(type(row).objects.get(pk=row.pk)) == 2


def test_a_day_that_moves_says_why_and_each_is_a_row(line):
    add_promise(line, {"promised_on": "2027-08-06"}, SIGNED, now=NOW)
    with pytest.raises(DocumentError, match="say why it moves"):
        add_promise(line, {"promised_on": "2027-08-09"}, SIGNED, now=NOW)
    for day in ("2027-08-09", "2027-08-12", "2027-08-12"):
        add_promise(line, {"promised_on": day, "reason": "The press is down"}, SIGNED, now=NOW)
    assert [promise.promised_on.day for promise in line.promises.all()] == [6, 9, 12]


def test_no_more_goes_back_than_came(line):
    checked_in(line)
    texts = {"request_key": "back", "quantity": "2", "reason": "Cracked", "credit_expected": "40.00"}
    row, _ = send_back(line, texts, SIGNED, now=NOW)
    assert send_back(line, texts, SIGNED, now=NOW) == (row, False)
    assert credit_return(row, {"credited": "35.00"}, SIGNED).credited == Decimal("35.00")
    with pytest.raises(DocumentError, match="quantity: 8 cannot go back"):
        send_back(line, texts | {"request_key": "more", "quantity": "8"}, SIGNED, now=NOW)


def test_what_was_typed_wrong_is_corrected_by_whoever_saw_it(line):
    row = receipt_of(line)
    right = {"good": "9", "note": "None is cracked: the film was"}
    with pytest.raises(Refused, match="7 good, 2 damaged, 0 wrong"):
        correct_receipt(row, right | {"seen": [9, 0, 0]})
    correct_receipt(row, right | {"seen": [7, 2, 0]})
    assert state_of(ReceiptLine.objects.get().line).standing == "complete"


def test_the_rest_of_a_line_is_given_up_with_a_reason(line):
    checked_in(line)
    end_line(line, {"reason": "Seven are enough"}, SIGNED)
    line.refresh_from_db()
    assert (state_of(line).open, state_of(line).standing) == (0, "ended")


def test_a_supplier_calls_an_order_off_and_what_came_stays(line):
    checked_in(line)
    order = call_off(line.order, {"by": "supplier", "reason": "The profile is given up"}, SIGNED, now=NOW)
    assert (order.state, order.lines.get().ended_reason) == (
        "placed",
        "The supplier called it off: The profile is given up",
    )


def test_an_order_of_which_nothing_came_is_called_off_whole(line):
    order = call_off(line.order, {"by": "supplier", "reason": "Cannot be made"}, SIGNED, now=NOW)
    assert (order.state, order.called_off_by_name) == ("called_off", "I. Quarrell")


def test_an_order_that_was_never_placed_receives_nothing(line):
    Order.objects.filter(pk=line.order_id).update(
        state="draft", placed_at=None, placed_on=None, placed_by_name="", way=""
    )
    with pytest.raises(Refused, match="not placed yet"):
        checked_in(line)


def test_the_audit_finds_receipts_promises_and_replacements_that_do_not_add_up(line, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    order, _ = again(receipt_of(line))
    add_promise(line, {"promised_on": "2027-08-06"}, SIGNED, now=NOW)
    assert list(what_became_of_orders_adds_up(NOW)) == []
    OrderLine.objects.filter(pk=line.pk).update(promised_on="2027-08-09")
    order.lines.update(material="GB-14")
    Delivery.objects.update(received_on="2027-06-01")
    sentences = list(what_became_of_orders_adds_up(NOW))
    assert (
        len(sentences) == 3
        and "before it was placed" in sentences[0]
        and "replaces another item of O-0001" in sentences[2]
    )
    assert "the last promise says Fri 6 Aug 2027" in sentences[1]


def test_what_came_and_what_went_back_is_known_to_the_site(line):
    receipt_of(line)
    send_back(
        line, {"request_key": "back", "quantity": "2", "sent_on": "2027-08-06", "reason": "Cracked"}, SIGNED, now=NOW
    )
    came = arrivals_of(line.job)
    assert [(arrival.material, arrival.on, arrival.count, arrival.spoilt) for arrival in came] == [
        (line.material_id, CAME, 7, 2),
        (line.material_id, CAME, -2, 0),
    ]
    assert (
        arrival_words(came) == "Fri 6 Aug 2027: 7 pieces good, 2 damaged or wrong; Fri 6 Aug 2027: 2 pieces sent back"
    )
