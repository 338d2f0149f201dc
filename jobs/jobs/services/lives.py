"""Where jobs stand and what is next, as the room that keeps it says; no room here knows of quotes."""

from collections.abc import Callable, Collection
from typing import Any

from jobs.jobs.models import Job

Lives = Callable[[Collection[Job], bool], dict[int, dict[str, Any]]]
_readers: list[Lives] = []


def read_lives_with(reader: Lives) -> None:
    """reader: documents by id of the job; the flag is whether whoever asks sees money and suppliers."""
    _readers.append(reader)


def lives_as_documents(jobs: Collection[Job], *, at_desk: bool) -> dict[int, dict[str, Any]]:
    return _readers[-1](jobs, at_desk)
