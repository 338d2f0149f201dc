"""What was asked is well formed, and is not done as things stand."""

from __future__ import annotations

from typing import ClassVar


class Refused(Exception):
    """Nothing was kept. Each sentence says what stands in the way and what would be right.

    sentences: what people read. status: the HTTP status it is answered with. path: what of the request it concerns,
    empty for the whole. place: name and arguments of the page where what stands in the way is cleared.
    """

    status: ClassVar[int] = 409
    path: ClassVar[str] = ""
    place: tuple[str, ...] = ()

    def __init__(self, *sentences: str) -> None:
        super().__init__(" ".join(sentences))
        self.sentences = sentences


class InvalidValue(ValueError):
    """What a value of the core cannot be; the message says what would be right. field: the entry, if of one."""

    field: str = ""


class EntryError(InvalidValue):
    """A figure that cannot be what it is entered as. `field` names the entry, `reason` says what would be right."""

    def __init__(self, field: str, reason: str) -> None:
        super().__init__(reason)
        self.field = field
        self.reason = reason
