import socket

from celery import shared_task

from quoting.platform import clock
from quoting.platform.errands.services import errands, heartbeats


@shared_task(name="quoting.run_errand")
def run_errand(errand_id: int) -> str:
    outcome = errands.run_errand(errand_id, f"celery@{socket.gethostname()}")
    heartbeats.beat("worker", clock.now())
    return outcome


@shared_task(name="quoting.beat_worker")
def beat_worker() -> None:
    """Rung by the tick: a fresh beat proves that broker and worker are both alive."""
    heartbeats.beat("worker", clock.now())
