"""Named places where a fault can be ordered, so that crashes are tested exactly.

CURVEWRIGHT_FAILPOINTS="after_claim=kill,during_render=sleep:2" orders them; unset, a place costs one test of
an empty dict. Orders: kill (SIGKILL to this process), raise, sleep:SECONDS.
"""

import os
import signal
import time
from collections.abc import Iterator
from contextlib import contextmanager

NAMES = frozenset(
    {
        "after_claim",  # the errand is ours, nothing has been done
        "during_work",  # the slow part has begun
        "during_render",  # a paper is being rendered
        "after_file",  # a file has its final name, no row knows of it
        "mail_begun",  # that a mail is being sent is committed, the mail server has not got it
        "mail_sent",  # the mail server has it, no row knows of it
        "alerts_kept",  # alerts that came up are written, nobody has been asked to mail them
        "before_commit",  # effect and "done" are written, not committed
        "before_ring",  # committed, the doorbell has not rung
    }
)


class FailpointError(Exception):
    """What a failpoint ordered to raise raises, and what a wrong order raises."""


def parse_orders(text: str) -> dict[str, str]:
    orders: dict[str, str] = {}
    for part in filter(None, (piece.strip() for piece in text.split(","))):
        name, _, order = part.partition("=")
        _refuse_wrong_order(name, order)
        orders[name] = order
    return orders


def _refuse_wrong_order(name: str, order: str) -> None:
    if name not in NAMES:
        raise FailpointError(f"There is no failpoint {name!r}; the names are: {', '.join(sorted(NAMES))}.")
    verb, _, amount = order.partition(":")
    if verb == "sleep":
        if not amount.replace(".", "", 1).isdigit():
            raise FailpointError(f"Failpoint {name} has the order {order!r}; write sleep:2 for two seconds.")
    elif order not in ("kill", "raise"):
        raise FailpointError(f"Failpoint {name} has the order {order!r}; write kill, raise or sleep:SECONDS.")


_orders = parse_orders(os.environ.get("CURVEWRIGHT_FAILPOINTS", ""))


def hit(name: str) -> None:
    if not _orders:
        return
    if name not in NAMES:
        raise FailpointError(f"Failpoint {name!r} is not declared in quoting/platform/failpoints.py.")
    order = _orders.get(name)
    if order == "kill":
        os.kill(os.getpid(), signal.SIGKILL)
    elif order == "raise":
        raise FailpointError(f"Failpoint {name} was ordered to raise.")
    elif order:
        time.sleep(float(order.partition(":")[2]))


@contextmanager
def ordered(**orders: str) -> Iterator[None]:
    global _orders
    for name, order in orders.items():
        _refuse_wrong_order(name, order)
    before, _orders = _orders, orders
    try:
        yield
    finally:
        _orders = before
