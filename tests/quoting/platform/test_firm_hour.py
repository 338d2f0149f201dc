"""One clock everywhere: a moment reads the same on every page and paper, by the firm's own zone.

At 04:30 UTC on 26 November it is 23:30 on the 25th in New York (UTC-5 in winter, IANA Time Zone Database).
"""

import re
from datetime import UTC, date, datetime

import pytest
from django.core import mail as post
from django.template import Context, Template
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from catalog.models import Firm
from quoting.client.models import QuoteMail
from quoting.client.services.mails import mail_errand
from quoting.payment_requests.models import PaymentReceived
from quoting.platform import clock
from quoting.platform.errands.models import Heartbeat
from quoting.platform.errands.services import chores
from quoting.platform.errands.services.errand_kinds import errand_kind
from quoting.platform.errands.services.errands import Outcome, queue_errand, run_errand
from quoting.quotes.models import ClientAnswer
from quoting.quotes.services.certificate import certificate_paper
from tests.support.answered import secret_to, with_paper
from tests.support.desk import as_
from tests.support.worked import issued, small_job

__all__ = ["as_"]
pytestmark = pytest.mark.django_db
LATE = datetime(2026, 11, 26, 4, 30, tzinfo=UTC)
DAY = date(2026, 11, 25)
SHOWN = "Wed 25 Nov, 23:30"


@pytest.fixture(autouse=True)
def in_new_york(settings):
    settings.TIME_ZONE = "UTC"
    with clock.use(clock.FrozenClock(LATE)):
        yield


@pytest.fixture
def revision():
    job = small_job()
    Firm.objects.update(time_zone="America/New_York")
    return with_paper(issued(job, now=LATE, today=DAY))


@pytest.fixture
def accepted(revision):
    page = f"/q/{secret_to(revision, now=LATE, today=DAY)}/"
    Client().post(f"{page}answer/", {"answer": "accept", "name": "Ada Client"})
    return page


def words(response):
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def test_the_offices_pages_name_the_hour_it_is_at_the_firm(as_, revision, accepted):
    office, job = as_("office"), revision.quote.job
    assert SHOWN in words(office.get(reverse("quote", args=[job.pk])))
    history = words(office.get(reverse("job_history", args=[job.pk])))
    assert "Wed 25 Nov" in history and "23:30 Ada Client" in history
    page = words(office.get(f"/jobs/{job.pk}/price/revisions/1/"))
    assert f"Issued {SHOWN}" in page and "Accepted on Wed 25 Nov" in page
    assert "26 Nov" not in page and "04:30" not in page


def test_the_clients_page_and_the_certificate_name_the_same_hour(accepted):
    assert SHOWN in words(Client().get(accepted))
    facts = {fact.label: fact.value for fact in certificate_paper(ClientAnswer.objects.get()).facts}
    assert facts["At"] == "Wed 25 Nov 2026, 23:30:00 EST"


def test_a_mail_is_told_by_the_same_hour(as_, revision):
    office, page = as_("office"), f"/jobs/{revision.quote.job_id}/price/revisions/1/"
    office.post(f"{page}send/", {"to_address": "client@firm.example", "request_key": "once"})
    run_errand(mail_errand(QuoteMail.objects.get()).pk, "w")
    assert len(post.outbox) == 1
    assert f"Sent to client@firm.example on {SHOWN}" in words(office.get(page))


def test_the_history_writes_a_moment_among_its_entries_as_pages_do(as_, revision):
    job, texts = revision.quote.job, {"request_key": "once", "entered_by_name": "Ines", "what_for": "Deposit"}
    counts = {"received_on": DAY, "posted_month": date(2026, 11, 1)}
    PaymentReceived.objects.create(job=job, amount="100.00", entered_at=LATE, **counts, **texts)
    page = as_("owner").get(reverse("job_history", args=[job.pk]))
    entries = [entry for change in page.context["changes"] for entry in change.entries]
    assert [entry.after for entry in entries if entry.label == "Entered at"] == ["Wed 25 Nov 2026, 23:30"]


def test_another_zone_of_the_firm_is_another_hour_at_once(as_, revision):
    """The control: the pages follow the firm, and nothing of the request before stays."""
    office, page = as_("office"), f"/jobs/{revision.quote.job_id}/price/revisions/1/"
    assert SHOWN in words(office.get(page))
    Firm.objects.update(time_zone="Asia/Tokyo")
    assert "Issued Thu 26 Nov, 13:30" in words(office.get(page))
    assert timezone.get_current_timezone_name() == "UTC"


def test_before_a_firm_is_entered_pages_follow_the_setting(settings, as_):
    settings.TIME_ZONE = "America/New_York"
    assert "Wed 25 Nov" in words(as_("owner").get(reverse("today")))


def written(moment):
    return Template("{% load sheet_words %}{{ moment|moment }}").render(Context({"moment": moment}))


@errand_kind("writes the hour")
class WritesTheHour:
    time_limit_s = 60

    def work(self, claim):
        return written(LATE)

    def store(self, claim, result):
        Heartbeat.objects.create(name=result, beat_at=LATE)


def test_an_errand_writes_the_hour_it_is_at_the_firm(revision):
    errand = queue_errand("writes the hour", "once", {}, LATE)
    assert run_errand(errand.pk, "w") == Outcome.DONE
    assert Heartbeat.objects.filter(name=SHOWN).exists()
    assert written(LATE) == "Thu 26 Nov, 04:30"


def test_the_tick_writes_the_hour_it_is_at_the_firm(revision, monkeypatch):
    heard = []
    monkeypatch.setattr(chores, "_chores", {"a test": lambda now: heard.append(written(now))})
    assert chores.tick(LATE) == []
    assert heard == [SHOWN]
