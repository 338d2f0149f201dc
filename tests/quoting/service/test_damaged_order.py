"""An order that comes damaged, day by day on the dental screen. Its base is needed on Mon 25 Jan 2027 and so ordered by
Thu 10 Dec 2026 at the latest, for the mill is shut from 21 Dec to 1 Jan and on 18 Jan (worked example): 3 weeks of
making, 3 days on the way, 3 of cushion. Of four pieces ordered on Mon 30 Nov two come good, one damaged and one wrong
on Mon 7 Dec.

Ordered again on Fri 11 Dec: 14 to 18 Dec, 4 to 8 and 11 to 15 Jan are the 15 days of making; 19, 20 and 21 Jan on the
way; 22, 25 and 26 Jan cushion. At the dock Thu 21 Jan, usable Tue 26 Jan, a working day too late."""

import re
from datetime import UTC, date, datetime
from html import unescape

import pytest
from django.urls import reverse
from icalendar import Calendar

from catalog.models import Supplier
from jobs.dates.services.order_dates_paper import request_order_dates
from jobs.deliveries.models import ReceiptLine
from jobs.deliveries.services.promises import add_promise
from jobs.deliveries.services.receiving import check_in
from jobs.deliveries.services.replacements import draft_replacement
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.orders.models import Order
from jobs.orders.services.drafting import draft_order
from jobs.orders.services.items import live_item
from jobs.orders.services.placing import place_order
from jobs.orders.services.releasing import release_item
from quoting.alerts.models import AlertMail, FeedEvent, WeeklyMail
from quoting.alerts.services.alert_mail import alert_message
from quoting.alerts.services.due_alerts import look_for_alerts
from quoting.alerts.services.feed_addresses import make_feed_address
from quoting.alerts.services.mail_preferences import set_wish
from quoting.alerts.services.weekly import weekly_message
from quoting.job_files.services.job_files import work_up_job
from quoting.platform import clock
from quoting.platform.firm_day import moment_at_the_firm
from quoting.platform.people.models import Person
from quoting.platform.people.signatures import Signature
from tests.stored import stored_job
from tests.support.desk import as_

__all__ = ["as_"]
pytestmark = pytest.mark.django_db
BASE, BY, WHY = "BASE-514-FLEX", "R. Sallow", "The client waits for it."
MON_30_NOV, MON_7, FRI_11 = date(2026, 11, 30), date(2026, 12, 7), date(2026, 12, 11)
MON_14, THU_21_JAN, MON_25_JAN = date(2026, 12, 14), date(2027, 1, 21), date(2027, 1, 25)


class Story:
    """The job and its orders on a clock that is moved from day to day."""

    def __init__(self, frozen_clock, client):
        self.clock, self.client, self.job = frozen_clock, client, None

    def on(self, day):
        self.clock.move_to(datetime(day.year, day.month, day.day, 15, tzinfo=UTC))
        self.job = self.job or stored_job("larkmoor-dental")
        keep_needs(self.job.pk, *find_needs(self.job.pk, day), clock.now())

    @property
    def times(self):
        return {"now": clock.now(), "moment": moment_at_the_firm(clock.now())}

    def place(self, order):
        mark = live_item(self.job, BASE, self.times["moment"]).statement.mark
        release_item(self.job, BASE, seen_mark=mark, reason="The owner stands for it.", by=BY, **self.times)
        order.refresh_from_db()
        seen = order.version
        return place_order(
            order, way="other", seen_version=seen, request_key="p", unsigned_reason=WHY, by=BY, **self.times
        )

    def order(self):
        chosen = [(self.job.pk, BASE)]
        return self.place(
            draft_order(Supplier.objects.get(code="HENNOCK"), chosen, request_key="1", by=BY, **self.times)
        )

    def comes(self, order, *states):
        """states: of its pieces, the first first."""
        today = self.times["moment"].date()
        pieces = [{"number": number, "state": state} for number, state in enumerate(states, start=1)]
        lines = [{"place": 1, "pieces": pieces}]
        document = {"request_key": order.number, "seen_deliveries": 0, "received_on": today.isoformat(), "lines": lines}
        return check_in(order, document, Signature(BY, today), now=clock.now())[0].lines.get()

    def again(self):
        row = ReceiptLine.objects.get()
        order, _ = draft_replacement(row, request_key="again", quantity=None, by=BY, now=clock.now())
        return self.place(order)

    def page(self, name, *args, **wanted):
        """What it says, without its marks."""
        shown = self.client.get(reverse(name, args=args), wanted).content.decode().split("<main")[1].split("</main")[0]
        return " ".join(unescape(re.sub(r"<[^>]*>", " ", shown)).split())

    @property
    def order_dates(self):
        return self.page("job_order_dates", self.job.pk)

    @property
    def on_order(self):
        return self.page("job_order_dates", self.job.pk, show="ordered")

    @property
    def paper(self):
        """What it says of the base."""
        work_up = work_up_job(self.job, self.times["moment"].date())
        paper = request_order_dates(self.job, work_up, prepared_by=BY, now=clock.now()).payload["paper"]
        return str(next(row for row in paper["rows"] if row["item"].startswith("Base, bendable")))

    @property
    def mail(self):
        person, now = Person.objects.get(), clock.now()
        set_wish(person, address="o@firm.example", alerts=False, weekly_list=True, now=now)
        mail, _ = WeeklyMail.objects.get_or_create(person=person, week=MON_7, defaults={"asked_at": now})
        return weekly_message(mail, now).body

    @property
    def feed(self):
        """What calendars hold of the base: by kind, the days it stands on."""
        secret = make_feed_address(Person.objects.get(), clock.now())[1]
        events = Calendar.from_ical(self.client.get(reverse("calendar_feed", args=[secret])).content).walk("VEVENT")
        result = {}
        for event in events:
            if event["status"] != "CANCELLED" and "Base, bendable" in f"{event['summary']} {event.get('description')}":
                result.setdefault(str(event["summary"]).split(":")[0], []).append(event.decoded("dtstart"))
        return result


@pytest.fixture
def story(frozen_clock, as_):
    message = Story(frozen_clock, as_("office"))
    message.on(MON_30_NOV)
    order = message.order()
    message.on(MON_7)
    message.comes(order, "good", "damaged", "good", "wrong")
    return message


@pytest.mark.both_engines
def test_on_the_day_it_came_two_pieces_are_to_be_ordered_by_thursday_everywhere(story):
    why = "2 of 4 pieces here or on order, 2 still to be ordered: 2 came damaged or wrong."
    for message in (story.order_dates, story.mail):
        assert why in message and "Thu 10 Dec" in message
    assert "3 Thu 10 Dec Order 2 pieces again" in story.page("today")
    order = story.page("order", ReceiptLine.objects.get().line.order_id)
    assert "2 of 4 pieces came damaged or wrong." in order and "Thu 10 Dec Order 2 pieces again" in order
    assert "in time." in order and "Claim 2 bad pieces" in order and "On site by Mon 25 Jan 2027" in order
    assert "Nothing is expected today. This week" in story.page("receiving")
    assert story.feed == {"Order": [date(2026, 12, 10)], "On site": [MON_25_JAN]}


def test_what_came_bad_was_signed_off_once_and_is_not_to_be_decided_again_anywhere(story):
    # Decide-by was Thu 3 Dec, five working days before the last day to order.
    asks = re.compile(r"Base, bendable polymer[^.:]*(signed off|: have it signed off)")
    assert "Base, bendable polymer" in story.mail and not asks.search(story.mail)
    assert "signed off" not in story.page("today")
    assert "Sign-off not needed" in story.page("order_item", story.job.pk, BASE)
    for message in (story.order_dates, story.page("order_dates"), story.paper):
        assert "Base, bendable polymer" in message and "Thu 3 Dec" not in message


def test_before_it_is_ordered_it_is_to_be_decided_everywhere(frozen_clock, as_):
    """The control."""
    message = Story(frozen_clock, as_("office"))
    message.on(MON_30_NOV)
    assert "Thu 3 Dec Have the base signed off" in message.page("today")
    for text in (message.order_dates, message.page("order_dates"), message.paper, message.mail):
        assert "Thu 3 Dec" in text
    assert message.feed["Decide"] == [date(2026, 12, 3)]
    item = message.page("order_item", message.job.pk, BASE)
    assert "Decide by Thu 3 Dec" in item and "Sign-off not yet" in item


def test_the_alert_mail_of_the_day_it_came_names_thursday_and_why(story):
    person, now = Person.objects.get(), clock.now()
    set_wish(person, address="o@firm.example", alerts=True, weekly_list=False, now=now)
    look_for_alerts(now)
    story.clock.move_on(minutes=3)  # What comes up by a change waits two minutes for others.
    look_for_alerts(clock.now())
    message = alert_message(AlertMail.objects.get(), clock.now()).body
    assert "Order the rest of base from Hennock Trim Mill: Reception screen, by Thu 10 Dec 2026" in message
    assert "2 still to be ordered: 2 came damaged or wrong." in message


def test_the_day_after_thursday_it_is_a_working_day_late_everywhere(story):
    story.on(FRI_11)
    order = story.page("order", ReceiptLine.objects.get().line.order_id)
    assert "1 late Thu 10 Dec Order 2 pieces again" in order
    assert "Ordered today it is usable Tue 26 Jan 2027, 1 working day late." in order
    assert "1 late Base, bendable polymer" in story.order_dates
    for message in (story.page("today"), story.mail):
        assert "usable Tue 26 Jan 2027, 1 working day late" in message.replace("Usable", "usable")
    assert "usable Tue 26 Jan 2027" in story.page("job_chance", story.job.pk)


@pytest.mark.both_engines
def test_once_ordered_again_it_comes_on_one_day_and_is_as_late_everywhere(story):
    story.on(FRI_11)
    again = story.again()
    story.on(MON_14)
    for message in (story.on_order, story.page("receiving"), story.mail):
        assert "Thu 21 Jan 2027" in message
    for message in (story.on_order, story.page("today"), story.mail):
        assert "1 working day too late" in message and str(again) in story.on_order + story.mail
    assert "1 item on order late" in story.order_dates
    assert story.feed == {"Delivery expected": [THU_21_JAN], "On site": [MON_25_JAN]}
    assert "Base, bendable polymer, 5-1/4 in, paint grade, usable Tue 26 Jan" in story.page("job_chance", story.job.pk)


def test_once_the_two_have_come_nobody_says_anything_of_them_any_more(story):
    story.on(FRI_11)
    again = story.again()
    story.on(THU_21_JAN)
    story.comes(again, "good", "good")
    assert "Base, bendable polymer" not in story.order_dates and "too late" not in story.on_order
    for message in (story.page("today"), story.page("receiving"), story.mail, story.page("job_chance", story.job.pk)):
        assert "too late" not in message and "to be ordered: 2" not in message and "paint grade, usable" not in message
    assert story.feed == {} and Order.objects.count() == 2


def test_before_it_comes_calendars_hold_its_delivery_and_none_of_its_order(frozen_clock, as_):
    message = Story(frozen_clock, as_("office"))
    message.on(MON_30_NOV)
    assert set(message.feed) == {"Decide", "Order", "On site"}, "the control"
    message.order()
    # 1 to 4, 7 to 11 and 14 to 18 Dec and 4 Jan are the 15 days of making; 5, 6 and 7 Jan on the way.
    assert message.feed == {"Delivery expected": [date(2027, 1, 7)], "On site": [MON_25_JAN]}


def test_a_promise_that_moves_moves_the_same_event(frozen_clock, as_):
    message = Story(frozen_clock, as_("office"))
    message.on(MON_30_NOV)
    line = message.order().lines.get()
    before = FeedEvent.objects.get(kind="delivery")
    add_promise(line, {"promised_on": "2027-01-14"}, Signature(BY, MON_30_NOV), now=clock.now())
    after = FeedEvent.objects.get(kind="delivery")
    assert (after.uid, after.sequence, after.first_day) == (before.uid, before.sequence + 1, date(2027, 1, 14))
    assert "promised" in after.note and "as quoted" in before.note
