"""Goods ordered again, on the dental screen: 8 ft and 4 ft of base at 128.48 in, 8 ft and 5 ft at 133.10 in, of which
one came damaged and one wrong. With a rise of 30.5 in for 30 the wall's radius is 168 * 168 / (8 * 30.5) + 15.25 =
130.92 in, 1.68 in less than 132.60 in, and so is each of the base."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest
from django.urls import reverse

from catalog.core.ground.refusal import Refused
from catalog.models import Supplier
from jobs.deliveries.services.claims import correct_receipt
from jobs.deliveries.services.receiving import check_in
from jobs.deliveries.services.replacements import draft_replacement
from jobs.jobs.models import Job
from jobs.orders.models import OrderLine
from jobs.orders.services.drafting import bring_up_to_date, change_draft, draft_order
from jobs.orders.services.items import live_item
from jobs.orders.services.placing import place_order, standing_of_order
from jobs.orders.services.releasing import release_item
from jobs.orders.services.sheets import order_sheet
from jobs.walls.models import WallPiece
from quoting.platform.people.signatures import Signature
from tests.stored import stored_job
from tests.support.desk import as_
from tests.support.signing import sign

__all__ = ["as_"]
pytestmark = pytest.mark.django_db
NOW, MOMENT = datetime(2026, 12, 9, 15, 0, tzinfo=UTC), datetime(2026, 12, 9, 10, 0, tzinfo=UTC)
BASE, BY = "BASE-514-FLEX", {"by": "R. Sallow", "now": NOW}
SIGNED = Signature("R. Sallow", MOMENT.date())
WHY, FOOT_MM = "The client signs on Friday.", 304.8


@pytest.fixture
def job(frozen_clock):
    frozen_clock.move_to(NOW)
    return stored_job("larkmoor-dental")


def released(job):
    mark = live_item(Job.objects.get(pk=job.pk), BASE, MOMENT).statement.mark
    release_item(job, BASE, seen_mark=mark, reason="The owner stands for it.", moment=MOMENT, **BY)


@pytest.fixture
def receipt(job):
    order = draft_order(Supplier.objects.get(code="HENNOCK"), [(job.pk, BASE)], request_key="1", moment=MOMENT, **BY)
    released(job)
    line = placed(order).lines.get()
    assert feet(line) == [8, 4, 8, 5]
    states = ("good", "damaged", "good", "wrong")
    came = {"place": 1, "pieces": [{"number": n, "state": text} for n, text in enumerate(states, start=1)]}
    document = {"request_key": "d", "seen_deliveries": 0, "received_on": MOMENT.date().isoformat(), "lines": [came]}
    row = check_in(line.order, document, SIGNED, now=NOW)[0].lines.get()
    # As deliveries stand that were checked in by count, before each piece was.
    row.pieces.all().delete()
    return row


@pytest.fixture
def again(receipt) -> OrderLine:
    return draft_replacement(receipt, request_key="again", quantity=None, **BY)[0].lines.get()


def feet(line):
    return [round(length / FOOT_MM) for run in line.statement["runs"] for length in run["piece_lengths_mm"]]


def placed(order, **more):
    order.refresh_from_db()
    given = {"unsigned_reason": WHY, "request_key": "p", "moment": MOMENT} | BY | more
    return place_order(order, way="other", seen_version=order.version, **given)


def chosen(line, *counts):
    order = line.order
    order.refresh_from_db()
    change_draft(order, seen_version=order.version, note=order.note, rush=[], pieces={line.place: counts})
    line.refresh_from_db()
    return line


def stops(line):
    return " ".join(standing_of_order(line.order, MOMENT).stops)


def with_a_rise_of(job, inches):
    WallPiece.objects.filter(wall__job=job).update(rise_mm=inches * 25.4)


def test_which_pieces_are_ordered_again_is_asked_before_they_are(again):
    assert "not all alike. Choose which 2 are ordered again" in stops(again)
    with pytest.raises(Refused):
        placed(again.order)


def test_a_replacement_states_the_chosen_pieces_and_its_sheet_prints_no_other(again):
    chosen(again, 0, 1, 0, 1)
    assert feet(again) == [4, 5] and not stops(again)
    [line] = order_sheet(placed(again.order), "R. Sallow", MOMENT).lines
    assert [len(run.piece_rows) for run in line.runs] == [1, 1] and line.quantity == "2 pieces"


def test_of_one_face_alone_no_other_radius_is_stated(again):
    chosen(again, 1, 1, 0, 0)
    [run] = again.statement["runs"]
    assert [round(entry["radius_mm"] / 25.4, 1) for entry in run["radii"]] == [128.5]


@pytest.mark.parametrize("counts", [(0, 1, 0, 0), (2, 0, 0, 0), (1, 1, 1, 0), (1, 1)])
def test_a_choice_that_cannot_be_is_refused_and_nothing_is_kept(again, counts):
    with pytest.raises(Refused, match="Line 1"):
        chosen(again, *counts)
    again.refresh_from_db()
    assert feet(again) == [8, 4, 8, 5]


def test_a_replacement_at_a_radius_the_wall_no_longer_has_is_not_placed(job, again):
    chosen(again, 1, 1, 0, 0)
    with_a_rise_of(job, 30.5)
    assert "concave was ordered at 128.48 in (3263.3 mm); the wall now has 126.80 in" in stops(again)
    with pytest.raises(Refused, match="the wall now has"):
        placed(again.order)


def test_brought_up_to_date_the_same_pieces_are_stated_as_the_wall_stands_and_released_anew(job, again):
    chosen(again, 0, 1, 0, 1)
    with_a_rise_of(job, 30.5)
    again.order.refresh_from_db()
    bring_up_to_date(again.order, seen_version=again.order.version, moment=MOMENT)
    again.refresh_from_db()
    assert len(feet(again)) == 2 and "was released as it stood before" in stops(again)
    released(job)
    assert not stops(again)


def test_a_replacement_waits_for_a_release_like_any_order(job, again):
    chosen(again, 1, 1, 0, 0)
    job.releases.update(ended_at=NOW, ended_by_name="R. Sallow", ended_reason="Looked at again.")
    assert "is not released: a named person releases it first" in stops(again)


def test_no_more_is_ordered_again_than_came_bad(receipt, again):
    chosen(again, 1, 1, 0, 0)
    correct_receipt(receipt, {"good": "3", "damaged": "1", "wrong": "0", "note": "One too many", "seen": [2, 1, 1]})
    assert "orders 2; only 1 of what came damaged or wrong is left to order again" in stops(again)


def test_the_page_of_the_draft_asks_which_pieces_and_keeps_the_answer(as_, again):
    desk, page = as_("office"), reverse("order", args=[again.order_id])
    shown = desk.get(page).content.decode()
    assert "Which 2 pieces" in shown and "concave R" in shown and "Place the order" not in shown
    boxes = {"pieces-1-0": "", "pieces-1-1": "1", "pieces-1-2": "", "pieces-1-3": "1"}
    desk.post(reverse("order_change", args=[again.order_id]), {"version": "1", "note": "", **boxes})
    assert "Place the order" in desk.get(page).content.decode()
    message = desk.post(
        reverse("order_change", args=[again.order_id]), {"version": "2", "pieces-1-0": "two"}, follow=True
    )
    assert "how many pieces is a whole number" in message.content.decode()


def test_of_an_unsigned_job_what_is_ordered_again_is_stood_for_anew(receipt, again):
    chosen(again, 0, 1, 0, 1)
    first = receipt.line.release
    with pytest.raises(Refused, match="before the job is signed"):
        placed(again.order, unsigned_reason="")
    line = placed(again.order).lines.get()
    first.refresh_from_db()
    assert (line.release.reason, first.ended_reason) == (WHY, "Ordered again.")
    assert {hold["key"].partition("/")[0] for hold in line.release.holds} >= {"quote", "dimension"}


def test_of_a_signed_job_what_is_ordered_again_goes_under_the_first_release(job, receipt, again):
    chosen(again, 0, 1, 0, 1)
    sign(job)
    line = placed(again.order, unsigned_reason="").lines.get()
    assert line.release == receipt.line.release and line.release.ended_at is None


def test_what_is_ordered_again_costs_what_the_first_did(as_, receipt, again):
    # Two of the four pieces for 615.00: 307.50.
    assert (receipt.line.amount, again.amount) == (Decimal("615.00"), Decimal("307.50"))
    office, page = as_("office"), reverse("order", args=[again.order_id])
    assert "307.50 as on O-0001" in office.get(page).content.decode()
    OrderLine.objects.update(amount=None)
    assert '<span class="gap">O-0001 has no price</span>' in office.get(page).content.decode()
