"""Two at the same moment on one form, or one form sent twice at once. Threads on PostgreSQL, which alone lets two write
at the same time; each race ends with its control, the same with the guard taken away."""

import threading
from functools import partial

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.jobs.models import Client, Job
from jobs.jobs.pages import clients
from quoting.platform.people.models import Person
from quoting.platform.people.services.people import add_person
from tests.support.racing import ROUNDS, at_once

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults, pytest.mark.postgresql]
JOB = {"client": "new", "client_name": "Tern Clinic", "title": "Screen", "crew": "2"}


@pytest.fixture
def person():
    return add_person("ann", "Ann", "owner")[0]


def browser_of(person: Person) -> Browser:
    browser = Browser()
    browser.force_login(person)
    return browser


def both_save(person: Person, turn: int) -> list[int]:
    """Each changes another entry of the same client, from the same page."""
    row = Client.objects.create(name=f"Client {turn}")
    url = reverse("client_change", args=[row.pk])
    seen = browser_of(person).get(url).context["form"]["seen_version"].value()
    typed = {"name": row.name, "seen_version": seen}
    first = typed | {"form_key": f"{turn:032x}", "phone": "1"}
    second = typed | {"form_key": f"{turn + 1000:032x}", "email": "a@b.example"}
    posts = [partial(browser_of(person).post, url, data) for data in (first, second)]
    return sorted(answer.status_code for answer in at_once(*posts))


def test_of_two_who_save_at_once_one_is_told(person, monkeypatch):
    for turn in range(ROUNDS):
        assert both_save(person, turn) == [302, 409]
    without_the_guard_both_save_and_one_change_is_lost(person, monkeypatch)


def without_the_guard_both_save_and_one_change_is_lost(person, monkeypatch):
    meeting, save = threading.Barrier(2), clients.save_client

    def save_when_both_have_looked(*given):
        meeting.wait(20)
        return save(*given)

    monkeypatch.setattr(clients, "hold", lambda rows: None)
    monkeypatch.setattr(clients, "save_client", save_when_both_have_looked)
    assert both_save(person, 500) == [302, 302]
    row = Client.objects.get(name="Client 500")
    assert bool(row.phone) != bool(row.email)


def sent_twice(person: Person, key: str) -> set[str]:
    posts = [partial(browser_of(person).post, reverse("job_add"), JOB | {"form_key": key}) for _ in range(2)]
    return {answer["Location"] for answer in at_once(*posts)}


def test_a_job_sent_twice_at_once_is_one_job(person, settings):
    for turn in range(ROUNDS):
        assert len(sent_twice(person, f"{turn:032x}")) == 1
        assert Job.objects.count() == turn + 1
    settings.MIDDLEWARE = [entry for entry in settings.MIDDLEWARE if not entry.endswith("SentOnceMiddleware")]
    assert len(sent_twice(person, "f" * 32)) == 2
