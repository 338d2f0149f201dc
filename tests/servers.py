"""Throwaway PostgreSQL and Redis servers for tests, each in a temporary folder of its own.

They end with the process that started them, however that ends."""

import ctypes
import os
import pwd
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

READY_WITHIN_S = 30.0
LIBC = ctypes.CDLL(None)
PR_SET_PDEATHSIG = 1


class CannotBeHad(Exception):
    """The server is not installed or does not start; the text is why."""


def program(name: str) -> str:
    folders = sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)
    result = shutil.which(name, path=os.pathsep.join([*map(str, folders), os.environ.get("PATH", "")]))
    if result is None:
        raise CannotBeHad(f"{name} is not installed")
    return result


def ends_with_parent(number: int) -> Callable[[], None]:
    """For preexec_fn: the kernel sends this signal when the thread that starts the process is gone. Linux alone."""

    def ask() -> None:
        if sys.platform == "linux":
            LIBC.prctl(PR_SET_PDEATHSIG, number)

    return ask


def _user_for_postgresql() -> str | None:
    """PostgreSQL refuses to run as root."""
    if os.geteuid() != 0:
        return None
    known = {entry.pw_name for entry in pwd.getpwall()}
    return "postgres" if "postgres" in known else "nobody"


@contextmanager
def own_postgresql() -> Iterator[str]:
    """The URL of a server that listens on a socket in a folder of its own, and keeps nothing."""
    initdb, postgres = program("initdb"), program("postgres")
    user = _user_for_postgresql()
    with tempfile.TemporaryDirectory(prefix="cw-pg-", ignore_cleanup_errors=True) as folder:
        if user:
            os.chown(folder, pwd.getpwnam(user).pw_uid, -1)
        as_user = {"user": user, "group": pwd.getpwnam(user).pw_gid, "extra_groups": []} if user else {}
        environment = {**os.environ, "HOME": folder, "LC_ALL": "C.UTF-8"}
        data = f"{folder}/data"
        log = open(f"{folder}/log", "w+")  # noqa: SIM115 - closed with the server, below
        made = subprocess.run(
            [initdb, "-D", data, "-A", "trust", "-U", "curvewright", "-E", "UTF8", "-N", "--no-instructions"],
            cwd=folder, env=environment, stdout=log, stderr=log, **as_user,
        )  # fmt: skip
        if made.returncode:
            raise CannotBeHad(f"initdb failed: {Path(folder, 'log').read_text()[-500:]}")
        quick = [
            "fsync=off",
            "synchronous_commit=off",
            "full_page_writes=off",
            "listen_addresses=",
            "timezone=UTC",
        ]
        server = subprocess.Popen(
            [postgres, "-D", data, "-k", folder, *(f"-c{setting}" for setting in quick)],
            cwd=folder, env=environment, stdout=log, stderr=log, start_new_session=True,
            preexec_fn=ends_with_parent(signal.SIGINT), **as_user,
        )  # fmt: skip
        try:
            url = f"postgresql://curvewright@/postgres?host={folder}"
            _wait_until(lambda: _postgresql_answers(url), server, Path(folder, "log"))
            yield url
        finally:
            _stop(server, signal.SIGINT)
            log.close()


@contextmanager
def own_redis(port: int | None = None) -> Iterator[str]:
    redis_server = program("redis-server")
    port = port or free_port()
    with tempfile.TemporaryDirectory(prefix="cw-redis-") as folder:
        log = open(f"{folder}/log", "w+")  # noqa: SIM115 - closed with the server, below
        server = subprocess.Popen(
            [redis_server, "--port", str(port), "--bind", "127.0.0.1", "--save", "", "--appendonly", "no",
             "--dir", folder],
            stdout=log, stderr=log, start_new_session=True, preexec_fn=ends_with_parent(signal.SIGTERM),
        )  # fmt: skip
        try:
            _wait_until(lambda: _listens(port), server, Path(folder, "log"))
            yield f"redis://127.0.0.1:{port}/0"
        finally:
            _stop(server, signal.SIGTERM)
            log.close()


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def _postgresql_answers(url: str) -> bool:
    import psycopg

    try:
        psycopg.connect(url, connect_timeout=2).close()
    except psycopg.OperationalError:
        return False
    return True


def _listens(port: int) -> bool:
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0


def _wait_until(answers: object, server: subprocess.Popen[bytes], log: Path) -> None:
    ends_at = time.monotonic() + READY_WITHIN_S
    while time.monotonic() < ends_at and server.poll() is None:
        if answers():  # type: ignore[operator]
            return
        time.sleep(0.05)
    raise CannotBeHad(f"the server did not start: {log.read_text()[-500:]}")


def _stop(server: subprocess.Popen[bytes], number: int) -> None:
    if server.poll() is None:
        server.send_signal(number)
    try:
        server.wait(10)
    except subprocess.TimeoutExpired:
        server.kill()
        server.wait()
