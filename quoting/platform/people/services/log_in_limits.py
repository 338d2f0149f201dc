"""How often passwords may be guessed, counted in rows, so that every process counts the same.

A guess is counted before its password is looked at, so that many at once come to no more than one after another, and
taken back when the password was right. Who logs in from a browser that logged in before is counted there alone: what
strangers guess elsewhere, or behind the same address, shuts no such browser out.
"""

import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from django.db import transaction
from django.db.models import F

from quoting.platform.people.models import GuessCount, KnownPlace, Person
from quoting.platform.people.services.tokens import digest_of

WINDOW_S = 15 * 60
MAX_OF_NAME_HERE = 8
MAX_HERE = 20
MAX_OF_NAME = 30
MAX_OVER_ALL = 60
KNOWN_FOR = timedelta(days=365)


class TooManyGuesses(Exception):
    def __init__(self, wait_s: int) -> None:
        super().__init__(f"Wait {wait_s} s.")
        self.wait_s = wait_s


@dataclass(frozen=True)
class Guess:
    """Who logs in, from which network, in which browser; empty where the browser brought no cookie of ours."""

    name: str
    network: str
    device: str = ""


@dataclass(frozen=True)
class Limit:
    digest: str
    most: int


def limit(most: int, *about: str) -> Limit:
    return Limit(digest_of("\0".join(about)), most)


def limits_of(guess: Guess) -> list[Limit]:
    """Always from the narrowest to the widest: two guesses at once then never wait for each other."""
    device, network = _digests(guess)
    known = KnownPlace.objects.filter(person__login_name=guess.name, digest__in=(device, network))
    digests = set(known.values_list("digest", flat=True))
    if device in digests:
        return [limit(MAX_OF_NAME_HERE, "name in browser", guess.name, guess.device)]
    here = [
        limit(MAX_OF_NAME_HERE, "name at network", guess.name, guess.network),
        limit(MAX_HERE, "network", guess.network),
    ]
    if network in digests:
        return here
    return [*here, limit(MAX_OF_NAME, "name", guess.name), limit(MAX_OVER_ALL, "all")]


def own_password_limit(person: Person) -> list[Limit]:
    return [limit(MAX_OF_NAME_HERE, "own password", str(person.pk))]


def count_guess(limits: Sequence[Limit], now: datetime) -> None:
    """Raises TooManyGuesses, and counts nothing, when one of the limits is used up."""
    ends_at = _window_end(now)
    full = TooManyGuesses(max(1, int((ends_at - now).total_seconds())))
    counts = GuessCount.objects.filter(ends_at=ends_at)
    # Read first: who goes on guessing after that waits for no lock, and makes nobody else wait.
    so_far = dict(counts.filter(digest__in=[entry.digest for entry in limits]).values_list("digest", "count"))
    if any(so_far.get(entry.digest, 0) >= entry.most for entry in limits):
        raise full
    with transaction.atomic():
        GuessCount.objects.bulk_create(
            [GuessCount(digest=entry.digest, ends_at=ends_at) for entry in limits], ignore_conflicts=True
        )
        for each in limits:
            if not counts.filter(digest=each.digest, count__lt=each.most).update(count=F("count") + 1):
                raise full


@transaction.atomic
def take_back(limits: Sequence[Limit], counted_at: datetime) -> None:
    counts = GuessCount.objects.filter(ends_at=_window_end(counted_at), count__gt=0)
    for entry in limits:
        counts.filter(digest=entry.digest).update(count=F("count") - 1)


@transaction.atomic
def remember(person: Person, guess: Guess, now: datetime) -> str:
    """The secret by which the browser is known from now on: the one it brought, when that is one of ours."""
    ours = guess.device and KnownPlace.objects.filter(digest=_digests(guess)[0]).exists()
    device = guess.device if ours else secrets.token_urlsafe(32)
    for digest in _digests(Guess(guess.name, guess.network, device)):
        KnownPlace.objects.update_or_create(person=person, digest=digest, defaults={"used_at": now})
    return device


def forget_what_is_over(now: datetime) -> None:
    GuessCount.objects.filter(ends_at__lt=now).delete()
    KnownPlace.objects.filter(used_at__lt=now - KNOWN_FOR).delete()


def _digests(guess: Guess) -> tuple[str, str]:
    return digest_of(f"browser {guess.device}"), digest_of(f"network {guess.network}")


def _window_end(now: datetime) -> datetime:
    return datetime.fromtimestamp((int(now.timestamp()) // WINDOW_S + 1) * WINDOW_S, UTC)
