"""The key something is entered under: repeated with it, it is stored once."""

from __future__ import annotations

from typing import Annotated

from catalog.core.ground.declared.kinds import Text
from catalog.core.ground.document_reader import DocumentError, Reader

MAX_REQUEST_KEY = 100
RequestKey = Annotated[str, Text(longest=MAX_REQUEST_KEY), "Your own; repeated with it, it is stored once."]


class KeyUsedBefore(DocumentError):
    """The key of something else; nothing was stored."""

    status = 409


def request_key_of(reader: Reader) -> str:
    """The entry `request_key`. Raises DocumentError where it is missing or too long."""
    return reader.text("request_key", longest=MAX_REQUEST_KEY)


def key_used(what: str) -> DocumentError:
    """The refusal of a key that has entered something else. what: that, as people read it."""
    return KeyUsedBefore.at("request_key", f"has entered {what} already; open the page again and enter this there")


def refuse_another(differs: bool, what: str) -> None:
    """A key that was used for something else must not pass for the same thing sent twice. Raises KeyUsedBefore."""
    if differs:
        raise key_used(what)
