"""Several processes issue at once on one database of their own."""

import os
import signal
import subprocess
import sys

import pytest

from tests.service import ROOT

pytestmark = pytest.mark.faults

ROUNDS = int(os.environ.get("CURVEWRIGHT_FAULT_ROUNDS", "0"))
# The hardest of them; `make faults` takes them all.
PLACES = ["after_claim", "during_render", "after_file", "before_commit"] if ROUNDS else ["before_commit"]
REVISIONS = "SELECT number, state FROM quoting_quoterevision ORDER BY number"


def crew(service, *arguments, **environment):
    return service.run("-m", "tests.support.crew", *arguments, **environment)


def together(service, *commands):
    """What each said, having begun at the same moment."""
    processes = [
        subprocess.Popen(
            [sys.executable, "-m", "tests.support.crew", *command],
            cwd=ROOT, env=service.environment, text=True,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )
        for command in commands
    ]  # fmt: skip
    for process in processes:
        assert process.stdout.readline() == "ready\n", process.stderr.read()
    for process in processes:
        process.stdin.write("go\n")
        process.stdin.flush()
    wordses = []
    for process in processes:
        out, err = process.communicate(timeout=90)
        assert process.returncode == 0, err
        wordses.append(out.split("\n")[:-1])
    return wordses


@pytest.fixture
def service(own_service):
    loaded = crew(own_service, "load", "J-0100", "J-0101", "J-0102")
    assert loaded.returncode == 0, loaded.stderr
    return own_service


@pytest.mark.both_engines
@pytest.mark.parametrize("turn", range(ROUNDS or 1))
def test_a_request_made_three_times_at_once_issues_one_revision(service, turn):
    text = together(service, *[("issue", "J-0100", "same")] * 3)
    assert text == [["Q-2026-0001 revision 1"]] * 3
    assert service.rows(REVISIONS) == [(1, "issued")]
    assert service.rows("SELECT count(*) FROM quoting_errand WHERE kind = 'render_quote'") == [(1,)]


@pytest.mark.parametrize("turn", range(ROUNDS or 1))
def test_three_requests_at_once_issue_three_revisions_of_which_one_stands(service, turn):
    """The control of the one before: only the request's key made three clicks one."""
    together(service, *[("issue", "J-0100", f"request {place}") for place in range(3)])
    assert service.rows(REVISIONS) == [(1, "superseded"), (2, "superseded"), (3, "issued")]


@pytest.mark.both_engines
@pytest.mark.parametrize("turn", range(ROUNDS or 1))
def test_three_jobs_issued_at_once_have_numbers_without_a_gap(service, turn):
    together(service, *[("issue", f"J-010{place}", f"request {place}") for place in range(3)])
    numbers = service.rows("SELECT number FROM quoting_quote ORDER BY number")
    assert numbers == [("Q-2026-0001",), ("Q-2026-0002",), ("Q-2026-0003",)]


@pytest.mark.both_engines
def test_numbers_taken_at_once_are_all_different(own_service):
    text = together(own_service, *[("number", "careful", "40")] * 3)
    taken = sorted(number for entry in text for number in entry)
    assert taken == [f"Q-2026-{place:04d}" for place in range(1, 121)]


def test_numbers_taken_without_the_guard_are_not(own_service):
    """The control: read, add one and write gives two processes the same number."""
    text = together(own_service, *[("number", "careless", "100")] * 3)
    taken = [number for entry in text for number in entry]
    assert len(set(taken)) < len(taken) == 300


@pytest.mark.parametrize("turn", range(ROUNDS or 1))
@pytest.mark.parametrize("place", PLACES)
def test_a_worker_killed_while_it_makes_the_paper_is_replaced_and_there_is_one_paper(service, place, turn):
    together(service, ("issue", "J-0100", "once"))
    killed = crew(service, "drain", CURVEWRIGHT_FAILPOINTS=f"{place}=kill")
    assert killed.returncode == -signal.SIGKILL, killed.stderr
    assert service.rows("SELECT count(*) FROM quoting_paper") == [(0,)]
    assert crew(service, "drain").returncode == 0
    assert service.rows("SELECT state, tries FROM quoting_errand WHERE kind = 'render_quote'") == [("done", 2)]
    [(file_name, size)] = service.rows("SELECT file_name, size_bytes FROM quoting_paper")
    assert (service.folder / "files" / "papers" / file_name).stat().st_size == size
