import errno
import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

from quoting.platform import failpoints
from quoting.platform.papers import filing
from quoting.platform.papers.errors import PaperNotKept
from quoting.platform.papers.filing import StoredFile, read_file, store_file, verify_file
from quoting.platform.papers.sealed import PROJECT

DATA = b"%PDF-1.7 a paper %%EOF"


def test_a_stored_paper_is_named_by_its_hash(tmp_path: Path) -> None:
    stored = store_file(tmp_path / "papers", DATA)
    assert stored == StoredFile(f"{hashlib.sha256(DATA).hexdigest()}.pdf", hashlib.sha256(DATA).hexdigest(), len(DATA))
    assert read_file(tmp_path / "papers", stored) == DATA


def test_storing_the_same_paper_twice_keeps_one_file(tmp_path: Path) -> None:
    assert store_file(tmp_path, DATA) == store_file(tmp_path, DATA)
    assert len(list(tmp_path.iterdir())) == 1


def test_another_paper_never_replaces_one_that_is_kept(tmp_path: Path) -> None:
    first = store_file(tmp_path, DATA)
    store_file(tmp_path, DATA + b" again")
    verify_file(tmp_path, first)


def test_others_on_the_machine_may_not_read_it(tmp_path: Path) -> None:
    stored = store_file(tmp_path, DATA)
    assert (tmp_path / stored.name).stat().st_mode & 0o007 == 0


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EIO, errno.EROFS])
@pytest.mark.parametrize("call", ["fsync", "rename"])
def test_a_disk_that_fails_leaves_no_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int, call: str
) -> None:
    def fail(*args: object) -> None:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(filing.os, call, fail)
    with pytest.raises(PaperNotKept, match=os.strerror(code)):
        store_file(tmp_path, DATA)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_a_file_is_a_clear_failure(tmp_path: Path) -> None:
    (tmp_path / "papers").write_text("in the way")
    with pytest.raises(PaperNotKept, match="could not be stored"):
        store_file(tmp_path / "papers", DATA)


def test_the_file_reaches_the_disk_before_its_name_and_the_name_before_we_return(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    steps: list[str] = []
    true_fsync, true_rename = os.fsync, os.rename

    def fsync(handle: int) -> None:
        steps.append("sync folder" if os.path.isdir(f"/proc/self/fd/{handle}") else "sync file")
        true_fsync(handle)

    def rename(source: str, target: Path) -> None:
        steps.append("rename")
        true_rename(source, target)

    monkeypatch.setattr(filing.os, "fsync", fsync)
    monkeypatch.setattr(filing.os, "rename", rename)
    store_file(tmp_path, DATA)
    assert steps == ["sync file", "rename", "sync folder"]


def test_a_kill_after_the_file_leaves_a_whole_file(tmp_path: Path) -> None:
    code = (
        "import sys; from pathlib import Path; from quoting.platform.papers.filing import store_file; "
        f"store_file(Path(sys.argv[1]), {DATA!r})"
    )
    killed = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path)],
        env={"PYTHONPATH": str(PROJECT), "CURVEWRIGHT_FAILPOINTS": "after_file=kill"},
        check=False,
    )
    assert killed.returncode == -9
    assert [path.read_bytes() for path in tmp_path.iterdir()] == [DATA]


def test_a_fault_after_the_file_reaches_the_caller(tmp_path: Path) -> None:
    with failpoints.ordered(after_file="raise"), pytest.raises(failpoints.FailpointError):
        store_file(tmp_path, DATA)


@pytest.mark.parametrize("damage", [b"", DATA[:-1], DATA + b" ", DATA.replace(b"a", b"b")])
def test_a_changed_file_is_not_handed_out(tmp_path: Path, damage: bytes) -> None:
    stored = store_file(tmp_path, DATA)
    (tmp_path / stored.name).write_bytes(damage)
    with pytest.raises(PaperNotKept, match="changed since"):
        read_file(tmp_path, stored)


def test_a_deleted_file_is_a_clear_failure(tmp_path: Path) -> None:
    stored = store_file(tmp_path, DATA)
    (tmp_path / stored.name).unlink()
    with pytest.raises(PaperNotKept, match="cannot be read"):
        verify_file(tmp_path, stored)


def test_an_empty_paper_is_not_stored(tmp_path: Path) -> None:
    with pytest.raises(PaperNotKept, match="empty"):
        store_file(tmp_path, b"")


@pytest.mark.parametrize("suffix", ["pdf", "/../x.pdf", ".PDF", "", ".pd f"])
def test_a_suffix_that_is_not_one_is_refused(tmp_path: Path, suffix: str) -> None:
    with pytest.raises(ValueError, match="suffix"):
        store_file(tmp_path, DATA, suffix=suffix)
