import os
import signal

import pytest

pytestmark = pytest.mark.faults

ROUNDS = int(os.environ.get("CURVEWRIGHT_FAULT_ROUNDS", "0"))
# The hardest of them; `make faults` takes them all.
PLACES = ["after_claim", "during_work", "after_file", "before_commit"] if ROUNDS else ["before_commit"]
STATE = "SELECT state, tries FROM quoting_errand"
EFFECTS = "SELECT count(*) FROM quoting_heartbeat WHERE name LIKE 'effect%'"


def killed_at(place, service, kind="careful"):
    crew = service.crew("queue_and_work", kind, "a", CURVEWRIGHT_FAILPOINTS=f"{place}=kill")
    assert crew.returncode == -signal.SIGKILL, crew.stderr
    assert service.rows(STATE) == [("claimed", 1)]


@pytest.mark.both_engines
@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("turn", range(ROUNDS or 1))
def test_a_worker_killed_at_any_place_is_replaced_and_the_effect_is_one(place, turn, own_service):
    killed_at(place, own_service)
    crew = own_service.crew("drain")
    assert crew.returncode == 0, crew.stderr
    assert own_service.rows(STATE) == [("done", 2)]
    assert own_service.rows(EFFECTS) == [(1,)]
    assert (own_service.folder / "a.txt").read_text() == "a"


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("turn", range(ROUNDS or 1))
def test_the_sweep_finds_what_a_killed_worker_held_within_ninety_seconds(place, turn, own_service):
    killed_at(place, own_service)
    own_service.crew("later", "0")
    assert own_service.rows(STATE) == [("claimed", 1)], "the lease still runs"
    # The lease at its longest, and then the longest wait for a sweep.
    crew = own_service.crew("later", "70")
    assert crew.returncode == 0, crew.stderr
    assert own_service.rows(STATE) == [("done", 2)]
    assert own_service.rows(EFFECTS) == [(1,)]


def test_a_kill_doubles_the_effect_of_work_that_stores_outside_the_transaction(own_service):
    """The control: the guard is that effect and "done" commit together; this kind goes round it."""
    killed_at("before_commit", own_service, kind="careless")
    own_service.crew("drain")
    assert own_service.rows(STATE) == [("done", 2)]
    assert own_service.rows(EFFECTS) == [(2,)]


def test_a_crash_between_commit_and_ring_loses_nothing(own_service):
    crew = own_service.crew("queue", "careful", "a", CURVEWRIGHT_FAILPOINTS="before_ring=kill")
    assert crew.returncode == -signal.SIGKILL
    assert own_service.rows(STATE) == [("waiting", 0)]
    own_service.crew("later", "30")
    assert own_service.rows(STATE) == [("done", 1)]


def test_work_that_hangs_past_its_limit_ends_its_process_and_is_done_by_the_next(own_service):
    own_service.crew("queue", "hasty", "a")
    hung = own_service.crew("drain", CURVEWRIGHT_FAILPOINTS="during_work=sleep:30")
    assert hung.returncode == 70, hung.stderr
    own_service.crew("drain")
    assert own_service.rows(STATE) == [("done", 2)]
    assert own_service.rows(EFFECTS) == [(1,)]
