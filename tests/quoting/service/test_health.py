import re
from datetime import timedelta
from pathlib import Path

import pytest
from django.conf import settings
from django.db import DatabaseError, connection

from quoting.platform import clock
from quoting.platform.errands.services import heartbeats
from quoting.platform.errands.services.errands import queue_errand

BEATING = ("tick", "worker", "alerts")
pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("frozen_clock"), pytest.mark.both_engines]


@pytest.fixture
def well():
    for name in BEATING:
        heartbeats.beat(name, clock.now())


def ready(client):
    answer = client.get("/health/ready")
    wrong = {name for name, check in answer.json()["checks"].items() if not check["ok"]}
    assert (answer.status_code == 200) == (not wrong)
    return wrong


def test_the_addresses_the_readme_names_answer(client, well, make_person):
    readme = (Path(settings.BASE_DIR) / "README.md").read_text(encoding="utf-8")
    named = re.findall(r"`(/[a-z/]+)`", readme)
    assert {"/health/live", "/health/ready", "/api/docs/"} <= set(named)
    client.force_login(make_person("lead"))
    assert {path: client.get(path).status_code for path in named} == dict.fromkeys(named, 200)


def test_a_service_in_order_is_ready(client, well):
    assert ready(client) == set()


def test_a_service_that_never_beat_is_not_ready(client):
    assert ready(client) == set(BEATING)


@pytest.mark.parametrize("name", BEATING)
def test_a_dead_process_turns_the_page_red_within_ten_minutes(client, well, frozen_clock, name):
    frozen_clock.move_on(minutes=9.9)
    for other in set(BEATING) - {name}:
        heartbeats.beat(other, clock.now())
    assert ready(client) == {name}


def test_work_that_waits_too_long_turns_the_page_red(client, well, frozen_clock):
    queue_errand("careful", "a", {}, clock.now() - timedelta(minutes=10))
    assert ready(client) == set()
    frozen_clock.move_on(seconds=1)
    assert ready(client) == {"errands"}


def test_a_database_that_does_not_answer_is_told_without_its_secrets(client, monkeypatch):
    def broken():
        raise DatabaseError("password=geheim host=10.0.0.1")

    monkeypatch.setattr(connection, "cursor", broken)
    answer = client.get("/health/ready")
    assert answer.status_code == 503
    assert answer.json()["checks"] == {"database": {"ok": False, "says": "does not answer"}}


def test_tables_that_are_missing_are_told_apart_from_a_database_that_is_down(client, monkeypatch):
    def broken(now):
        raise DatabaseError("no such table: quoting_heartbeat")

    monkeypatch.setattr("quoting.service.audit.services.health.heartbeat_ages", broken)
    monkeypatch.setattr(type(connection.introspection), "table_names", lambda self: ["django_migrations"])
    says = client.get("/health/ready").json()["checks"]["database"]["says"]
    assert says == "the tables are missing: run manage.py migrate"


def test_a_database_that_breaks_with_all_its_tables_does_not_answer(client, monkeypatch):
    """The control of the test above."""

    def broken(now):
        raise DatabaseError("disk I/O error")

    monkeypatch.setattr("quoting.service.audit.services.health.heartbeat_ages", broken)
    assert client.get("/health/ready").json()["checks"]["database"]["says"] == "does not answer"


def test_being_alive_asks_nothing_of_the_database(client, django_assert_num_queries):
    with django_assert_num_queries(0):
        assert client.get("/health/live").json() == {"status": "ok"}
