"""People at their desks, and a job priced as its worked example says."""

import re
from datetime import UTC, datetime

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from jobs.jobs.models import Job
from quoting.pricing.services.pricing import store_pricing
from tests.documents import job_file
from tests.stored import stored_job

DAY = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)
# What people type, paste and break into fields.
HOSTILE = [
    "",
    " ",
    "nan",
    "-1",
    "1e400",
    "9" * 500,
    "Infinity",
    "0/0",
    "1/0",
    "<script>alert(1)</script>",
    "' OR 1=1 --",
    "\x00",
    "\ud83d".encode("utf-16", "surrogatepass").decode("utf-16", "replace"),
    "١٢٣",
    "2027-02-30",
    "{{ 7|add:7 }}",
    "é" * 3000,
    "\u202e5",
]


# What no form hands on as anything else than text: the engines have it from others already.
ALIKE_ON_ENGINES = {"", " ", "-1", "0/0", "1/0", "<script>alert(1)</script>", "١٢٣", "{{ 7|add:7 }}"}
HOSTILE_ON_ENGINES = [
    text if text in ALIKE_ON_ENGINES else pytest.param(text, marks=pytest.mark.both_engines) for text in HOSTILE
]


@pytest.fixture
def as_(make_person):
    """as_("office") -> a client logged in as someone of that role."""

    def log_in(role: str) -> Client:
        client = Client(raise_request_exception=True)
        client.force_login(make_person(role))
        return client

    return log_in


def priced_job(name: str = "larkmoor-dental") -> Job:
    job, pricing = stored_job(name), job_file(name).pricing
    assert pricing is not None
    store_pricing(job, pricing)
    return job


def opened(client: Client, url: str) -> dict[str, str]:
    """What a form carries unseen: its key, and the version it was made from."""
    page = client.get(url).content.decode()
    return dict(re.findall(r'<input type="hidden" name="(form_key|seen_version)" value="([^"]*)"', page))


def queries_of(client: Client, url: str) -> int:
    """Of the second look: who looks first works up what changed."""
    client.get(url)
    with CaptureQueriesContext(connection) as wanted:
        assert client.get(url).status_code == 200
    return len(wanted)


def fields_of(form) -> dict[str, str]:
    """What a browser would send of a form as it is shown."""
    sent = {}
    for field in form:
        value = field.value()
        if value not in (None, False):
            sent[field.html_name] = value
    return sent
