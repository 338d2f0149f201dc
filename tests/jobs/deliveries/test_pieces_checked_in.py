"""Pieces checked in one by one, on the dental screen's base: 8 ft and 4 ft at 128.48 in behind the desk, 8 ft and 5 ft
at 133.10 in on the waiting side, numbered 1 to 4. The second comes damaged and the fourth wrong."""

from datetime import UTC, datetime

import pytest
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.models import Supplier
from jobs.deliveries.models import ReceiptLine, ReceivedPiece
from jobs.deliveries.services.claims import correct_receipt, receipts_with_parts, settle_claim
from jobs.deliveries.services.receiving import check_in, state_of
from jobs.deliveries.services.replacements import draft_replacement, pieces_to_replace
from jobs.orders.models import Order, OrderLine
from jobs.orders.services.drafting import draft_order
from jobs.orders.services.items import live_item
from jobs.orders.services.placing import place_order, standing_of_order
from jobs.orders.services.releasing import release_item
from jobs.orders.services.sheets import order_sheet
from quoting.platform.people.signatures import Signature
from quoting.service.audit.order_audit import what_became_of_orders_adds_up
from tests.stored import stored_job
from tests.support.asking import reasons
from tests.support.desk import as_

__all__ = ["as_"]
pytestmark = pytest.mark.django_db
NOW, MOMENT = datetime(2026, 12, 9, 15, 0, tzinfo=UTC), datetime(2026, 12, 9, 10, 0, tzinfo=UTC)
BASE, BY = "BASE-514-FLEX", {"by": "R. Sallow", "now": NOW}
SIGNED = Signature("R. Sallow", MOMENT.date())
BAD = {1: "good", 2: "damaged", 3: "good", 4: "wrong"}


@pytest.fixture
def job(frozen_clock):
    frozen_clock.move_to(NOW)
    return stored_job("larkmoor-dental")


@pytest.fixture
def line(job):
    mark = live_item(job, BASE, MOMENT).statement.mark
    release_item(job, BASE, seen_mark=mark, reason="The owner stands for it.", moment=MOMENT, **BY)
    return placed(drafted(job, "first")).lines.get()


def drafted(job, key):
    mill = Supplier.objects.get(code="HENNOCK")
    return draft_order(mill, [(job.pk, BASE)], request_key=key, moment=MOMENT, **BY)


def placed(order):
    order.refresh_from_db()
    seen = {"seen_version": order.version, "request_key": "p", "unsigned_reason": "The base cannot wait."}
    return place_order(order, way="other", moment=MOMENT, **seen, **BY)


def document(states, key="d", seen=0):
    pieces = [{"number": number, "state": state} for number, state in states.items()]
    lines = [{"place": 1, "pieces": pieces}]
    return {"request_key": key, "seen_deliveries": seen, "received_on": MOMENT.date().isoformat(), "lines": lines}


def came(line, states, **more):
    return check_in(line.order, document(states, **more), SIGNED, now=NOW)[0].lines.get()


def feet(line):
    return [round(length / 304.8) for run in line.statement["runs"] for length in run["piece_lengths_mm"]]


def test_an_order_line_carries_each_piece_with_its_place_and_the_radius_it_follows(line):
    stated = [(run["run"], entry) for run in line.statement["runs"] for entry in run["pieces"]]
    assert [(name, entry["place"]) for name, entry in stated] == [
        ("Base, desk side", 1),
        ("Base, desk side", 2),
        ("Base, waiting side", 1),
        ("Base, waiting side", 2),
    ]
    radii = [{(curve["side"], round(curve["radius_mm"] / 25.4, 1)) for curve in entry["curves"]} for _, entry in stated]
    assert radii == [{("concave", 128.5)}] * 2 + [{("convex", 133.1)}] * 2


@pytest.mark.both_engines
def test_what_came_in_each_state_follows_from_the_pieces(line):
    row = came(line, BAD)
    assert (row.good, row.damaged, row.wrong) == (2, 1, 1)
    assert [piece.number for piece in pieces_to_replace(row)] == [2, 4]


WRONG = [
    ({5: "good"}, "5 is not a piece of this line; its pieces are 1 to 4"),
    ({1: "broken"}, "is not one of good, damaged, wrong"),
]


@pytest.mark.parametrize(("states", "message"), WRONG)
def test_a_piece_that_cannot_have_come_so_is_refused_and_nothing_kept(line, states, message):
    with pytest.raises(DocumentError, match=message):
        came(line, states)
    assert not ReceiptLine.objects.exists()


def test_of_a_line_with_pieces_no_count_is_taken_but_that_all_are_good(line):
    counted = document({}) | {"lines": [{"place": 1, "good": "2", "damaged": "2"}]}
    with pytest.raises(DocumentError, match="say of each piece that came how it came"):
        check_in(line.order, counted, SIGNED, now=NOW)
    row = check_in(line.order, counted | {"lines": [{"place": 1, "good": "4"}]}, SIGNED, now=NOW)[0].lines.get()
    assert list(row.pieces.values_list("number", "state")) == [(number, "good") for number in (1, 2, 3, 4)]


@pytest.mark.both_engines
def test_a_piece_that_is_here_does_not_come_again_and_a_delivery_sent_again_is_the_same(line):
    first = came(line, {1: "good"})
    assert came(line, {1: "good"}) == first
    with pytest.raises(DocumentError, match="piece 1 has come good already"):
        came(line, {1: "good"}, key="other", seen=1)
    with pytest.raises(DocumentError, match="request_key"):
        came(line, {2: "good"})
    assert ReceivedPiece.objects.count() == 1


def test_a_fifth_piece_of_four_is_too_much(line):
    text = document({1: "good", 2: "good", 3: "good", 4: "good"})
    text["lines"][0]["more"] = "1"
    check_in(line.order, text, SIGNED, now=NOW)
    state = state_of(OrderLine.objects.get())
    assert (state.excess, state.standing) == (1, "excess")


@pytest.mark.both_engines
def test_a_replacement_carries_just_the_bad_pieces_and_its_sheet_prints_no_other(line):
    order, _ = draft_replacement(came(line, BAD), request_key="again", quantity=None, **BY)
    assert feet(order.lines.get()) == [4, 5] and not standing_of_order(order, MOMENT).stops
    [printed] = order_sheet(placed(order), "R. Sallow", MOMENT).lines
    assert [[(row.length, row.place) for row in run.piece_rows] for run in printed.runs] == [
        [("4' 0\"", "2 from the right")],
        [("5' 0\"", "2 from the left")],
    ]


def test_one_of_two_bad_pieces_is_ordered_again_and_then_the_other(line):
    row = came(line, BAD)
    order, _ = draft_replacement(row, request_key="one", quantity=None, pieces=[4], **BY)
    assert feet(order.lines.get()) == [5]
    row = ReceiptLine.objects.get()
    with pytest.raises(Refused, match="not ordered again yet: 2"):
        draft_replacement(row, request_key="more", quantity=None, pieces=[4], **BY)
    assert feet(draft_replacement(row, request_key="other", quantity=None, **BY)[0].lines.get()) == [4]


def test_what_is_put_on_an_order_anew_is_a_line_of_the_bad_pieces(job, line):
    came(line, BAD)
    again = drafted(job, "again").lines.get()
    assert (again.replaces, again.quantity, feet(again)) == (line, 2, [4, 5])
    with pytest.raises(Refused, match="is on order"):
        drafted(job, "once more")


def test_a_piece_that_came_good_after_all_is_not_ordered_again(line):
    row = came(line, BAD)
    order, _ = draft_replacement(row, request_key="again", quantity=None, **BY)
    right = {"pieces": [{"number": n, "state": "good" if n == 4 else s} for n, s in BAD.items()], "note": "It is right"}
    correct_receipt(row, right | {"seen": [2, 1, 1]})
    message = " ".join(standing_of_order(order, MOMENT).stops)
    assert "Base, waiting side, piece 2 did not come damaged or wrong" in message


def test_bad_pieces_that_are_kept_count_as_good_and_are_not_ordered_again(line):
    row = settle_claim(came(line, BAD), {"outcome": "kept"}, SIGNED)
    row = receipts_with_parts().get(pk=row.pk)
    assert state_of(row.line).standing == "complete" and not pieces_to_replace(row)


@pytest.mark.both_engines
def test_the_lead_taps_each_piece_and_what_is_here_is_not_asked_again(as_, line):
    lead, url = as_("lead"), reverse("check_in", args=[line.order_id])
    shown = lead.get(url).content.decode()
    assert shown.count('type="radio"') == 12 and '<p class="run">Base, desk side, ' in shown
    assert "concave R 10&#x27; 8-1/2&quot;" in shown
    sent = {"request_key": "0123456789abcdef", "seen_deliveries": "0", "received_on": "2026-12-09"}
    sent |= {"line-1-piece-1": "good", "line-1-piece-2": "damaged"}
    assert [lead.post(url, sent).status_code for _ in range(2)] == [302, 302]
    assert list(ReceivedPiece.objects.values_list("number", "state")) == [(1, "good"), (2, "damaged")]
    assert lead.get(url).content.decode().count('type="radio"') == 9, "the damaged one may be sent again"
    assert "8&#x27; 0&quot;, 5&#x27; 0&quot;" in lead.get(reverse("receiving")).content.decode()


def test_the_office_corrects_a_piece_and_orders_the_bad_ones_again_by_one_button(as_, line):
    row, office = came(line, BAD), as_("office")
    page = reverse("receipt_correct", args=[row.pk])
    assert office.get(page).content.decode().count(" checked>") == 4
    pieces = {f"piece-{number}": "good" for number in (1, 2, 3)}
    office.post(page, {**pieces, "piece-4": "wrong", "note": "The film was cracked", "seen": "2 1 1"})
    row.refresh_from_db()
    assert (row.good, row.damaged, row.wrong) == (3, 0, 1)
    assert "Order 1 piece again" in office.get(reverse("receipt", args=[row.pk])).content.decode()
    office.post(reverse("receipt_replace", args=[row.pk]), {"request_key": "0123456789abcdef"})
    assert feet(Order.objects.get(state="draft").lines.get()) == [5]


def test_pieces_are_checked_in_and_ordered_again_through_the_api(office, line):
    [due] = office.get("/api/receiving").json()["orders"][0]["lines"]
    assert [(entry["number"], entry["place"], entry["state"]) for entry in due["pieces"]] == [
        (1, 1, ""), (2, 2, ""), (3, 1, ""), (4, 2, ""),
    ]  # fmt: skip
    wrong = office.post(f"/api/orders/{line.order.number}/deliveries", document({9: "good"}))
    assert (wrong.status_code, "not a piece" in reasons(wrong)["lines[0].pieces"]) == (400, True)
    receipt = office.post(f"/api/orders/{line.order.number}/deliveries", document(BAD)).json()["lines"][0]
    assert receipt["pieces"][1] == {"number": 2, "state": "damaged"}
    path = f"/api/receiving/receipts/{receipt['id']}/replacement"
    assert office.get(path).json()["pieces"] == [2, 4]
    number = office.post(path, {"request_key": "again", "pieces": [4]}).json()["order"]
    assert feet(OrderLine.objects.get(order__number=number)) == [5]


@pytest.mark.both_engines
def test_the_audit_finds_a_receipt_that_counts_other_pieces_than_it_names(line):
    row = came(line, BAD)
    assert list(what_became_of_orders_adds_up(NOW)) == []
    ReceiptLine.objects.filter(pk=row.pk).update(damaged=0)
    assert list(what_became_of_orders_adds_up(NOW)) == ["A receipt of O-0001 counts other pieces than it names."]
