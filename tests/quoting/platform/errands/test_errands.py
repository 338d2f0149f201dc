from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from quoting.platform import clock
from quoting.platform.errands.models import Errand, ErrandState, Heartbeat
from quoting.platform.errands.services import doorbell, errands
from quoting.platform.errands.services.errands import (
    BACK_OFF,
    MAX_TRIES,
    ErrandConflict,
    Outcome,
    claim_errand,
    queue_errand,
    retry_errand,
    run_errand,
    sweep_errands,
)
from quoting.platform.errands.services.leases import LEASE
from tests.quoting.platform.errands.kinds import effects_of

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


def asked(kind="careful", key="a", payload=None):
    return queue_errand(kind, key, payload or {}, clock.now())


def test_an_errand_is_done_once_and_leaves_one_effect():
    errand = asked()
    assert run_errand(errand.pk, "w") == Outcome.DONE
    errand.refresh_from_db()
    assert (errand.state, errand.tries, errand.progress_percent) == (ErrandState.DONE, 1, 100)
    assert effects_of("a") == 1


@pytest.mark.parametrize("deliveries", [2, 5])
def test_an_errand_delivered_again_has_the_effect_of_one(deliveries):
    errand = asked()
    outcomes = [run_errand(errand.pk, "w") for _ in range(deliveries)]
    assert outcomes == [Outcome.DONE] + [Outcome.NOT_OURS] * (deliveries - 1)
    assert effects_of("a") == 1


def test_delivery_again_doubles_the_effect_when_claiming_is_not_conditional(monkeypatch):
    """The control: without the conditional UPDATE the test above would see two effects."""

    def claim_anything(errand_id, worker, now):
        Errand.objects.filter(pk=errand_id).update(
            state="claimed", claimed_by=worker, lease_until=now + LEASE, finished_at=None
        )
        return worker

    monkeypatch.setattr(errands, "claim_errand", claim_anything)
    errand = asked()
    run_errand(errand.pk, "w")
    run_errand(errand.pk, "w")
    assert effects_of("a") == 2


def test_asking_twice_makes_one_errand():
    assert asked(payload={"n": [1, 2]}).pk == asked(payload={"n": (1, 2)}).pk
    assert Errand.objects.count() == 1


def test_asking_for_other_work_under_the_same_key_is_refused():
    asked(payload={"quote": 1})
    with pytest.raises(ErrandConflict, match="another payload"):
        asked(payload={"quote": 2})


def test_work_that_raises_is_tried_again_after_growing_pauses_and_then_fails_visibly(frozen_clock):
    errand = asked("broken")
    for pause in BACK_OFF:
        assert run_errand(errand.pk, "w") == Outcome.TRY_AGAIN
        errand.refresh_from_db()
        assert errand.due_at == frozen_clock.now() + pause
        assert run_errand(errand.pk, "w") == Outcome.NOT_OURS, "not before it is due"
        frozen_clock.move_to(errand.due_at)
    assert run_errand(errand.pk, "w") == Outcome.FAILED
    errand.refresh_from_db()
    assert (errand.state, errand.tries) == (ErrandState.FAILED, MAX_TRIES)
    assert errand.error == "RuntimeError: the saw is blunt"


def test_no_pause_is_longer_than_five_minutes():
    assert len(BACK_OFF) == MAX_TRIES - 1
    assert max(BACK_OFF) <= timedelta(minutes=5)


def test_a_refusal_fails_at_once_and_says_why():
    errand = asked("refused")
    assert run_errand(errand.pk, "w") == Outcome.FAILED
    errand.refresh_from_db()
    assert (errand.tries, errand.error) == (1, "The quote was withdrawn.")


def test_an_unknown_kind_fails_and_names_itself():
    errand = asked("polish the moon")
    assert run_errand(errand.pk, "w") == Outcome.FAILED
    errand.refresh_from_db()
    assert "'polish the moon'" in errand.error


def test_a_store_that_fails_leaves_nothing_behind():
    errand = asked("half stored")
    assert run_errand(errand.pk, "w") == Outcome.TRY_AGAIN
    assert effects_of("a") == 0


def test_a_failed_errand_can_be_given_its_tries_again():
    errand = asked("refused")
    run_errand(errand.pk, "w")
    assert retry_errand(errand.pk, clock.now())
    assert not retry_errand(errand.pk, clock.now()), "it is no longer failed"
    errand.refresh_from_db()
    assert (errand.state, errand.tries, errand.error, errand.finished_at) == ("waiting", 0, "", None)


def test_a_held_errand_is_taken_over_only_when_its_lease_has_run_out(frozen_clock):
    errand = asked()
    assert claim_errand(errand.pk, "first", clock.now())
    assert claim_errand(errand.pk, "second", clock.now()) is None
    frozen_clock.move_on(seconds=LEASE.total_seconds() - 1)
    assert claim_errand(errand.pk, "second", clock.now()) is None
    frozen_clock.move_on(seconds=1)
    assert claim_errand(errand.pk, "second", clock.now())


def late_worker(errand, frozen_clock, monkeypatch):
    """A first worker dozes off in its work until a second has done the errand, and then goes on."""
    handler = errands.kind_entry("careful").make
    plain_work = handler.work

    def doze(self, claim):
        monkeypatch.setattr(handler, "work", plain_work)
        frozen_clock.move_on(seconds=LEASE.total_seconds() + 1)
        assert run_errand(errand.pk, "second") == Outcome.DONE
        return plain_work(self, claim)

    monkeypatch.setattr(handler, "work", doze)
    return run_errand(errand.pk, "first")


def test_a_worker_that_lost_its_lease_leaves_no_effect(frozen_clock, monkeypatch):
    assert late_worker(asked(), frozen_clock, monkeypatch) == Outcome.NOT_OURS
    assert effects_of("a") == 1


def test_a_worker_that_lost_its_lease_doubles_the_effect_without_the_fence(frozen_clock, monkeypatch):
    """The control: with the re-check of the lease switched off, the late worker stores as well."""
    fenced = errands._finish

    def unfenced(errand_id, holder, **changes):
        try:
            fenced(errand_id, holder, **changes)
        except errands.LeaseLost:
            pass

    monkeypatch.setattr(errands, "_finish", unfenced)
    late_worker(asked(), frozen_clock, monkeypatch)
    assert effects_of("a") == 2


def test_the_sweep_gives_back_what_a_dead_worker_held(frozen_clock):
    errand = asked()
    claim_errand(errand.pk, "dead", clock.now())
    assert sweep_errands(clock.now()) == 0
    frozen_clock.move_on(seconds=LEASE.total_seconds())
    assert sweep_errands(clock.now()) == 1
    assert run_errand(errand.pk, "w") == Outcome.DONE


def test_an_errand_that_kills_its_worker_each_time_ends_failed(frozen_clock):
    errand = asked()
    for _ in range(MAX_TRIES):
        assert claim_errand(errand.pk, "dies", clock.now())
        frozen_clock.move_on(seconds=LEASE.total_seconds())
        sweep_errands(clock.now())
    errand.refresh_from_db()
    assert errand.state == ErrandState.FAILED
    assert "died or hung 5 times" in errand.error


def test_one_bad_errand_stops_no_other():
    bad, good = asked("broken", "bad"), asked("careful", "good")
    outcomes = [run_errand(pk, "w") for pk in (bad.pk, good.pk)]
    assert outcomes == [Outcome.TRY_AGAIN, Outcome.DONE]


def test_the_lease_and_the_sweep_together_keep_the_promise_of_ninety_seconds():
    from quoting.management.commands.tick import SWEEP_EVERY_S

    assert LEASE.total_seconds() + SWEEP_EVERY_S < 90


def test_a_commit_rings_once(django_capture_on_commit_callbacks, monkeypatch):
    rung = []
    monkeypatch.setattr(errands, "ring", rung.append)
    with django_capture_on_commit_callbacks(execute=True):
        errand = asked()
        assert rung == [], "not before the commit"
    assert rung == [errand.pk]


@pytest.mark.django_db(transaction=True)
def test_a_rollback_rings_nothing_and_leaves_no_errand(monkeypatch):
    rung = []
    monkeypatch.setattr(errands, "ring", rung.append)
    with pytest.raises(ZeroDivisionError), transaction.atomic():
        asked()
        raise ZeroDivisionError
    assert (rung, Errand.objects.count()) == ([], 0)
    asked()  # the control: the same, committed, rings
    assert len(rung) == 1


@pytest.mark.django_db(transaction=True)
def test_a_broken_doorbell_fails_no_page(monkeypatch):
    def broken(errand_id):
        raise OSError("no route to the broker")

    monkeypatch.setattr(errands, "ring", broken)
    assert asked().state == ErrandState.WAITING


def test_a_broker_that_does_not_answer_is_told_as_not_rung(settings, monkeypatch):
    from quoting.platform.errands.tasks import run_errand as task

    def broken(**options):
        raise OSError("no route to the broker")

    settings.REDIS_URL = "redis://127.0.0.1:1/0"
    monkeypatch.setattr(task, "apply_async", broken)
    assert doorbell.ring(1) is False


@pytest.mark.parametrize(
    "wrong",
    [
        {"state": "lost"},
        {"state": "claimed"},
        {"state": "done"},
        {"state": "failed", "finished_at": "2026-10-05T00:00:00Z"},
        {"claimed_by": "someone"},
        {"progress_percent": 101},
    ],
)
def test_the_database_refuses_an_errand_in_disorder(wrong):
    errand = asked()
    with pytest.raises(IntegrityError), transaction.atomic():
        Errand.objects.filter(pk=errand.pk).update(**wrong)


def test_progress_is_told_by_the_holder_alone():
    errand = asked()
    holder = claim_errand(errand.pk, "w", clock.now())
    errands._speaker(errand, holder)("cutting", 40)
    errands._speaker(errand, "a stranger")("sleeping", 80)
    errand.refresh_from_db()
    assert (errand.progress_text, errand.progress_percent) == ("cutting", 40)
    assert not Heartbeat.objects.filter(name__startswith="effect").exists()
