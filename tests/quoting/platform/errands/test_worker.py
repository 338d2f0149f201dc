import signal
import threading
import time

import pytest

from quoting.platform import clock
from quoting.platform.errands.models import Errand, Heartbeat
from quoting.platform.errands.services import chores
from quoting.platform.errands.services.errands import claim_errand, queue_errand
from quoting.platform.errands.worker import EmbeddedWorker, StopRequest, WorkerRunsAlready, hold_lock
from tests.quoting.platform.errands import kinds  # noqa: F401 - registers the errands these tests ask for

pytestmark = pytest.mark.both_engines


@pytest.mark.django_db
def test_a_draining_worker_does_everything_and_ends(tmp_path):
    for key in "abc":
        queue_errand("careful", key, {}, clock.now())
    EmbeddedWorker(StopRequest(), tmp_path / "lock").run(drain=True)
    assert set(Errand.objects.values_list("state", flat=True)) == {"done"}
    assert Heartbeat.objects.filter(name="worker").exists()


@pytest.mark.django_db
def test_a_starting_worker_frees_what_its_forerunner_held(tmp_path):
    errand = queue_errand("careful", "a", {}, clock.now())
    claim_errand(errand.pk, "forerunner", clock.now())
    EmbeddedWorker(StopRequest(), tmp_path / "lock").run(drain=True)
    errand.refresh_from_db()
    assert (errand.state, errand.tries) == ("done", 2)


def test_a_second_worker_on_the_same_folder_is_turned_away(tmp_path):
    with hold_lock(tmp_path / "lock"), pytest.raises(WorkerRunsAlready), hold_lock(tmp_path / "lock"):
        pass
    with hold_lock(tmp_path / "lock"):
        pass


def test_a_worker_told_to_stop_ends_in_order(own_service):
    worker = own_service.start("manage.py", "worker")
    wait_for_row(own_service, "SELECT 1 FROM quoting_heartbeat WHERE name = 'worker'")
    worker.send_signal(signal.SIGTERM)
    _, err = worker.communicate(timeout=20)
    assert worker.returncode == 0, err


def wait_for_row(service, query, within_s=30):
    ends_at = time.monotonic() + within_s
    while not service.rows(query):
        assert time.monotonic() < ends_at, query
        time.sleep(0.1)


def test_one_tick_beats_and_ends(own_service):
    assert own_service.manage("tick", "--once").returncode == 0
    assert own_service.rows("SELECT count(*) FROM quoting_heartbeat WHERE name = 'tick'") == [(1,)]


@pytest.fixture
def two_chores(monkeypatch):
    result = []

    def broken(now):
        raise RuntimeError("a bad row")

    monkeypatch.setattr(chores, "_chores", {"broken": broken, "sound": result.append})
    return result


@pytest.mark.django_db
def test_a_chore_that_fails_stops_no_other(two_chores, frozen_clock):
    assert chores.tick(frozen_clock.now()) == ["broken"]
    assert two_chores == [frozen_clock.now()]
    assert Heartbeat.objects.get(name="tick").beat_at == frozen_clock.now()


def test_a_stop_request_is_heard_at_once():
    stop = StopRequest()
    threading.Timer(0.05, stop._event.set).start()
    assert stop.wait(10)
    assert stop.is_set
