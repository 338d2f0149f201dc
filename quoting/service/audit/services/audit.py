from collections.abc import Callable, Iterable
from datetime import datetime, timedelta

from django.db.models import Q

from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.errands.services.errand_kinds import kind_entry
from quoting.platform.errands.services.errands import MAX_TRIES
from quoting.platform.people.models import Token

Check = Callable[[datetime], Iterable[str]]
_checks: dict[str, Check] = {}


def audit_check(name: str) -> Callable[[Check], Check]:
    """Register an invariant. The check gives one sentence for each thing that breaks it."""

    def register(check: Check) -> Check:
        if name in _checks:
            raise ValueError(f"Two audit checks are registered under the name {name!r}.")
        _checks[name] = check
        return check

    return register


def audit(now: datetime) -> dict[str, list[str]]:
    return {name: _found(check, now) for name, check in _checks.items()}


def _found(check: Check, now: datetime) -> list[str]:
    """A check that falls over what it looks at stops none of the others, and is no check passed."""
    result = []
    try:
        result.extend(check(now))
    except Exception as error:
        result.append(f"The check itself could not be done: {type(error).__name__}: {error}")
    return result


@audit_check("errands")
def errands_are_in_order(now: datetime) -> Iterable[str]:
    claimed = Q(state=ErrandState.CLAIMED)
    # Ten sweeps long: whatever is claimed with a lease so old is being looked at by nobody.
    for errand in Errand.objects.filter(claimed, lease_until__lt=now - timedelta(minutes=5)):
        yield f"{_named(errand)} is held on a lease that ran out long ago."
    for errand in Errand.objects.filter(claimed & (Q(claimed_by="") | Q(lease_until=None))):
        yield f"{_named(errand)} is claimed by nobody."
    for errand in Errand.objects.filter(tries__gt=MAX_TRIES):
        yield f"{_named(errand)} was tried {errand.tries} times; {MAX_TRIES} are allowed."
    for errand in Errand.objects.filter(state=ErrandState.DONE).exclude(progress_percent=100):
        yield f"{_named(errand)} is done but stands at {errand.progress_percent} %."
    waiting = Errand.objects.filter(state__in=[ErrandState.WAITING, ErrandState.CLAIMED])
    for kind in sorted(set(waiting.values_list("kind", flat=True))):
        if kind_entry(kind) is None:
            yield f"Errands of kind {kind!r} are waiting, and nothing here knows how to do them."


def _named(errand: Errand) -> str:
    return f"Errand {errand.pk} ({errand.kind} {errand.key})"


@audit_check("tokens")
def tokens_are_digests(now: datetime) -> Iterable[str]:
    for token in Token.objects.exclude(digest__regex=r"^[0-9a-f]{64}$"):
        yield f"Token {token.pk} is not kept as a SHA-256."
