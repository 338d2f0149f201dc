"""What the tests run in other processes: python -m tests.quoting.platform.errands.crew COMMAND..."""

import os
import sys

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "quoting.settings")
django.setup()

from django.db import transaction  # noqa: E402

from quoting.celery import app  # noqa: E402
from quoting.platform import clock  # noqa: E402
from quoting.platform.errands.models import Errand  # noqa: E402
from quoting.platform.errands.services.errands import queue_errand, run_errand, sweep_errands  # noqa: E402
from quoting.platform.errands.worker import EmbeddedWorker, StopRequest  # noqa: E402
from tests.quoting.platform.errands import kinds  # noqa: E402

__all__ = ["app"]


def queue(kind: str, *keys: str) -> None:
    with transaction.atomic():
        for key in keys:
            queue_errand(kind, key, {}, clock.now())


def queue_and_work(kind: str, key: str) -> None:
    queue(kind, key)
    run_errand(Errand.objects.get(kind=kind, key=key).pk, "crew")


def drain() -> None:
    EmbeddedWorker(StopRequest().listen()).run(drain=True)


def later(seconds: str) -> None:
    """Sweep and work as if so many seconds had gone by."""
    with clock.use(kinds.LaterClock(float(seconds))):
        sweep_errands(clock.now())
        for errand_id in Errand.objects.filter(state="waiting").values_list("pk", flat=True):
            run_errand(errand_id, "crew, later")


def sweep() -> None:
    print(sweep_errands(clock.now()))


if __name__ == "__main__":
    commands = {
        "queue": queue,
        "queue_and_work": queue_and_work,
        "drain": drain,
        "later": later,
        "sweep": sweep,
    }
    commands[sys.argv[1]](*sys.argv[2:])
