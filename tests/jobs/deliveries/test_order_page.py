"""The page of an order: what was agreed and what is open, on the dental screen's base. Its radius at the concave face
is 128.475 in, 4.125 in less than the framing's: 168 * 168 / (8 * rise) + rise / 2, which is 130.922 in with a rise of
30.5 in and 123.409 with 33. It flexes 3 in."""

from html import unescape

import pytest
from django.urls import reverse

from jobs.orders.models import Order
from tests.jobs.deliveries.test_deviations import came_bad, confirm, with_a_rise_of
from tests.jobs.orders.test_left_to_order_pages import job, line, mill
from tests.jobs.orders.test_orders_pages import drafted, released
from tests.jobs.orders.test_orders_pages import job as job_with_needs
from tests.support.desk import as_

__all__ = ["as_", "job", "job_with_needs", "line", "mill"]
pytestmark = pytest.mark.django_db


def page(client, order_id):
    return unescape(client.get(reverse("order", args=[order_id])).content.decode())


@pytest.mark.parametrize(("rise", "now", "text"), [(30.5, "126.80", "it flexes that far"), (33, "119.28", "too far")])
def test_of_each_piece_it_says_from_what_to_what_the_wall_moved_and_whether_it_fits(as_, job, line, rise, now, text):
    with_a_rise_of(job, rise)
    shown = page(as_("office"), line.order_id)
    assert f"Wall moved: R 128.48 in to {now} in: {text}" in shown
    assert ("to change the pieces" in shown) is (text == "too far")


def test_asking_the_supplier_is_one_press_and_then_it_is_silent(as_, job, line):
    with_a_rise_of(job, 33)
    office = as_("office")
    (act,) = [entry for entry in office.get(reverse("order", args=[line.order_id])).context["acts"] if entry.do.is_post]
    assert act.do.label == f"Asked {line.order.supplier}" and act.others[0].label == "Accept"
    message = office.post(act.do.url, {"reason": ""}, follow=True).content.decode()
    assert (
        "the supplier was asked again" in message
        and "to change the pieces" not in message.split("<ol")[1].split("</ol")[0]
    )


def test_a_radius_confirmed_otherwise_stands_at_its_pieces_and_names_the_line_that_has_it(as_, line):
    confirm(line, radii=["132.60 in", "133.10 in"], radius_face="left_finished")
    shown = page(as_("office"), line.order_id)
    assert "132.60 in is the radius of the right framing face" in shown
    # Two pieces, of 8 ft and of 5 ft, follow the concave face; it is said once, in what is to be done.
    assert shown.count("R 11' 0-5/8\"</strong>") == 2 and "as ordered" in shown
    assert shown.count("128.48 in, 133.10 in ordered") == 1


def test_alike_pieces_are_one_row_and_the_bad_ones_another(as_, line):
    came_bad(line)
    lines = as_("office").get(reverse("order", args=[line.order_id])).context["event_lines"]
    rows = [(row.label, row.came) for _, rows in lines[0].runs for row in rows]
    assert sorted(came for _, came in rows) == ["damaged", "good", "good", "wrong"]


def test_what_was_changed_on_the_draft_is_saved_as_it_is_placed_and_once(as_, job_with_needs):
    desk = as_("office")
    order, _ = drafted(desk, job_with_needs)
    released(desk, job_with_needs)
    form = {"version": order.version, "request_key": "k", "way": "other", "deliver_to": "dock", "note": "Ring first"}
    for _ in range(2):
        assert desk.post(reverse("order_place", args=[order.pk]), form).status_code == 302
    order = Order.objects.get()
    assert (order.state, order.note) == ("placed", "Ring first")
    assert "is placed" in page(desk, order.pk)


def test_a_draft_says_how_much_stands_in_the_way_and_its_next_act_is_not_offered(as_, job_with_needs):
    desk = as_("office")
    order, _ = drafted(desk, job_with_needs)
    shown = page(desk, order.pk)
    assert "Before you can place it: 1" in shown and "Place the order" not in shown
    released(desk, job_with_needs)
    assert "Place it by <strong>Thu 10 Dec</strong>" in page(desk, order.pk)
