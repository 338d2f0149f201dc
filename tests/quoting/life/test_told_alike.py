"""Where a job stands and what is next, in the same words on every page, in the API, the mail and the calendar."""

from dataclasses import replace
from html import unescape

import pytest
from django.urls import reverse
from icalendar import Calendar

from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from quoting.alerts.models import FeedEvent, WeeklyMail
from quoting.alerts.services.feed_addresses import make_feed_address
from quoting.alerts.services.mail_preferences import set_wish
from quoting.alerts.services.weekly import weekly_message
from quoting.client.models import LinkOpening
from quoting.client.services.client_links import find_link
from quoting.life.services.keeping import keep_lives
from quoting.life.services.reading import life_of_job
from quoting.platform.people.models import Person
from tests.support.answered import secret_to
from tests.support.desk import as_, priced_job
from tests.support.worked import NOW, issued

__all__ = ["as_"]
pytestmark = pytest.mark.both_engines


@pytest.fixture
def job(frozen_clock, db):
    """Sent on Wed 25 Nov 2026, opened once; its base is to be decided by Thu 3 Dec."""
    job = priced_job("larkmoor-dental")
    frozen_clock.move_to(NOW)
    keep_needs(job.pk, *find_needs(job.pk, NOW.date()), NOW)
    link = find_link(secret_to(issued(job), by_hand=True))
    LinkOpening.objects.create(link=link, opened_at=NOW, opened_on=NOW.date())
    keep_lives([job.pk])
    return job


@pytest.fixture
def told(job, as_):
    office, owner = as_("office"), Person.objects.get(role="office")
    set_wish(owner, address="o@firm.example", alerts=False, weekly_list=True, now=NOW)
    mail = WeeklyMail.objects.create(person=owner, week=NOW.date(), asked_at=NOW)
    feed = office.get(reverse("calendar_feed", args=[make_feed_address(owner, NOW)[1]]))
    (step,) = [
        component for component in Calendar.from_ical(feed.content).walk("VEVENT") if "Next:" in component["summary"]
    ]
    return {
        "jobs": unescape(office.get(reverse("job_list")).content.decode()),
        "job": unescape(office.get(reverse("job", args=[job.pk])).content.decode()),
        "api": str(office.get(f"/api/jobs/{job.key}").json()["life"]),
        "mail": weekly_message(mail, NOW).body,
        "feed": f"{step['summary']} {step['description']} {step.decoded('dtstart'):%-d %b}",
    }


def test_the_station_and_what_is_next_are_told_in_the_same_words_everywhere(job, told):
    for words in ("Sent (opened once)", f"{job.client.name} signs"):
        assert [name for name, page in told.items() if words not in page] == []


def test_mail_and_calendar_say_since_when_and_by_when(job, told):
    line = f"{job.title}: Sent (opened once) since Wed 25 Nov 2026. {job.client.name} signs, by Thu 3 Dec 2026."
    assert line in told["mail"]
    feed = f"Next: {job.client.name} signs, {job.title} (not signed) Sent (opened once) since Wed 25 Nov 2026. 3 Dec"
    assert told["feed"] == feed


def test_who_does_it_is_said_unless_the_step_says_so_itself(job):
    read = life_of_job(job, NOW.date())
    office = replace(read.life, steps=(replace(read.life.steps[0], who="office", person=""),))
    assert (read.doer, replace(read, life=office).doer) == ("", "Office.")
    assert replace(read, life=office).sentences.endswith("signs, by Thu 3 Dec 2026. Office.")


def test_what_is_next_is_no_event_of_the_site(job, as_):
    site = as_("lead")
    secret = make_feed_address(Person.objects.get(role="lead"), NOW)[1]
    feed = site.get(reverse("calendar_feed", args=[secret])).content.decode()
    assert "Next:" not in feed and FeedEvent.objects.filter(kind="step", cancelled=False).exists()
