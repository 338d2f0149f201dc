"""The suite's own rules."""

import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import psycopg
import pytest
import redis

ROOT = Path(__file__).resolve().parents[1]
ONE_SKIPPED = 'import pytest\n\ndef test_a(): pass\n\ndef test_b(): pytest.skip("no saw")\n'


TWO_OF_A_DATABASE = """
import pytest

@pytest.mark.both_engines
def test_a(): pass

@pytest.fixture
def db(): pass

def test_b(db): pass

def test_c(): pass
"""


def run_suite(folder, tests=ONE_SKIPPED, **environment):
    (folder / "test_it.py").write_text(tests)
    left = {name: value for name, value in os.environ.items() if name != "CURVEWRIGHT_REQUIRE_ALL"}
    command = [sys.executable, "-m", "pytest", "-q", "-p", "tests.conftest", "-p", "no:cacheprovider",
               "-c", "/dev/null", "--rootdir", str(folder), str(folder)]  # fmt: skip
    environment = left | {"PYTHONPATH": str(ROOT), "DJANGO_SETTINGS_MODULE": "tests.settings"} | environment
    return subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True)


def test_a_skipped_test_passes_where_something_may_be_missing(tmp_path):
    result = run_suite(tmp_path)
    assert result.returncode == 0, result.stdout + result.stderr


def test_a_skipped_test_fails_the_suite_where_nothing_may_be_missing(tmp_path):
    result = run_suite(tmp_path, CURVEWRIGHT_REQUIRE_ALL="1")
    assert result.returncode == 1
    assert "test_it.py::test_b" in result.stdout


@pytest.mark.parametrize(("trial", "ran"), [("", 1), ("1", 2)])
def test_on_postgresql_what_is_marked_runs_and_in_a_trial_all_that_asks_for_the_database(tmp_path, trial, ran):
    test = run_suite(tmp_path, TWO_OF_A_DATABASE, DATABASE_URL="postgresql://nobody@nowhere/nothing",
                     CURVEWRIGHT_TRIAL=trial)  # fmt: skip
    assert f"{ran} passed, {3 - ran} deselected" in test.stdout


def test_the_suite_has_a_postgresql_of_its_own(own_postgresql_url):
    with psycopg.connect(own_postgresql_url) as connection:
        assert connection.execute("SHOW fsync").fetchone() == ("off",)
        assert connection.execute("SHOW listen_addresses").fetchone() == ("",)


def test_the_suite_has_a_redis_of_its_own(own_redis_url):
    assert redis.Redis.from_url(own_redis_url).ping()


@pytest.mark.skipif(shutil.which("cc") is None, reason="no C compiler is installed")
def test_a_command_runs_as_if_on_another_day_and_its_waits_end():
    asks = (
        "import datetime, threading, time; time.sleep(0.01); threading.Event().wait(0.01); print(datetime.date.today())"
    )
    command = [sys.executable, "-m", "tests.on_day", "2028-02-29", sys.executable, "-c", asks]
    process = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=60)
    assert process.stdout.splitlines() == ["As if it were 2028-02-29", "2028-02-29"], process.stdout + process.stderr


def answers(url):
    try:
        return psycopg.connect(url) if url.startswith("postgresql") else redis.Redis.from_url(url).ping()
    except (psycopg.OperationalError, redis.ConnectionError):
        return None


@pytest.mark.faults
@pytest.mark.sqlite  # brings servers of its own
@pytest.mark.parametrize("server", ["own_postgresql", "own_redis"])
@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGKILL])
def test_a_server_of_the_suite_ends_with_whoever_started_it(server, number):
    script = f"import time; from tests.servers import {server} as own\nwith own() as url: print(url); time.sleep(600)"
    suite = subprocess.Popen([sys.executable, "-uc", script], cwd=ROOT, stdout=subprocess.PIPE, text=True)
    url = suite.stdout.readline().strip()
    assert answers(url)
    suite.send_signal(number)
    suite.communicate()
    ends_at = time.monotonic() + 30
    while answers(url) and time.monotonic() < ends_at:
        time.sleep(0.1)
    assert not answers(url)


@pytest.mark.django_db
def test_no_migration_is_missing():
    from django.core.management import call_command

    call_command("makemigrations", check=True, dry_run=True, verbosity=0)
