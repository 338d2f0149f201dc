"""Why work or goods cost more than what they are quoted for, as whoever enters them says."""

from __future__ import annotations

import re
from collections.abc import Mapping

from catalog.core.ground.refusal import EntryError

REWORK, LATE, UNFORESEEN = "rework", "late", "unforeseen"
TAGS: Mapping[str, str] = {"": "As quoted", REWORK: "Rework", LATE: "Late", UNFORESEEN: "Unforeseen"}
"""Each with its words; besides these a change note by its number, `note 2`."""
TAG_MEANING = "Empty, rework, late, unforeseen, or note and the number of a change note."
MAX_TAG = 10
TAG_RE = re.compile(r"(rework|late|unforeseen|note [1-9][0-9]{0,4})?")
_NOTE = "note "


def note_number(tag: str) -> int | None:
    """The number of the change note a tag names.

    tag: as `read_tag` gives it. Returns the number, None where it names no note. Source: own convention.

    >>> note_number("note 2"), note_number("rework")
    (2, None)
    """
    return int(tag.removeprefix(_NOTE)) if tag.startswith(_NOTE) else None


def note_tag(number: int) -> str:
    """The tag of what is done for a change note.

    number: of the note within its job, from 1. Returns the tag. Source: own convention.

    >>> note_tag(2)
    'note 2'
    """
    return f"{_NOTE}{number}"


def read_tag(text: str) -> str:
    """Read a tag as people type it.

    text: one of `TAGS` or `note` and a number, whatever its capitals and spaces. Returns the tag. Raises EntryError
    naming what would be right. Source: own convention.

    >>> read_tag(" Note  2"), read_tag("")
    ('note 2', '')
    """
    tag = " ".join(text.casefold().split())
    if len(tag) > MAX_TAG or not TAG_RE.fullmatch(tag):
        known = ", ".join(tag for tag in TAGS if tag)
        raise EntryError("tag", f'"{text[:40]}" is not one of {known}, or note and its number; leave it empty for none')
    return tag


def tag_words(tag: str) -> str:
    """A tag as a screen shows it.

    tag: as `read_tag` gives it. Returns the words. Source: own convention.

    >>> tag_words("note 2"), tag_words("late")
    ('Change note 2', 'Late')
    """
    number = note_number(tag)
    return TAGS[tag] if number is None else f"Change note {number}"
