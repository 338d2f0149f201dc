"""Orders from the draft to the supplier's mailbox, on the dental screen. Days are those of its worked example, counted
by hand on the mill's calendar: 15 working days of production and 3 in transit from Wednesday 9 December 2026."""

import io
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
from django.core import mail as post
from pypdf import PdfReader

from catalog.core.ground.refusal import Refused
from catalog.models import OrderTerms, Supplier
from jobs.buying.services.proposals import proposal_for
from jobs.deliveries.services.dock_days import dock_days
from jobs.jobs.models import Job
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.orders.models import Order, OrderMail, Release
from jobs.orders.services.drafting import bring_up_to_date, draft_order, take_off_line, throw_away
from jobs.orders.services.items import live_item
from jobs.orders.services.mailing import begin_mail
from jobs.orders.services.placing import place_order, standing_of_order
from jobs.orders.services.releasing import agree_sample, ask_for_sample, end_release, release_item, standing_of_item
from jobs.orders.services.sheets import request_sheet
from jobs.whole_jobs.services.job_store import store_job
from quoting.platform import clock
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import run_errand
from quoting.platform.mail_once import take_back_beginning
from quoting.platform.people.signatures import Signature
from tests.stored import stored_job
from tests.support.signing import sign

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
NOW = datetime(2026, 12, 9, 15, 0, tzinfo=UTC)
MOMENT = datetime(2026, 12, 9, 10, 0, tzinfo=UTC)
BASE = "BASE-514-FLEX"
BY = {"by": "R. Sallow", "now": NOW}
REASON = "The mill shuts on the 21st; the owner stands for the radius."


@pytest.fixture
def job(db):
    with clock.use(clock.FrozenClock(NOW + timedelta(minutes=1))):
        yield stored_job("larkmoor-dental")


@pytest.fixture
def mill(job):
    return Supplier.objects.get(code="HENNOCK")


def drafted(job, mill, key="once", materials=(BASE,)):
    return draft_order(mill, [(job.pk, material) for material in materials], request_key=key, moment=MOMENT, **BY)


def standing(job):
    # Anew from the database, as each request has it.
    return standing_of_item(live_item(Job.objects.get(pk=job.pk), BASE, MOMENT), MOMENT)


def released(job, reason=REASON, material=BASE):
    mark = live_item(Job.objects.get(pk=job.pk), material, MOMENT).statement.mark
    return release_item(job, material, seen_mark=mark, reason=reason, moment=MOMENT, **BY)


def placed(order, way="other", key="p", **more):
    order.refresh_from_db()
    return place_order(order, way=way, seen_version=order.version, request_key=key, moment=MOMENT, **BY, **more)


def test_asked_twice_it_is_one_order_and_an_item_stands_on_one_order_only(job, mill):
    order = drafted(job, mill)
    assert drafted(job, mill) == order and order.lines.get().unit == "pieces"
    with pytest.raises(Refused, match=f"is on order {order.number} already"):
        drafted(job, mill, "again")
    throw_away(order, reason="", **BY)
    assert drafted(job, mill, "third").number != order.number


def test_what_is_not_had_from_the_supplier_is_refused(job, mill):
    with pytest.raises(Refused, match="not bought from"):
        drafted(job, mill, materials=["TRACK-358"])
    assert not Order.objects.exists()


def test_a_release_past_holds_says_why_and_keeps_what_it_set_aside(job):
    with pytest.raises(Refused, match="No quote of this job is accepted") as refused:
        released(job, reason=" ")
    assert "Write the reason" in str(refused.value) and not Release.objects.exists()
    row = released(job)
    assert row.past_holds and row.reason == REASON and {"quote"} <= {hold["key"] for hold in row.holds}
    assert released(job) == row


def test_what_is_stated_otherwise_since_is_not_released_any_more(job, mill):
    order, row = drafted(job, mill), released(job)
    job.walls.get().trims.filter(material_id=BASE).update(grade="stain")
    result = standing(job)
    assert result.is_stale and result.release is None
    with pytest.raises(Refused, match="update the order"):
        placed(order)
    bring_up_to_date(order, seen_version=order.version, moment=MOMENT)
    with pytest.raises(Refused, match="released as it stood before"):
        placed(order)
    released(job)
    row.refresh_from_db()
    assert row.ended_at is not None and placed(order).state == "placed"


def test_an_order_is_placed_with_what_was_quoted_on_that_day(job, mill):
    order = drafted(job, mill)
    with pytest.raises(Refused, match="is not released"):
        placed(order)
    release = released(job)
    order = placed(order)
    line = order.lines.get()
    # Production 10 Dec to 18 Dec and 4 to 13 Jan, transit 14, 15, 19 (the 18th is a closed day).
    assert (line.quoted_workdays, line.quoted_dock_on) == (18, date(2027, 1, 19))
    assert (line.order_by, line.need_by, line.release) == (date(2026, 12, 10), date(2027, 1, 25), release)
    assert (order.placed_on, order.counted_from) == (date(2026, 12, 9), date(2026, 12, 9))
    with pytest.raises(Refused, match="not changed any more"):
        take_off_line(order, line.place, seen_version=order.version)
    with pytest.raises(Refused, match="ordered already"):
        end_release(job, BASE, reason="Too soon.", **BY)


def test_after_the_cut_off_hour_it_counts_as_ordered_the_next_day(job, mill):
    Supplier.objects.filter(pk=mill.pk).update(order_cut_off="09:30")
    order = drafted(job, mill)
    released(job)
    assert placed(order).counted_from == date(2026, 12, 10)


def test_a_sample_that_is_asked_for_holds_until_somebody_agreed(job):
    sign = Signature("R. Sallow", MOMENT.date())
    row = ask_for_sample(job, BASE, "Base, paint grade", sign, NOW)
    assert ask_for_sample(job, BASE, "Base,  paint grade", sign, NOW) == row
    assert "sample" in {hold.key for hold in standing(job).holds}
    agree_sample(row, "Ada Client", sign)
    assert "sample" not in {hold.key for hold in standing(job).holds}


def test_a_rush_nobody_stated_is_no_day_and_no_fee(job, mill):
    order = drafted(job, mill)
    order.lines.update(rush=True)
    result = standing_of_order(order, MOMENT)
    assert any("no rush is stated" in stop for stop in result.stops) and result.sums.rush_fee is None


def test_a_rushed_line_is_usable_after_the_cushion_of_a_rush(job, mill):
    numbers = {"rush_production_workdays": 8, "rush_transit_workdays": 1, "rush_cushion_workdays": 0}
    OrderTerms.objects.create(supplier=mill, source="telephone", stated_on=NOW.date(), **numbers)
    order = drafted(job, mill)
    order.lines.update(rush=True)
    [line] = standing_of_order(order, MOMENT).lines
    # Eight of the mill's days after Wed 9 Dec end on Mon 4 Jan 2027, and it is in transit on the 5th.
    assert (line.arrives.dock, line.arrives.usable) == (date(2027, 1, 5), date(2027, 1, 5))


def test_track_is_proposed_by_the_day_it_is_in_time_and_asked_for_by_its_cushion_before_it_is_needed(job):
    # Worked examples, part B: needed on Mon 4 Jan 2027 with a day of cushion, ordered by Thu 10 Dec.
    keep_needs(job.pk, *find_needs(job.pk, MOMENT.date()), NOW)
    yard = Supplier.objects.get(code="TOLLARD")
    assert proposal_for(yard, MOMENT).orders[0].bundle.day == date(2026, 12, 10)
    order = drafted(job, yard, materials=["TRACK-358"])
    paper = request_sheet(order, "R. Sallow", NOW, MOMENT).payload["paper"]
    assert paper["lines"][0]["dock_by"] == "Thu 31 Dec 2026"
    assert dock_days(order.lines.all()) == {order.lines.get().pk: date(2026, 12, 31)}


def test_stock_of_a_signed_job_needs_no_release_but_its_figures(job):
    sign(job)
    yard = Supplier.objects.get(code="TOLLARD")
    order = drafted(job, yard, materials=["TRACK-358", "GB-14"])
    assert placed(order).lines.count() == 2


def test_by_mail_the_sheet_goes_with_it_once_however_often_it_is_asked(job, mill):
    order = drafted(job, mill)
    released(job)
    order.refresh_from_db()
    wanted = {"way": "mail", "seen_version": order.version, "to_address": "orders@mill.example", "moment": MOMENT}
    place_order(order, request_key="p", **wanted, **BY)
    place_order(order, request_key="p", **wanted, **BY)
    assert OrderMail.objects.count() == 1 and not Errand.objects.filter(kind="mail_order").exists()
    sheet = Errand.objects.get(kind="render_order_sheet")
    assert run_errand(sheet.pk, "w") == "done"
    sending = Errand.objects.get(kind="mail_order")
    assert [run_errand(sending.pk, "w"), run_errand(sending.pk, "w")] == ["done", "not ours"]
    [message] = post.outbox
    name, pdf, _ = message.attachments[0]
    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)
    assert name == f"order-{order.number}.pdf" and message.to == ["orders@mill.example"]
    # The radii at the back of the trim are those of the finished faces: 133.10 in and 128.475 in.
    assert "133.10 in" in text and "128.48 in" in text and "finished face" in text
    assert OrderMail.objects.get().sent_at is not None


def test_a_mail_that_was_begun_is_not_sent_a_second_time(job, mill):
    order = drafted(job, mill)
    released(job)
    row = placed(order, way="mail", to_address="orders@mill.example").mails.get()
    begin_mail(row.pk, NOW)
    with pytest.raises(Refused, match="may not have left"):
        begin_mail(row.pk, NOW)
    take_back_beginning(row)
    assert begin_mail(row.pk, NOW).began_at == NOW


def test_the_items_of_two_jobs_go_on_one_order_with_its_freight(job, mill):
    OrderTerms.objects.create(supplier=mill, freight=40, source="telephone", stated_on=NOW.date())
    other = Job.objects.get(pk=job.pk).to_core()
    again = store_job(replace(other, key="J-0099", title="The screen once more"), now=NOW)
    for entry in (job, again):
        keep_needs(entry.pk, *find_needs(entry.pk, MOMENT.date()), NOW)
    proposal = proposal_for(mill, MOMENT)
    [order] = proposal.orders
    assert {item.item.job.pk for item in order.items} == {job.pk, again.pk} and proposal.saved_orders == 1
    assert (order.bundle.day, str(order.bundle.freight)) == (date(2026, 12, 10), "40.00")


def test_a_wrong_address_places_nothing(job, mill):
    order = drafted(job, mill)
    released(job)
    with pytest.raises(Refused, match="not a mail address"):
        placed(order, way="mail", to_address="the mill")
    order.refresh_from_db()
    assert order.state == "draft" and not Errand.objects.filter(kind="render_order_sheet").exists()


def test_the_sheet_of_a_draft_says_so_and_names_what_is_missing(job, mill):
    job.walls.get().trims.filter(material_id=BASE).update(application="")
    order = drafted(job, mill)
    paper = request_sheet(order, "R. Sallow", NOW, MOMENT).payload["paper"]
    assert paper["is_draft"] and any("application" in message for message in paper["lines"][0]["missing"])
