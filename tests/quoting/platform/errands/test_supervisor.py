import os
import signal
import sys
import time

import pytest

from quoting.management.commands.serve import children, parse_address, refuse_taken_port
from quoting.platform.errands.supervisor import FIRST_PAUSE_S, LIVED_WELL_S, MAX_PAUSE_S, Child, Supervisor
from tests.servers import free_port

SLEEPER = [sys.executable, "-c", "import time; time.sleep(600)"]


class HandMovedClock:
    def __init__(self):
        self.at = 1000.0

    def __call__(self):
        return self.at


@pytest.fixture
def supervised():
    started = []

    def make(*children):
        started.append(Supervisor(children, HandMovedClock()))
        return started[-1]

    yield make
    for supervisor in started:
        supervisor.stop_all()


def let_die(supervisor, child):
    child.process.kill()
    child.process.wait()
    supervisor.look()


def test_a_child_that_dies_is_started_again_after_a_pause(supervised):
    child = Child("sleeper", SLEEPER)
    supervisor = supervised(child)
    supervisor.look()
    let_die(supervisor, child)
    assert (child.process, child.starts) == (None, 1), "not at once"
    supervisor._monotonic.at += FIRST_PAUSE_S
    supervisor.look()
    assert child.starts == 2
    assert child.process.poll() is None


def test_the_pauses_grow_while_a_child_keeps_dying_and_begin_small_again_after_it_lived_well(supervised):
    child = Child("sleeper", SLEEPER)
    supervisor = supervised(child)
    pauses = []
    for _ in range(8):
        supervisor.look()
        let_die(supervisor, child)
        pauses.append(child.start_again_at - supervisor._monotonic.at)
        supervisor._monotonic.at = child.start_again_at
    assert pauses == [0.5, 1, 2, 4, 8, 16, 30, MAX_PAUSE_S]
    supervisor.look()
    supervisor._monotonic.at += LIVED_WELL_S
    let_die(supervisor, child)
    assert child.start_again_at - supervisor._monotonic.at == FIRST_PAUSE_S


def test_one_dying_child_leaves_the_others_alone(supervised):
    dying, living = Child("dying", SLEEPER), Child("living", SLEEPER)
    supervisor = supervised(dying, living)
    supervisor.look()
    pid = living.process.pid
    let_die(supervisor, dying)
    supervisor.look()
    assert (living.process.pid, living.process.poll()) == (pid, None)


def test_stopping_ends_every_child(supervised):
    both = [Child("a", SLEEPER), Child("b", SLEEPER)]
    supervisor = supervised(*both)
    supervisor.look()
    supervisor.stop_all()
    assert [child.process.returncode for child in both] == [-signal.SIGTERM] * 2


@pytest.mark.parametrize("text", ["8000", ":8000", "localhost:", "localhost:http", "localhost:0", "localhost:70000"])
def test_a_wrong_address_is_refused_with_an_example(text):
    with pytest.raises(Exception, match="write it as 127.0.0.1:8000"):
        parse_address(text)


def test_an_address_with_colons_of_its_own_is_understood():
    assert parse_address("[::1]:8000") == ("::1", 8000)


def test_a_taken_port_is_named():
    import socket

    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(Exception, match=f"127.0.0.1:{port} cannot be opened"):
            refuse_taken_port("127.0.0.1", port)


def test_with_redis_the_worker_is_celery(settings):
    settings.REDIS_URL = "redis://127.0.0.1:6379/0"
    assert "celery" in children("127.0.0.1", 8000)[1].command


@pytest.mark.faults
@pytest.mark.sqlite  # the embedded service in one command
def test_serve_answers_survives_the_loss_of_its_worker_and_stops_when_told(own_service):
    import urllib.request

    port = free_port()
    serve = own_service.start("manage.py", "serve", "--address", f"127.0.0.1:{port}")
    try:
        wait_for(lambda: urllib.request.urlopen(f"http://127.0.0.1:{port}/health/live", timeout=5).status == 200)
        first = worker_pid(serve.pid)
        os.kill(first, signal.SIGKILL)
        wait_for(lambda: worker_pid(serve.pid) not in (None, first))
        serve.send_signal(signal.SIGTERM)
        out, err = serve.communicate(timeout=40)
        assert serve.returncode == 0, err
        assert f"http://127.0.0.1:{port}/" in out
        with pytest.raises(OSError):
            urllib.request.urlopen(f"http://127.0.0.1:{port}/health/live", timeout=2)
    finally:
        if serve.poll() is None:
            serve.kill()
            serve.communicate()


def worker_pid(parent):
    for entry in os.listdir("/proc"):
        if not entry.isdigit():
            continue
        try:
            with open(f"/proc/{entry}/stat") as stat, open(f"/proc/{entry}/cmdline") as command:
                its_parent = int(stat.read().rpartition(")")[2].split()[1])
                if its_parent == parent and "\0worker\0" in command.read():
                    return int(entry)
        except (FileNotFoundError, ProcessLookupError):
            continue
    return None


def wait_for(holds, within_s=120):
    ends_at = time.monotonic() + within_s
    while True:
        try:
            if holds():
                return
        except OSError:
            pass
        assert time.monotonic() < ends_at
        time.sleep(0.1)
