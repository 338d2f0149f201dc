"""More than a job wants is ordered on purpose, with the reason. The dental screen wants some sheets of quarter-inch
board; two more are ordered for breakage."""

from decimal import Decimal

import pytest
from django.urls import reverse

from catalog.core.ground.refusal import Refused
from catalog.models import Supplier
from jobs.core.ordering.order_lines import OrderStatement, StatedPack, StatedRun, part_of
from jobs.deliveries.services.receiving import check_in, surplus_of
from jobs.orders.services.drafting import More, bring_up_to_date, draft_order, order_more
from jobs.orders.services.items import live_item
from jobs.orders.services.placing import place_order, standing_of_order
from quoting.platform.people.signatures import Signature
from tests.stored import stored_job
from tests.support.desk import DAY, as_

pytestmark = pytest.mark.django_db
__all__ = ["as_"]
BOARD, BY = "GB-14", {"by": "I. Quarrell", "now": DAY}
SPARE = More(Decimal(2), "Two break in the stairwell every time.")


@pytest.fixture
def job(frozen_clock):
    frozen_clock.move_to(DAY)
    return stored_job("larkmoor-dental")


@pytest.fixture
def wanted(job):
    return live_item(job, BOARD, DAY).statement.quantity


def drafted(job, key="o", **more):
    yard = Supplier.objects.get(code="TOLLARD")
    return draft_order(yard, [(job.pk, BOARD)], request_key=key, moment=DAY, **BY, **more)


def placed(order):
    order.refresh_from_db()
    texts = {"request_key": "p", "unsigned_reason": "Agreed by telephone."}
    return place_order(order, way="other", seen_version=order.version, moment=DAY, **texts, **BY)


def with_more(order, more=SPARE):
    return order_more(order, 1, more, seen_version=order.version, moment=DAY)


@pytest.mark.both_engines
def test_two_more_are_on_the_line_with_their_price_and_their_reason(job, wanted):
    order = drafted(job)
    each = order.lines.get().unit_price
    line = with_more(order).lines.get()
    assert (line.quantity, line.extra, line.extra_reason) == (wanted + 2, 2, SPARE.reason)
    assert line.amount == each * (wanted + 2)
    assert placed(order).lines.get().quantity == wanted + 2


def test_more_without_a_reason_or_in_parts_of_a_sheet_is_refused(job):
    order = drafted(job)
    for more, words in ((More(Decimal(2), " "), "say why"), (More(Decimal("0.5"), "x"), "ordered whole")):
        with pytest.raises(Refused, match=words):
            with_more(order, more)
    assert order.lines.get().extra == 0


def test_bringing_up_to_date_keeps_what_is_more_and_none_takes_it_away(job, wanted):
    order = with_more(drafted(job))
    order = bring_up_to_date(order, seen_version=order.version, moment=DAY)
    assert order.lines.get().quantity == wanted + 2 and not standing_of_order(order, DAY).stops
    assert with_more(order, None).lines.get().quantity == wanted


def test_what_is_all_on_order_is_ordered_again_only_on_purpose(job):
    placed(drafted(job))
    with pytest.raises(Refused, match="is on order"):
        drafted(job, "again")
    order = drafted(job, "more", more={(job.pk, BOARD): SPARE})
    assert order.lines.get().quantity == order.lines.get().extra == 2 and not standing_of_order(order, DAY).stops


@pytest.mark.both_engines
def test_what_came_beyond_the_need_is_said_as_surplus(job, wanted):
    order = placed(with_more(drafted(job)))
    line = order.lines.get()
    for nth, (good, surplus) in enumerate(((wanted, 0), (1, 1), (1, 2))):
        came = {"request_key": f"d{nth}", "received_on": "2026-11-25", "seen_deliveries": nth}
        check_in(order, came | {"lines": [{"place": 1, "good": str(good)}]}, Signature("L. Abara", DAY.date()), now=DAY)
        line.refresh_from_db()
        assert surplus_of(line) == surplus


def test_a_line_of_more_states_more_where_all_is_alike_and_nothing_else_where_not():
    boards = OrderStatement("GB", "Board", Decimal(4), "sheets", (StatedPack("sheet", 4),))
    assert part_of(boards, Decimal(6)).packs == (StatedPack("sheet", 6),)
    both = OrderStatement("GB", "Board", Decimal(5), "sheets", (StatedPack("8 ft", 4), StatedPack("10 ft", 1)))
    assert part_of(both, Decimal(6)) is None
    run = StatedRun("W", "Base", "P", "5 in", "paint", "base", "true arc", (), (900.0, 900.0), 0, None, (), ())
    pieces = OrderStatement("B", "Base", Decimal(2), "pieces", (), (run,))
    assert part_of(pieces, Decimal(3)).piece_lengths_mm == (900.0, 900.0, 900.0)


def test_the_page_of_a_draft_takes_more_and_says_so(as_, job, wanted):
    order, client = drafted(job), as_("office")
    sent = {"version": order.version, "more": "1", "extra-1": "2", "reason-1": ""}
    url = reverse("order_change", args=[order.pk])
    assert "say why more is ordered" in client.post(url, sent, follow=True).content.decode()
    page = client.post(url, sent | {"reason-1": SPARE.reason}, follow=True).content.decode()
    assert f"2 more than the job needs: {SPARE.reason}" in page and order.lines.get().quantity == wanted + 2


def test_the_api_orders_more_with_the_reason(office, dental):
    item = {"job": dental.key, "material": BOARD, "extra": "2", "reason": SPARE.reason}
    new = {"request_key": "k", "supplier": "TOLLARD", "items": [item]}
    made = office("POST", "/api/orders", new)
    assert made.status_code == 201, made.content
    assert [(entry["extra"], entry["extra_reason"]) for entry in made.json()["lines"]] == [("2", SPARE.reason)]
    none = {"more": [{"place": 1}]}
    changed = office("PATCH", f"/api/orders/{made.json()['number']}", none, If_Match=made["ETag"])
    assert [entry["extra"] for entry in changed.json()["lines"]] == ["0"]
