"""Who follows what is ordered, comes and goes back."""

from collections.abc import Callable, Collection, Iterable

after_ordering: list[Callable[[Collection[int]], None]] = []
"""Called with ids of jobs of whose items something was placed, promised, received or sent back, where it is stored."""


def orders_changed(job_ids: Iterable[int]) -> None:
    """To be called in the transaction that stores the change."""
    changed = sorted(set(job_ids))
    for follow in after_ordering:
        follow(changed)
