"""What a sheet would do before it does it, whatever it is a sheet of."""

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Protocol

from catalog.core.ground.refusal import Refused
from catalog.services.csv_reading import LineError

Document = dict[str, Any]
NOT_THE_FILE = "This is not the file that was previewed. Choose the file again."


class Entry(Protocol):
    """A material or a supplier as the rows of the sheet would have it, and the line where it begins."""

    code: str
    line: int
    document: Document


@dataclass(frozen=True)
class Change:
    """One entry of a material or supplier that the file would change."""

    line: int
    code: str
    entry: str
    old: str
    new: str


class Previewed(Protocol):
    @property
    def sha256(self) -> str: ...
    @property
    def errors(self) -> tuple[LineError, ...]: ...


@dataclass(frozen=True)
class Preview:
    """What a file would do, before it does it. sha256: of the file. plan_sha256: of what it would do."""

    sha256: str
    added: tuple[str, ...] = ()
    changes: tuple[Change, ...] = ()
    unchanged: tuple[str, ...] = ()
    errors: tuple[LineError, ...] = ()
    plan_sha256: str = ""
    wanted: tuple[Any, ...] = field(default=(), repr=False, compare=False)
    removed: tuple[str, ...] = ()

    @property
    def changed(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(change.code for change in self.changes))


def sha256_of(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def refused(content: bytes, errors: Iterable[LineError]) -> Preview:
    return Preview(sha256_of(content), errors=tuple(sorted(errors, key=lambda error: error.line)))


def compared(content: bytes, wanted: Sequence[Entry], present: Mapping[str, Document]) -> Preview:
    """What would be added, changed and left of what has a code."""
    changes = [change for entry in wanted if entry.code in present for change in _changes(entry, present[entry.code])]
    touched = {change.code for change in changes}
    doing = [entry for entry in wanted if entry.code in touched or entry.code not in present]
    return Preview(
        sha256_of(content),
        tuple(entry.code for entry in wanted if entry.code not in present),
        tuple(changes),
        tuple(entry.code for entry in wanted if entry.code in present and entry.code not in touched),
        (),
        digest([[entry.document for entry in doing], [vars(change) for change in changes]]),
        tuple(doing),
    )


def digest(plan: Any) -> str:
    return hashlib.sha256(json.dumps(plan, sort_keys=True, default=str).encode()).hexdigest()


def _changes(each: Entry, present: Document) -> Iterator[Change]:
    old, new = dict(_entries(present)), dict(_entries(each.document))
    for entry in [*old, *(entry for entry in new if entry not in old)]:
        before, after = old.get(entry, ""), new.get(entry, "")
        if before != after:
            yield Change(each.line, each.code, entry, before, after)


def _entries(value: Any, at: str = "") -> Iterator[tuple[str, str]]:
    """A document as entries for a person: packs by their code, prices and closed days by their day."""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from _entries(inner, f"{at} {name}".strip())
    elif isinstance(value, list):
        for place, inner in enumerate(value):
            named = inner if isinstance(inner, dict) else {}
            name = named.get("code") or named.get("starts_on") or named.get("first") or place + 1
            yield from _entries(inner, f"{at} {name}")
    elif isinstance(value, bool):
        yield at, "yes" if value else "no"
    else:
        yield at, "" if value is None else str(value)


def refuse_other_file(preview: Previewed, sha256: str) -> None:
    """Only this very file, all of it or nothing."""
    if preview.sha256 != sha256:
        raise Refused(NOT_THE_FILE)
    if preview.errors:
        raise Refused(*(str(error) for error in preview.errors))


def refuse_unseen(preview: Preview, sha256: str, plan_sha256: str) -> None:
    """Only this very file, all of it or nothing; with `plan_sha256` only while it comes to the same changes."""
    refuse_other_file(preview, sha256)
    if plan_sha256 and preview.plan_sha256 != plan_sha256:
        raise Refused("The catalog changed since the file was previewed; preview it again.")
