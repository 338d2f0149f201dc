from __future__ import annotations

import json
import logging
import uuid
from collections.abc import Iterable
from datetime import datetime, timedelta
from enum import StrEnum
from typing import Any

from django.db import transaction
from django.db.models import F, Q, QuerySet

from quoting.platform import clock, failpoints
from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.errands.services.doorbell import ring
from quoting.platform.errands.services.errand_kinds import Claim, ErrandKind, ErrandRefused, LeaseLost, kind_entry
from quoting.platform.errands.services.leases import LEASE, LeaseKeeper
from quoting.platform.firm_day import by_the_firms_clock
from quoting.platform.read_once import read_anew

log = logging.getLogger(__name__)

MAX_TRIES = 5
BACK_OFF = (timedelta(seconds=5), timedelta(seconds=20), timedelta(seconds=60), timedelta(minutes=4))


class Outcome(StrEnum):
    DONE = "done"
    NOT_OURS = "not ours"
    TRY_AGAIN = "try again"
    FAILED = "failed"


class ErrandConflict(ValueError):
    pass


def queue_errand(kind: str, key: str, payload: dict[str, Any], now: datetime) -> Errand:
    """Ask for work inside the caller's transaction: it stands if, and only if, that commits.

    Asking again for the same kind and key returns the errand there is. A failed one stays failed until
    someone calls retry_errand.
    """
    errand, made = Errand.objects.get_or_create(
        kind=kind, key=key, defaults={"payload": payload, "due_at": now, "created_at": now}
    )
    if not made and errand.payload != json.loads(json.dumps(payload)):
        raise ErrandConflict(f"{kind} {key} was asked for before with another payload; the key must tell them apart.")
    if not errand.is_over:
        ring_after_commit(errand.pk)
    return errand


def retry_errand(errand_id: int, now: datetime) -> bool:
    """Give a failed errand all its tries again. False when it was not failed."""
    result = Errand.objects.filter(pk=errand_id, state=ErrandState.FAILED).update(
        state=ErrandState.WAITING, tries=0, due_at=now, error="", finished_at=None, progress_percent=0
    )
    if result:
        ring_after_commit(errand_id)
    return bool(result)


def ring_after_commit(errand_id: int) -> None:
    def ring_now() -> None:
        failpoints.hit("before_ring")
        ring(errand_id)

    # robust: the row is safe by now and the sweep will ring again, so no page may fail for the bell.
    transaction.on_commit(ring_now, robust=True)


def takeable(now: datetime) -> QuerySet[Errand]:
    """Waiting and due, or claimed by someone whose lease has run out; never past its last try."""
    return Errand.objects.filter(
        Q(state=ErrandState.WAITING, due_at__lte=now) | Q(state=ErrandState.CLAIMED, lease_until__lte=now),
        tries__lt=MAX_TRIES,
    )


def claim_errand(errand_id: int, worker: str, now: datetime) -> str | None:
    """Take the errand by one conditional UPDATE, which one claimant alone can win; the name it is held
    under, or None."""
    holder = f"{worker}/{uuid.uuid4().hex[:12]}"
    won = (
        takeable(now)
        .filter(pk=errand_id)
        .update(state=ErrandState.CLAIMED, claimed_by=holder, lease_until=now + LEASE, tries=F("tries") + 1)
    )
    return holder if won else None


def run_errand(errand_id: int, worker: str, *, end_process_on_overrun: bool = False) -> Outcome:
    """Do the errand if it is there to be done. Safe to call any number of times, from anywhere."""
    holder = claim_errand(errand_id, worker, clock.now())
    if holder is None:
        return Outcome.NOT_OURS
    failpoints.hit("after_claim")
    errand = Errand.objects.get(pk=errand_id)
    entry = kind_entry(errand.kind)
    if entry is None:
        return _give_up(errand, holder, f"Nothing here knows how to do errands of kind {errand.kind!r}.")
    claim = Claim(errand.pk, errand.kind, errand.key, errand.payload, holder, errand.tries, _speaker(errand, holder))
    try:
        with (
            LeaseKeeper(errand.pk, holder, entry.time_limit_s, end_process_on_overrun),
            by_the_firms_clock(),
            read_anew(),
        ):
            _work_and_store(entry.make(), claim)
    except LeaseLost:
        log.warning("errand lease lost", extra={"fields": {"errand": errand.pk, "kind": errand.kind}})
        return Outcome.NOT_OURS
    except ErrandRefused as refusal:
        return _give_up(errand, holder, str(refusal) or "The work was refused without a reason.")
    except Exception as error:
        log.exception("errand went wrong", extra={"fields": {"errand": errand.pk, "kind": errand.kind}})
        return _try_later(errand, holder, f"{type(error).__name__}: {error}")
    return Outcome.DONE


def _work_and_store(handler: ErrandKind, claim: Claim) -> None:
    failpoints.hit("during_work")
    result = handler.work(claim)
    with transaction.atomic():
        # Done first: the conditional UPDATE locks the row and is the fence. A worker whose lease was taken
        # over finds no row of its own and leaves nothing behind.
        _finish(claim.errand_id, claim.holder, state=ErrandState.DONE, progress_percent=100, error="")
        handler.store(claim, result)
        failpoints.hit("before_commit")


def _finish(errand_id: int, holder: str, **changes: Any) -> None:
    held = Errand.objects.filter(pk=errand_id, state=ErrandState.CLAIMED, claimed_by=holder)
    over = changes["state"] in (ErrandState.DONE, ErrandState.FAILED)
    changes |= {"claimed_by": "", "lease_until": None, "finished_at": clock.now() if over else None}
    if not held.update(**changes):
        raise LeaseLost(f"Errand {errand_id} is no longer held by {holder}.")


def _give_up(errand: Errand, holder: str, reason: str) -> Outcome:
    try:
        _finish(errand.pk, holder, state=ErrandState.FAILED, error=reason)
    except LeaseLost:
        return Outcome.NOT_OURS
    log.error("errand failed", extra={"fields": {"errand": errand.pk, "kind": errand.kind, "why": reason}})
    return Outcome.FAILED


def _try_later(errand: Errand, holder: str, reason: str) -> Outcome:
    if errand.tries >= MAX_TRIES:
        return _give_up(errand, holder, reason)
    due_at = clock.now() + BACK_OFF[errand.tries - 1]
    try:
        _finish(errand.pk, holder, state=ErrandState.WAITING, due_at=due_at, error=reason)
    except LeaseLost:
        return Outcome.NOT_OURS
    return Outcome.TRY_AGAIN


def _speaker(errand: Errand, holder: str) -> Any:
    def say(text: str, percent: int) -> None:
        Errand.objects.filter(pk=errand.pk, claimed_by=holder).update(
            progress_text=text[:200], progress_percent=max(0, min(99, percent))
        )

    return say


def sweep_errands(now: datetime) -> int:
    """Give back what dead workers held, fail what has used up its tries, and ring for all that is due."""
    lapsed = Errand.objects.filter(state=ErrandState.CLAIMED, lease_until__lte=now)
    return_or_fail(lapsed, now)
    due = list(takeable(now).values_list("pk", flat=True)[:1000])
    _ring_all(due)
    return len(due)


def free_orphans(now: datetime) -> None:
    """For the one embedded worker as it starts: whatever is claimed was claimed by one that died."""
    return_or_fail(Errand.objects.filter(state=ErrandState.CLAIMED), now)


def return_or_fail(held: QuerySet[Errand], now: datetime) -> None:
    freed = {"claimed_by": "", "lease_until": None}
    held.filter(tries__lt=MAX_TRIES).update(state=ErrandState.WAITING, due_at=now, **freed)
    held.filter(tries__gte=MAX_TRIES).update(
        state=ErrandState.FAILED,
        finished_at=now,
        error=f"The worker doing this died or hung {MAX_TRIES} times.",
        **freed,
    )


def _ring_all(errand_ids: Iterable[int]) -> None:
    for errand_id in errand_ids:
        if not ring(errand_id):
            return
