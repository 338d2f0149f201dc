"""Errand kinds for tests. An effect is a heartbeat row of its own name, so two effects are two rows."""

import uuid
from datetime import timedelta
from typing import Any, ClassVar

from django.conf import settings

from quoting.platform import clock, failpoints
from quoting.platform.errands.models import Heartbeat
from quoting.platform.errands.services.errand_kinds import Claim, ErrandRefused, errand_kind


def leave_effect(key: str) -> None:
    Heartbeat.objects.create(name=f"effect {key} {uuid.uuid4().hex[:8]}", beat_at=clock.now())


def effects_of(key: str) -> int:
    return Heartbeat.objects.filter(name__startswith=f"effect {key} ").count()


@errand_kind("careful")
class Careful:
    """Writes a file in the slow half and leaves its effect in the quick half, as a paper does."""

    time_limit_s: ClassVar[int] = 60

    def work(self, claim: Claim) -> str:
        claim.say("writing", 50)
        draft = settings.DATA_DIR / f"{claim.key}.{claim.holder.rpartition('/')[2]}"
        draft.write_text(claim.key)
        draft.replace(settings.DATA_DIR / f"{claim.key}.txt")
        failpoints.hit("after_file")
        return claim.key

    def store(self, claim: Claim, result: str) -> None:
        leave_effect(result)


@errand_kind("careless")
class Careless:
    """What no handler may do: leaves its effect in the slow half. The control of the tests that kill."""

    time_limit_s: ClassVar[int] = 60

    def work(self, claim: Claim) -> None:
        leave_effect(claim.key)

    def store(self, claim: Claim, result: None) -> None:
        pass


@errand_kind("broken")
class Broken:
    time_limit_s: ClassVar[int] = 60

    def work(self, claim: Claim) -> Any:
        raise RuntimeError("the saw is blunt")

    def store(self, claim: Claim, result: Any) -> None:
        raise AssertionError("never reached")


@errand_kind("half stored")
class HalfStored:
    time_limit_s: ClassVar[int] = 60

    def work(self, claim: Claim) -> None:
        pass

    def store(self, claim: Claim, result: None) -> None:
        leave_effect(claim.key)
        raise RuntimeError("the ink ran out")


@errand_kind("refused")
class Refused:
    time_limit_s: ClassVar[int] = 60

    def work(self, claim: Claim) -> Any:
        raise ErrandRefused("The quote was withdrawn.")

    def store(self, claim: Claim, result: Any) -> None:
        raise AssertionError("never reached")


class LaterClock:
    """The clock in use, some time ahead: for what happens once a lease has run out."""

    def __init__(self, seconds: float) -> None:
        self._base, self._ahead = clock.current(), timedelta(seconds=seconds)

    def now(self) -> Any:
        return self._base.now() + self._ahead


@errand_kind("hasty")
class Hasty(Careful):
    """Done at once, or not at all: its time limit is a second."""

    time_limit_s: ClassVar[int] = 1
