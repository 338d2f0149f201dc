"""What the tests run in other processes: python -m tests.support.crew COMMAND..."""

import os
import sys

import django

from catalog.core.ground.refusal import Refused

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "quoting.settings")
django.setup()

from django.db import transaction  # noqa: E402

from jobs.jobs.models import Job  # noqa: E402
from quoting.platform import clock  # noqa: E402
from quoting.platform.errands.models import Errand  # noqa: E402
from quoting.platform.errands.worker import EmbeddedWorker, StopRequest  # noqa: E402
from quoting.quotes.models import QuoteSequence  # noqa: E402
from quoting.quotes.services.quotes import issue_quote, next_quote_number  # noqa: E402
from tests.support import worked  # noqa: E402


def load(*keys: str) -> None:
    for key in keys:
        worked.small_job(key)
    worked.estimator()
    # What the jobs themselves asked for is not what these tests watch.
    Errand.objects.all().delete()


def issue(key: str, *request_keys: str) -> None:
    """Says when it is ready, and issues once a line is read: so that several begin together."""
    job, by = Job.objects.get(key=key), worked.estimator()
    print("ready", flush=True)
    sys.stdin.readline()
    for request_key in request_keys:
        wanted = {"request_key": request_key, "seen_mark": None, "by": by, "now": clock.now()}
        try:
            print(issue_quote(job, **wanted, today=worked.TODAY), flush=True)
        except Refused as refusal:
            print(f"refused: {refusal}", flush=True)


def number(how: str, count: str) -> None:
    """Take numbers as issuing does, or carelessly: read, add one, write, as the control."""
    print("ready", flush=True)
    sys.stdin.readline()
    for _ in range(int(count)):
        if how == "careful":
            with transaction.atomic():
                print(next_quote_number(2026), flush=True)
        else:
            last = QuoteSequence.objects.get_or_create(year=2026)[0].last + 1
            QuoteSequence.objects.filter(year=2026).update(last=last)
            print(f"Q-2026-{last:04d}", flush=True)


def drain() -> None:
    EmbeddedWorker(StopRequest().listen()).run(drain=True)


if __name__ == "__main__":
    commands = {"load": load, "issue": issue, "number": number, "drain": drain}
    commands[sys.argv[1]](*sys.argv[2:])
