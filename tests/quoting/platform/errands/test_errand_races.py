import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from typing import TypeVar

import pytest
from django.db import connection

from quoting.platform import clock
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import claim_errand, queue_errand, run_errand, takeable
from quoting.platform.errands.services.leases import LEASE
from tests.quoting.platform.errands.kinds import effects_of

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults, pytest.mark.both_engines]
T = TypeVar("T")


def at_once(count: int, act: Callable[[], T]) -> list[T]:
    """What each of so many threads got from act, all let go at the same moment."""
    together = threading.Barrier(count, timeout=20)

    def one() -> T:
        together.wait()
        try:
            return act()
        finally:
            connection.close()

    with ThreadPoolExecutor(count) as pool:
        return [future.result(timeout=60) for future in [pool.submit(one) for _ in range(count)]]


def test_of_many_claimants_one_wins():
    for turn in range(10):
        errand = queue_errand("careful", f"race {turn}", {}, clock.now())
        holders = at_once(6, partial(claim_errand, errand.pk, "w", clock.now()))
        assert sum(holder is not None for holder in holders) == 1


def test_several_win_when_claiming_looks_first_and_writes_after():
    """The control: the same race with a claim in two steps."""
    everyone_has_looked = threading.Barrier(6, timeout=20)

    def look_then_write(errand_id: int) -> bool:
        free = takeable(clock.now()).filter(pk=errand_id).exists()
        everyone_has_looked.wait()
        if free:
            Errand.objects.filter(pk=errand_id).update(state="claimed", claimed_by="w", lease_until=clock.now() + LEASE)
        return free

    errand = queue_errand("careful", "race", {}, clock.now())
    assert sum(at_once(6, lambda: look_then_write(errand.pk))) > 1


def test_an_errand_delivered_five_times_at_once_has_the_effect_of_one():
    errand = queue_errand("careful", "a", {}, clock.now())
    outcomes = at_once(5, lambda: run_errand(errand.pk, "w"))
    assert sorted(outcomes) == ["done"] + ["not ours"] * 4
    assert effects_of("a") == 1


def test_work_asked_for_by_several_at_once_is_one_errand():
    pks = at_once(5, lambda: queue_errand("careful", "a", {}, clock.now()).pk)
    assert len(set(pks)) == 1
    assert Errand.objects.count() == 1
