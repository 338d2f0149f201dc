import logging

from celery import current_app
from django.conf import settings

log = logging.getLogger(__name__)


def ring(errand_id: int) -> bool:
    """Tell a worker that there is work. False when the bell is broken; the sweep rings again.

    Without REDIS_URL there is nothing to ring: the embedded worker looks at the rows several times a second.
    """
    if not settings.REDIS_URL:
        return True
    task = current_app.tasks["quoting.run_errand"]
    try:
        task.apply_async(args=[errand_id], retry=False)
    except Exception as error:  # kombu and redis raise many kinds; whichever it was, the row is safe
        log.warning("doorbell does not ring", extra={"fields": {"errand": errand_id, "why": type(error).__name__}})
        return False
    return True
