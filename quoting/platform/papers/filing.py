"""Keeps finished papers on disk under the hash of their content, so no file is ever replaced by another."""

import hashlib
import os
import re
import tempfile
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from quoting.platform.failpoints import hit
from quoting.platform.papers.errors import PaperNotKept

FILE_MODE = 0o640
SUFFIX = re.compile(r"\.[a-z]{1,8}")


@dataclass(frozen=True)
class StoredFile:
    name: str
    sha256: str
    size_bytes: int


def store_file(folder: Path, data: bytes, *, suffix: str = ".pdf") -> StoredFile:
    if not data:
        raise PaperNotKept("The paper is empty; nothing was stored.")
    if not SUFFIX.fullmatch(suffix):
        raise ValueError(f"suffix is {suffix!r}; it must be a point and one to eight small letters, as in '.pdf'.")
    sha256 = hashlib.sha256(data).hexdigest()
    stored = StoredFile(name=f"{sha256}{suffix}", sha256=sha256, size_bytes=len(data))
    try:
        folder.mkdir(parents=True, exist_ok=True)
        write_then_rename(folder, stored.name, data)
    except OSError as error:
        raise PaperNotKept(
            f"The paper could not be stored ({error.strerror or type(error).__name__}); "
            "no half file was left. Free some space or check the folder's permissions, then try again."
        ) from error
    hit("after_file")
    return stored


def read_file(folder: Path, stored: StoredFile) -> bytes:
    try:
        data = (folder / stored.name).read_bytes()
    except OSError as error:
        raise PaperNotKept(
            f"The stored paper {stored.name} cannot be read ({error.strerror}); restore it from the backup."
        ) from error
    if len(data) != stored.size_bytes or hashlib.sha256(data).hexdigest() != stored.sha256:
        raise PaperNotKept(
            f"The stored paper {stored.name} is not the one that was made: its content has changed since. "
            "Restore it from the backup."
        )
    return data


def verify_file(folder: Path, stored: StoredFile) -> None:
    read_file(folder, stored)


def write_then_rename(folder: Path, name: str, data: bytes) -> None:
    handle, waiting = tempfile.mkstemp(prefix=".waiting-", dir=folder)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fchmod(file.fileno(), FILE_MODE)
            os.fsync(file.fileno())
        os.rename(waiting, folder / name)
    except BaseException:
        with suppress(FileNotFoundError):
            os.unlink(waiting)
        raise
    _sync_folder(folder)


def _sync_folder(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
