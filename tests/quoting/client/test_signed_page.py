"""After signing the same link says where the work stands, why a day moved, what is to be paid and to be mended."""

from datetime import timedelta

import pytest
from django.test import Client

from jobs.finish.models import FinishItem
from jobs.finish.services.finish_list import add_item, mend_item
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.schedule.models import ActualDays, JobClosure
from quoting.client.pages.gate import ANSWERS, LOOKS
from quoting.platform.people.signatures import Signature
from tests.support.answered import accept, secret_to, with_paper
from tests.support.worked import NOW, TODAY, issued, small_job

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
LEAD = Signature("Ines Quarrell", TODAY)


@pytest.fixture
def job(frozen_clock):
    frozen_clock.move_to(NOW)
    for limit in (LOOKS, ANSWERS):
        limit.forget()
    return small_job()


@pytest.fixture
def page(job):
    keep_needs(job.pk, *find_needs(job.pk, TODAY), NOW)
    revision = with_paper(issued(job))
    accept(revision)
    return f"/q/{secret_to(revision)}/"


def shown(page):
    return " ".join(Client().get(page).content.decode().split())


def dated_anew(job):
    keep_needs(job.pk, *find_needs(job.pk, TODAY), NOW)


def test_it_thanks_and_says_what_is_next_and_the_first_payment(page):
    text = shown(page)
    assert "Thank you, Ada Client." in text and "we measure on site and order your materials" in text
    # A third of 15,641.39: 5,213.7966...
    assert "<dt>First payment, on signing</dt><dd>5,213.80</dd>" in text
    assert "Was Mon" not in text


def test_a_start_that_moved_and_days_the_site_is_shut_are_said_with_why(page, job):
    job.start_on += timedelta(days=7)
    job.save()
    JobClosure.objects.create(job=job, first_day="2027-01-27", last_day="2027-01-28", reason="lift out of order")
    dated_anew(job)
    text = shown(page)
    assert "Mon 25 Jan" in text and "Was Tue 19 Jan" in text
    assert "The start was moved to Mon 25 Jan 2027. The site is shut Wed 27 Jan 2027 to Thu 28 Jan 2027." in text
    assert "lift out of order" not in text


def test_on_site_the_client_adds_to_the_finish_list_and_reads_what_was_mended(page, job, make_person):
    assert "Finish list" not in shown(page)
    ActualDays.objects.create(job=job, key="layout", began_on=TODAY, began_by="Ines Quarrell")
    make_person("estimator", "mender")
    due = (TODAY + timedelta(3)).isoformat()
    entry = {"request_key": "one", "what": "Dent", "wall": "screen", "who": "mender", "due": due}
    mend_item(add_item(job, entry, LEAD, now=NOW)[0], {"words": "Filled"}, LEAD)
    assert Client().post(f"{page}finish/", {"what": "Scratch", "wall": "screen"}).status_code == 302
    assert FinishItem.objects.get(what="Scratch").by_client
    text = shown(page)
    assert "mended on Wed 25 Nov: Filled" in text and "Screen, we will look at it" in text and "1 open" in text


def test_what_the_client_says_before_the_work_is_refused_in_words(page):
    response = Client().post(f"{page}finish/", {"what": "Scratch"})
    assert response.status_code == 422 and "Work has not begun on site yet" in response.content.decode()
