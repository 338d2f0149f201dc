"""Calendar feeds as the icalendar library reads them: what moves is the same event, what goes is told."""

import re
from datetime import date, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.urls import reverse
from icalendar import Calendar

from catalog.models import LeadTerm, Supplier
from jobs.jobs.models import Job
from jobs.jobs.services.open_jobs import close_job
from jobs.needs.models import StoredNeed
from jobs.needs.services.date_recalculation import recompute_dates
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.schedule.models import JobClosure
from quoting.alerts.models import FeedAddress, FeedEvent
from quoting.alerts.pages import feeds
from quoting.alerts.services.feed_addresses import make_feed_address
from quoting.alerts.services.feed_events import cancel_orphans, keep_items
from quoting.platform.people.models import Person
from tests.quoting.alerts import feed_days
from tests.quoting.alerts.feed_days import FeedDays
from tests.support.alerted import ORDER_BY, need
from tests.support.answered import accept, with_paper
from tests.support.worked import issued

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


@pytest.fixture(autouse=True)
def unhurried():
    for limit in (feeds.LOOKS, feeds.WRONG_SECRETS):
        limit.forget()


@pytest.fixture
def refreshed(job, frozen_clock):
    """refreshed() works the small job up and stores what was found, as its errand does."""

    def refresh():
        frozen_clock.move_on(minutes=1)
        now = frozen_clock.now()
        keep_needs(job.pk, *find_needs(job.pk, now.date()), now)
        return job

    refresh()
    return refresh


@pytest.fixture
def feed_of(make_person, client, frozen_clock):
    """feed_of(role) -> the events of that role's feed by id."""

    def read(role="office", **wanted):
        person = Person.objects.filter(role=role).first() or make_person(role)
        response = client.get(reverse("calendar_feed", args=[make_feed_address(person, frozen_clock.now())[1]]), wanted)
        assert response.status_code == 200 and response["Content-Type"].startswith("text/calendar")
        events = Calendar.from_ical(response.content).walk("VEVENT")
        components = {str(event["uid"]): event for event in events}
        assert len(components) == len(events), "an event stands twice"
        return components

    return read


def days(events):
    return {uid: event.decoded("dtstart") for uid, event in events.items()}


def test_a_job_that_starts_later_moves_its_events_and_doubles_none(job, refreshed, feed_of):
    before = feed_of()
    Job.objects.filter(pk=job.pk).update(start_on=date(2027, 2, 15))
    refreshed()
    after = feed_of()
    assert set(before) == set(after) and len(after) >= 10
    moved = {uid for uid in after if days(before)[uid] != days(after)[uid]}
    assert moved
    assert {uid: event["sequence"] for uid, event in after.items()} == {uid: int(uid in moved) for uid in after}
    for uid in moved:
        assert after[uid].decoded("last-modified") > before[uid].decoded("last-modified")


def test_a_feed_tells_unsigned_work_apart_until_its_quote_is_accepted(job, refreshed, feed_of):
    before = feed_of()
    assert {str(entry["status"]) for entry in before.values()} == {"TENTATIVE"}
    assert all(str(entry["summary"]).endswith("(not signed)") for entry in before.values())
    assert feed_of(work="signed") == {}
    accept(with_paper(issued(job)))
    after = feed_of()
    assert {str(entry["status"]) for entry in after.values()} == {"CONFIRMED"}
    # What is next is another thing now.
    (step,) = set(after) - set(before)
    assert str(after[step]["summary"]).startswith("Next: ") and set(before) < set(after)
    assert all(after[uid]["sequence"] == entry["sequence"] + 1 for uid, entry in before.items())
    assert feed_of(work="signed") == after and feed_of(work="unsigned") == {}
    refreshed()
    assert feed_of() == after


def test_what_stays_keeps_its_number(job, refreshed, feed_of):
    before = {uid: event.to_ical() for uid, event in feed_of().items()}
    refreshed()
    assert {uid: event.to_ical() for uid, event in feed_of().items()} == before


def test_dates_counted_again_from_the_rows_move_events_too(job, refreshed, feed_of, frozen_clock):
    before = feed_of()
    LeadTerm.objects.update(production_days=40)
    frozen_clock.move_on(minutes=1)
    recompute_dates(frozen_clock.now().date())
    after = feed_of()
    moved = {str(after[uid]["summary"]).split(":")[0] for uid in after if days(before)[uid] != days(after)[uid]}
    assert set(before) == set(after)
    assert "Order" in moved and "On site" not in moved


def test_what_is_ordered_of_a_supplier_on_a_day_is_one_event_that_keeps_its_id(job, feed_of, frozen_clock):
    rows = [need(job, material) for material in ("A", "B", "C")]
    need(job, "D", supplier="TOLLARD")
    orders = orders_of(job, feed_of, frozen_clock)
    assert sorted(orders.values()) == [("Order: 3 items", ORDER_BY), ("Order: Item D", ORDER_BY)]
    rows[0].delete()
    StoredNeed.objects.filter(material__in="BC").update(order_by=date(2026, 12, 11))
    moved = orders_of(job, feed_of, frozen_clock)
    assert set(moved) == set(orders), "the first of them is gone, the others moved: the event is the same"
    assert ("Order: 2 items", date(2026, 12, 11)) in moved.values()


def test_an_item_that_leaves_its_group_has_an_event_of_its_own(job, feed_of, frozen_clock):
    for material in ("A", "B"):
        need(job, material)
    before = orders_of(job, feed_of, frozen_clock)
    StoredNeed.objects.filter(material="A").update(order_by=date(2026, 12, 11))
    after = orders_of(job, feed_of, frozen_clock)
    assert set(before) < set(after) and len(after) == 2
    assert after[min(before)] == ("Order: Item A", date(2026, 12, 11)), "it was given out for A first"
    StoredNeed.objects.filter(material="A").update(order_by=ORDER_BY)
    together = orders_of(job, feed_of, frozen_clock)
    assert set(together) < set(after) and list(together.values()) == list(before.values())


def orders_of(job, feed_of, frozen_clock):
    frozen_clock.move_on(minutes=1)
    keep_items([job.pk], frozen_clock.now())
    events = {uid: event for uid, event in feed_of().items() if event["status"] != "CANCELLED"}
    named = {uid: (str(event["summary"]).split(",")[0], event.decoded("dtstart")) for uid, event in events.items()}
    return {uid: pair for uid, pair in named.items() if pair[0].startswith("Order")}


@pytest.mark.faults
@pytest.mark.parametrize("zone", feed_days.SOME_ZONES)
def test_each_day_a_feed_holds_what_is_open_on_its_days_and_nothing_that_is_done(job, frozen_clock, zone):
    day = FeedDays(job, frozen_clock, ZoneInfo(zone), count=feed_days.HOW_MANY, days=feed_days.HOW_LONG)
    assert day.run() == []
    assert set(day.seen) >= feed_days.HAPPENS, "the story leaves nothing out"


@pytest.mark.faults
def test_a_feed_stored_apart_from_what_it_follows_is_found_out(job, frozen_clock):
    """The control of the test above."""
    result = FeedDays(job, frozen_clock, ZoneInfo("Europe/Lisbon"), count=6, days=60, guarded=False).run()
    assert any("done, gone or on another day" in text for text in result)
    assert any("open and dated and not in it" in text for text in result)


def test_an_item_that_is_gone_is_cancelled_and_comes_back_as_the_same_event(job, refreshed, feed_of, frozen_clock):
    row = need(job)
    keep_items([job.pk], frozen_clock.now())
    mine = {uid for uid, event in feed_of().items() if "Item BASE" in event["summary"]}
    assert len(mine) == 3
    row.delete()
    keep_items([job.pk], frozen_clock.now())
    gone = feed_of()
    assert {(str(gone[uid]["status"]), gone[uid]["sequence"]) for uid in mine} == {("CANCELLED", 1)}
    assert sum(str(event["status"]) == "CANCELLED" for event in gone.values()) == 3
    need(job)
    keep_items([job.pk], frozen_clock.now())
    back = feed_of()
    assert {(str(back[uid]["status"]), back[uid]["sequence"]) for uid in mine} == {("TENTATIVE", 2)}


def test_a_job_closed_or_deleted_has_its_events_cancelled(job, refreshed, feed_of, frozen_clock):
    close_job(job, date(2026, 10, 5))
    refreshed()
    assert {str(event["status"]) for event in feed_of().values()} == {"CANCELLED"}
    FeedEvent.objects.update(cancelled=False)
    StoredNeed.objects.all().delete()
    Job.objects.all().delete()
    cancel_orphans(frozen_clock.now())
    cancel_orphans(frozen_clock.now())
    assert {(str(event["status"]), event["sequence"]) for event in feed_of().values()} == {("CANCELLED", 2)}


def test_walls_that_cannot_be_worked_out_for_a_while_cancel_nothing(job, refreshed, feed_of, frozen_clock):
    before = set(feed_of())
    from jobs.needs.services.stored_needs import refresh_job, seen_now
    from jobs.work_up.services.job_work_up import JobResult

    seen = seen_now(job.pk, frozen_clock.now().date())
    refresh_job(job, JobResult(job, None, "wall: no"), seen, frozen_clock.now())
    assert {uid for uid, event in feed_of().items() if str(event["status"]) == "TENTATIVE"} == before


def test_the_lead_is_given_days_on_site_and_activities_alone(job, refreshed, feed_of, frozen_clock):
    need(job, supplier=Supplier.objects.first().code)
    keep_items([job.pk], frozen_clock.now())
    sentences = {str(event["summary"]) for event in feed_of("lead").values()}
    everything = {str(event["summary"]) for event in feed_of("office").values()}
    assert any(text.startswith("On site: Item BASE") for text in sentences)
    assert not any(text.startswith(("Order:", "Decide:")) for text in sentences)
    assert any(text.startswith("Order:") for text in everything), "the control: the office is given them"
    names = [str(name) for name in Supplier.objects.values_list("name", flat=True)]
    whole = " ".join(event.to_ical().decode() for event in feed_of("office").values())
    assert not [name for name in names if name in whole]


def test_an_activity_lasts_to_its_last_day(job, refreshed, feed_of):
    row = FeedEvent.objects.filter(kind="activity").first()
    FeedEvent.objects.filter(pk=row.pk).update(last_day=row.first_day + timedelta(days=2))
    event = feed_of()[row.uid]
    assert event.decoded("dtend") - event.decoded("dtstart") == timedelta(days=3), "RFC 5545, 3.6.1: end not included"


@pytest.mark.parametrize("title", ["a\r\nATTENDEE:mailto:x@y.example", "b\nEND:VEVENT\nBEGIN:VALARM", "c;d,e\\n"])
def test_no_name_becomes_a_property(job, feed_of, frozen_clock, title):
    Job.objects.filter(pk=job.pk).update(title=title)
    need(job, name=title)
    keep_items([job.pk], frozen_clock.now())
    events = feed_of().values()
    assert len(events) == 3
    assert not any("attendee" in event or event.subcomponents for event in events)


def test_the_file_of_one_job_holds_the_same_events(job, refreshed, feed_of, client):
    feed = feed_of()
    client.force_login(Person.objects.get(role="office"))
    file = Calendar.from_ical(client.get(reverse("order_dates_calendar", args=[job.pk])).content)
    assert {str(event["uid"]): event.to_ical() for event in file.walk("VEVENT")} == {
        uid: event.to_ical() for uid, event in feed.items()
    }
    JobClosure.objects.create(job=job, first_day=date(2027, 1, 26), last_day=date(2027, 1, 26))
    again = Calendar.from_ical(client.get(reverse("order_dates_calendar", args=[job.pk])).content).walk("VEVENT")
    assert {event["sequence"] for event in again} == {0, 1}, "numbered as the feed will number it"
    assert not FeedEvent.objects.filter(sequence__gt=0).exists(), "looking changes nothing"


def test_looking_changes_nothing_and_an_unchanged_calendar_is_not_sent_again(job, refreshed, client, make_person):
    secret = make_feed_address(make_person("lead"), FeedEvent.objects.first().modified_at)[1]
    url = reverse("calendar_feed", args=[secret])
    before = list(FeedEvent.objects.order_by("pk").values()) + list(FeedAddress.objects.values())
    first = client.get(url)
    second = client.get(url, headers={"If-None-Match": first["ETag"]})
    assert (second.status_code, second.content) == (304, b"")
    assert {entry["Cache-Control"] for entry in (first, second)} == {"no-store"}
    assert list(FeedEvent.objects.order_by("pk").values()) + list(FeedAddress.objects.values()) == before
    assert secret not in str(before) and client.post(url).status_code == 405


def made_on_the_page(client):
    page = client.post(reverse("feed_make"))
    assert page["Cache-Control"] == "no-store"
    return re.search(r"http://testserver(/calendar/[\w-]{43}\.ics)", page.content.decode())[1]


def test_an_address_is_made_renewed_and_withdrawn_on_the_account_page(client, make_person, frozen_clock):
    client.force_login(make_person("lead"))
    first = made_on_the_page(client)
    second = made_on_the_page(client)
    assert [client.get(url).status_code for url in (first, second)] == [410, 200]
    client.post(reverse("feed_withdraw"))
    assert client.get(second).status_code == 410
    assert FeedAddress.objects.filter(withdrawn_at=None).count() == 0


def test_whoever_may_no_longer_log_in_has_no_feed(client, make_person, frozen_clock):
    person = make_person("office")
    url = reverse("calendar_feed", args=[make_feed_address(person, frozen_clock.now())[1]])
    assert client.get(url).status_code == 200
    Person.objects.filter(pk=person.pk).update(is_active=False)
    assert client.get(url).status_code == 410


def test_guessing_is_slowed_down(client, db, frozen_clock):
    states = [client.get(reverse("calendar_feed", args=[f"guess-{n}"])).status_code for n in range(31)]
    assert (states[0], states[-1]) == (404, 429)
