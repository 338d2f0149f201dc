"""A copy of the service for one test: own data folder, own database, run in processes that may be killed."""

import fcntl
import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit, urlunsplit

from quoting.platform.clock import SystemClock
from tests.servers import ends_with_parent

ROOT = Path(__file__).resolve().parent.parent
STARTS_AT = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)
# Processes run on from there, or from the day the suite is given; a midnight that passes meanwhile passes for all.
FIRST_DAY = date.fromisoformat(os.environ.get("CURVEWRIGHT_TODAY") or STARTS_AT.date().isoformat())
BEGAN_AT = SystemClock().now()


class OwnService:
    def __init__(self, folder: Path, database_url: str = "") -> None:
        self.folder = folder
        self.database_url = database_url
        self.first_day = FIRST_DAY

    @property
    def environment(self) -> dict[str, str]:
        left = {name: value for name, value in os.environ.items() if not name.startswith("CURVEWRIGHT_")}
        left.pop("REDIS_URL", None)
        left.pop("DATABASE_URL", None)
        # Set by the browser tests in their own process, and refused by the check for deployment.
        left.pop("DJANGO_ALLOW_ASYNC_UNSAFE", None)
        left |= {"DATABASE_URL": self.database_url} if self.database_url else {}
        since = SystemClock().now().date() - BEGAN_AT.date()
        return left | {
            "CURVEWRIGHT_DATA": str(self.folder),
            "CURVEWRIGHT_TODAY": (self.first_day + since).isoformat(),
            "CURVEWRIGHT_MODE": "embedded",
            "DJANGO_SETTINGS_MODULE": "quoting.settings",
        }

    def start(self, *command: str, **environment: str) -> subprocess.Popen[str]:
        return subprocess.Popen(
            [sys.executable, *command],
            cwd=ROOT, env=self.environment | environment, text=True,
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, start_new_session=True,
            preexec_fn=ends_with_parent(signal.SIGTERM),
        )  # fmt: skip

    def run(self, *command: str, **environment: str) -> subprocess.CompletedProcess[str]:
        process = self.start(*command, **environment)
        try:
            out, err = process.communicate(timeout=300)
        except subprocess.TimeoutExpired:
            process.kill()
            raise
        return subprocess.CompletedProcess(command, process.returncode, out, err)

    def manage(self, *arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
        return self.run("manage.py", *arguments, **environment)

    def crew(self, *arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
        return self.run("-m", "tests.quoting.platform.errands.crew", *arguments, **environment)

    def rows(self, query: str) -> list[tuple[Any, ...]]:
        if self.database_url:
            import psycopg

            with psycopg.connect(self.database_url) as connection:
                return connection.execute(query).fetchall()
        with sqlite3.connect(self.folder / "curvewright.sqlite3", timeout=20) as connection:
            return connection.execute(query).fetchall()


# Names the migrated database on the server of DATABASE_URL, where tests.on_postgresql has made it.
MIGRATED = "MIGRATED_DATABASE"


class Template:
    """A migrated database, made once a run and copied for each test."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.server_url = os.environ.get("DATABASE_URL", "")
        self.name = os.environ.get(MIGRATED, "")
        if not self.name:
            self._make()

    def _make(self) -> None:
        self.folder.mkdir(exist_ok=True)
        with open(self.folder / "lock", "w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            if self.server_url:
                self.name = f"template_{uuid.uuid4().hex[:8]}"
                self._ask_server(f"CREATE DATABASE {self.name}")
            elif (self.folder / "migrated").exists():
                return
            made = OwnService(self.folder, self._url(self.name)).start("manage.py", "migrate", "-v0")
            _, err = made.communicate(timeout=300)
            assert made.returncode == 0, err
            (self.folder / "migrated").touch()

    @contextmanager
    def copy(self, folder: Path) -> Iterator[OwnService]:
        if not self.server_url:
            shutil.copy(self.folder / "curvewright.sqlite3", folder)
            yield OwnService(folder)
            return
        name = f"copy_{uuid.uuid4().hex[:8]}"
        self._ask_server(f"CREATE DATABASE {name} TEMPLATE {self.name}")
        try:
            yield OwnService(folder, self._url(name))
        finally:
            self._ask_server(f"DROP DATABASE {name} WITH (FORCE)")

    def _url(self, name: str) -> str:
        return urlunsplit(urlsplit(self.server_url)._replace(path=f"/{name}")) if self.server_url else ""

    def _ask_server(self, statement: str) -> None:
        import psycopg

        with psycopg.connect(self.server_url, autocommit=True) as connection:
            connection.execute(statement)
