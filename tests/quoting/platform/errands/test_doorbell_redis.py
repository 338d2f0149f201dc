import os
import signal
import time

import pytest
import redis

pytestmark = pytest.mark.faults

UNFINISHED = "SELECT count(*) FROM quoting_errand WHERE state <> 'done'"
EFFECTS = "SELECT count(*) FROM quoting_heartbeat WHERE name LIKE 'effect%'"
KEYS = [f"k{number}" for number in range(40)]


@pytest.fixture
def celery_worker(own_service, own_redis_url):
    workers = []

    def start():
        command = [
            "-m",
            "celery",
            "-A",
            "tests.quoting.platform.errands.crew:app",
            "worker",
            "-c",
            "2",
            "-l",
            "WARNING",
        ]
        workers.append(own_service.start(*command, REDIS_URL=own_redis_url))
        return workers[-1]

    redis.Redis.from_url(own_redis_url).flushall()
    yield start
    for worker in workers:
        kill_group(worker)


def kill_group(process):
    try:
        os.killpg(process.pid, signal.SIGKILL)
    except ProcessLookupError:
        pass
    process.communicate()


def queue_all(service, redis_url):
    crew = service.crew("queue", "careful", *KEYS, REDIS_URL=redis_url)
    assert crew.returncode == 0, crew.stderr


def wait_until_all_done(service, within_s=60):
    ends_at = time.monotonic() + within_s
    while service.rows(UNFINISHED) != [(0,)]:
        assert time.monotonic() < ends_at, service.rows("SELECT id, state, error FROM quoting_errand")
        time.sleep(0.2)


def test_a_ring_reaches_a_celery_worker(own_service, own_redis_url, celery_worker):
    celery_worker()
    queue_all(own_service, own_redis_url)
    wait_until_all_done(own_service)
    assert own_service.rows(EFFECTS) == [(len(KEYS),)]
    assert own_service.rows("SELECT count(*) FROM quoting_heartbeat WHERE name = 'worker'") == [(1,)]


def test_an_emptied_redis_loses_nothing_once_the_sweep_has_rung(own_service, own_redis_url, celery_worker):
    queue_all(own_service, own_redis_url)
    server = redis.Redis.from_url(own_redis_url)
    assert server.llen("celery") == len(KEYS)
    server.flushall()
    celery_worker()
    time.sleep(3)
    # The control: without the sweep nobody comes.
    assert own_service.rows(UNFINISHED) == [(len(KEYS),)]
    own_service.crew("sweep", REDIS_URL=own_redis_url)
    wait_until_all_done(own_service)
    assert own_service.rows(EFFECTS) == [(len(KEYS),)]


def test_a_redis_that_was_never_started_refuses_no_work(own_service):
    nowhere = "redis://127.0.0.1:1/0"
    began = time.monotonic()
    crew = own_service.crew("queue", "careful", "a", "b", REDIS_URL=nowhere)
    assert crew.returncode == 0, crew.stderr
    assert own_service.rows(UNFINISHED) == [(2,)]
    assert "doorbell does not ring" in crew.stderr
    assert time.monotonic() - began < 30
