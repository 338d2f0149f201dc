"""What is left to order, from the rows: a quantity that grew, a line ended short, units that cannot be compared. The
amounts are invented on the dental screen; what must hold is the rule that no more is ordered than is wanted."""

from copy import deepcopy
from datetime import UTC, date, datetime, timedelta

import pytest
from django.db.models import F
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.models import Supplier
from jobs.buying.services.proposals import proposal_for
from jobs.buying.services.to_order import not_ordered
from jobs.dates.services.kept_to_order import keep_to_order
from jobs.deliveries.services.comparing_orders import compared_lines
from jobs.deliveries.services.confirming_orders import enter_confirmation
from jobs.deliveries.services.ending_orders import end_line
from jobs.deliveries.services.receiving import check_in
from jobs.jobs.models import WorkedJob
from jobs.needs.models import StoredNeed
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.orders.models import Order, OrderLine
from jobs.orders.services.drafting import bring_up_to_date, draft_order
from jobs.orders.services.items import live_item
from jobs.orders.services.placing import place_order, standing_of_order
from jobs.orders.services.releasing import release_item
from jobs.orders.services.sheets import order_sheet
from quoting.alerts.services.alert_scope import to_be_ordered
from quoting.platform.people.signatures import Signature
from tests.jobs.dates.test_dates_from_rows_pages import PAGES, copies
from tests.stored import stored_job
from tests.support.desk import as_, queries_of

__all__ = ["as_"]
pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
NOW = datetime(2026, 12, 9, 15, 0, tzinfo=UTC)
MOMENT = datetime(2026, 12, 9, 10, 0, tzinfo=UTC)
TODAY = MOMENT.date()
BASE = "BASE-514-FLEX"
BY = {"by": "R. Sallow", "now": NOW}
SIGNED = Signature("R. Sallow", TODAY)


@pytest.fixture
def job(frozen_clock):
    frozen_clock.move_to(NOW)
    result = stored_job("larkmoor-dental")
    keep_needs(result.pk, *find_needs(result.pk, TODAY), NOW)
    return result


@pytest.fixture
def mill(job):
    return Supplier.objects.get(code="HENNOCK")


@pytest.fixture
def line(job, mill) -> OrderLine:
    """All of the base on a placed order."""
    mark = live_item(job, BASE, MOMENT).statement.mark
    release_item(job, BASE, seen_mark=mark, reason="The owner stands for it.", moment=MOMENT, **BY)
    return placed(drafted(job, mill, "first")).lines.get()


def drafted(job, mill, key):
    return draft_order(mill, [(job.pk, BASE)], request_key=key, moment=MOMENT, **BY)


def placed(order):
    order.refresh_from_db()
    # For what is ordered again of a job that is not signed.
    given = {"unsigned_reason": "The client waits for it.", "request_key": "p", "moment": MOMENT} | BY
    return place_order(order, way="other", seen_version=order.version, **given)


def came(line, good, **more):
    lines = [{"place": line.place, "pieces": first_good(good, **more)}]
    document = {"request_key": "d", "seen_deliveries": 0, "received_on": TODAY.isoformat(), "lines": lines}
    return check_in(line.order, document, SIGNED, now=NOW)[0].lines.get()


def first_good(good, **bad):
    states = ["good"] * int(good) + [state for state, count in bad.items() for _ in range(int(count))]
    return [{"number": number, "state": state} for number, state in enumerate(states, start=1)]


def ended_short(line, good):
    if good:
        came(line, good)
    end_line(line, {"reason": "The mill has no more of it"}, SIGNED)


def is_to_order(job):
    """On Order dates, by alerts and by proposals; they never differ."""
    by_alerts = to_be_ordered().filter(job=job, material=BASE).exists()
    supplier = Supplier.objects.get(code="HENNOCK")
    proposed = proposal_for(supplier, MOMENT)
    result = {item.item.need.material for order in proposed.orders for item in order.items}
    counted = {row.supplier for row in not_ordered()}
    assert by_alerts == (BASE in result) == ("HENNOCK" in counted)
    return by_alerts


def test_what_an_open_line_carries_is_not_ordered_again(job, mill, line):
    assert not is_to_order(job)
    with pytest.raises(Refused, match=f"is on order {line.order.number} already"):
        drafted(job, mill, "again")


def test_after_a_line_ended_short_the_rest_is_proposed_ordered_and_then_done(job, mill, line):
    whole = line.quantity
    ended_short(line, whole - 1)
    assert is_to_order(job)
    (part,) = proposal_for(mill, MOMENT).parts.values()
    assert part.left == 1 and "1 of what was ordered before will not come" in part.sentence
    rest = drafted(job, mill, "rest")
    assert rest.lines.get().quantity == 1 and rest.lines.get().statement_mark == line.statement_mark
    with pytest.raises(Refused, match="already"):
        drafted(job, mill, "and again")
    rest.note = "The longest one."
    rest.save()
    placed(rest)
    assert not is_to_order(job)


def test_a_rest_that_is_not_all_alike_says_in_the_note_which(job, mill, line):
    assert len({entry for run in line.statement["runs"] for entry in run["piece_lengths_mm"]}) > 1
    ended_short(line, line.quantity - 1)
    rest = drafted(job, mill, "rest")
    stops = standing_of_order(rest, MOMENT).stops
    assert any("Say in the note for the supplier which ones" in stop for stop in stops)
    (sheet,) = order_sheet(rest, "R. Sallow", MOMENT).lines
    assert sheet.quantity.startswith("1 ") and "the note says which" in sheet.note


def test_today_and_order_dates_say_so_much_of_so_much(as_, job, line):
    office = as_("office")
    assert all(entry.need.material != BASE for entry in office.get(reverse("order_dates")).context["lines"])
    ended_short(line, line.quantity - 1)
    text = f"{line.quantity - 1:.0f} of {line.quantity:.0f} pieces here or on order, 1 still to be ordered"
    (shown,) = [entry for entry in office.get(reverse("order_dates")).context["lines"] if entry.need.material == BASE]
    assert text in shown.part and shown.coming is None
    shown = office.get(reverse("today")).context
    assert any("rest of base" in row.todo.text and text in row.todo.why for row in (*shown["near"], *shown["soon"]))


def test_rows_and_what_is_worked_up_live_say_the_same_of_a_quantity_that_grew(as_, job, line):
    row = StoredNeed.objects.get(job=job, material=BASE)
    row.statement = deepcopy(row.statement) | {"quantity": str(int(line.quantity) + 2)}
    row.save()
    keep_to_order([job.pk])
    assert to_be_ordered().filter(pk=row.pk).exists()
    office = as_("office")
    (shown,) = [entry for entry in office.get(reverse("order_dates")).context["lines"] if entry.need.material == BASE]
    assert shown.part.endswith("2 still to be ordered: the job needs more now than was ordered.")


def test_items_ordered_in_part_ask_the_database_no_more_for_twelve_jobs_than_for_three(as_, job, line):
    office = as_("office")

    def asked(count):
        for copy in copies(job, count):
            with_part(line, copy)
        for name in PAGES:
            office.get(reverse(name))  # who looks first works up what has changed
        return {name: queries_of(office, reverse(name)) for name in PAGES}

    few = asked(2)
    assert asked(9) == few


def with_part(line, job):
    order = Order.objects.get(pk=line.order_id)
    order.pk, order.number, order.request_key = None, f"P-{job.pk}", f"part-{job.pk}"
    order.save()
    part = OrderLine.objects.get(pk=line.pk)
    part.pk, part.order, part.job, part.quantity = None, order, job, 1
    part.save()


def test_what_is_counted_in_something_else_stands_for_all_and_says_so(as_, job, line):
    OrderLine.objects.filter(pk=line.pk).update(unit="ft", quantity=1)
    assert not is_to_order(job)
    (shown,) = as_("office").get(reverse("order_dates"), {"show": "ordered"}).context["lines"]
    assert "counted in different units" in shown.coming.note


def test_a_need_that_shrank_to_what_came_of_an_ended_line_is_ordered(job, line):
    ended_short(line, line.quantity - 1)
    row = StoredNeed.objects.get(job=job, material=BASE)
    row.statement = row.statement | {"quantity": str(int(line.quantity) - 1)}
    row.save()
    keep_to_order([job.pk])
    assert not to_be_ordered().filter(pk=row.pk).exists()


def test_more_on_a_draft_than_is_left_is_not_placed_until_it_is_brought_up_to_date(job, mill, line):
    ended_short(line, line.quantity - 1)
    rest = drafted(job, mill, "rest")
    rest.lines.update(quantity=2)
    assert any("update the order" in stop for stop in standing_of_order(rest, MOMENT).stops)
    bring_up_to_date(rest, seen_version=rest.version, moment=MOMENT)
    assert rest.lines.get().quantity == 1


def test_a_confirmation_is_held_against_the_day_of_need_as_well(job, line):
    """Worked examples, part B: needed on Monday 25 January 2027 with 3 days of cushion, so at the dock on the 20th."""
    values_so_far = {
        "request_key": "c",
        "lines": [{"place": 1, "quantity": str(line.quantity), "promised_on": "2027-01-22"}],
    }
    enter_confirmation(line.order, values_so_far, SIGNED, now=NOW)
    (entry,) = compared_lines(line.order, "metric")
    (late,) = [each.sentence for each in entry.comparison.differences if each.compared == "date"]
    assert late == (
        "At the dock: needed by Wed 20 Jan 2027, quoted Tue 19 Jan 2027, Fri 22 Jan 2027 confirmed, "
        "2 calendar days too late."
    )


# Needed on Mon 25 Jan 2027; at the dock on Thu 28 Jan it may be relied on three working days later, six late.
def promised(line, day):
    assert line.need_by == date(2027, 1, 25)
    OrderLine.objects.filter(pk=line.pk).update(promised_on=day)


@pytest.mark.parametrize("rows_stand", [True, False])
def test_what_is_on_order_and_comes_too_late_counts_as_late(as_, job, line, rows_stand):
    promised(line, date(2027, 1, 28))
    if not rows_stand:
        WorkedJob.objects.update(changes=F("changes") + 1)
    desk = as_("office")
    for page in (reverse("order_dates"), reverse("job_order_dates", args=[job.pk])):
        shown = desk.get(page).content.decode()
        assert "1 item on order late" in shown
    today = desk.get(reverse("today")).content.decode()
    assert "<b>6</b><small>late</small>" in today and "comes 6 working days too late for Mon 25 Jan 2027" in today


def test_what_is_on_order_and_comes_in_time_is_not_late(as_, job, line):
    promised(line, date(2027, 1, 20))
    assert "on order late" not in as_("office").get(reverse("order_dates")).content.decode()


def test_of_a_week_the_count_of_what_is_late_on_order_agrees_with_its_rows(as_, job, line):
    promised(line, date(2027, 1, 28))
    row, desk = StoredNeed.objects.get(job=job, material=BASE), as_("office")
    monday = row.order_by - timedelta(days=row.order_by.weekday())
    for week, count in ((monday, 1), (monday + timedelta(days=7), 0)):
        shown = desk.get(reverse("order_dates"), {"show": "ordered", "week": week.isoformat()})
        assert (shown.content.decode().count("too late"), shown.context["totals"].late_on_order) == (count, count)


def test_of_another_job_than_the_one_asked_for_what_is_late_on_order_is_not_counted(as_, job, line):
    promised(line, date(2027, 1, 28))
    shown = as_("office").get(reverse("order_dates"), {"job": "J-9999"}).content.decode()
    assert "late" not in shown.split('<p class="lead" role="status">')[1].split("</p>")[0]


# The base is at 128.48 in and 133.10 in at the finished faces; the framing between them is at 132.60 in.
@pytest.mark.parametrize(("radii", "text"), [(["128.5", "133.1"], ""), (["128.5", "132.6"], "right framing face")])
def test_a_confirmed_radius_of_the_framing_is_said_to_be_that(line, radii, text):
    lines = [{"place": 1, "radii": [f"{radius} in" for radius in radii], "radius_face": "another"}]
    document = {"request_key": "k", "received_on": "2026-12-09", "lines": lines}
    enter_confirmation(line.order, document, SIGNED, now=NOW)
    (entry,) = compared_lines(line.order, "imperial")
    sentences = [each.sentence for each in entry.comparison.differences if each.compared == "radius"]
    assert bool(sentences) is bool(text) and all(f"is the radius of the {text}" in each for each in sentences)


def test_a_face_is_of_the_list_and_what_was_typed_before_stays_readable(line):
    lines = [{"place": 1, "radii": ["128.5 in", "133.1 in"], "radius_face": "its back"}]
    document = {"request_key": "k", "received_on": "2026-12-09", "lines": lines}
    with pytest.raises(DocumentError, match='"its back" is not one of left_finished'):
        enter_confirmation(line.order, document, SIGNED, now=NOW)
    document["lines"] = [lines[0] | {"radius_face": "front"}]
    row, _ = enter_confirmation(line.order, document, SIGNED, now=NOW)
    row.lines.update(radius_face="its back")
    (entry,) = compared_lines(line.order, "imperial")
    assert "its back confirmed" in " ".join(each.sentence for each in entry.comparison.differences)
