import gc
import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import settings

from quoting.platform import clock
from tests.servers import CannotBeHad, own_postgresql, own_redis
from tests.service import STARTS_AT, OwnService, Template

# Nothing is timed here: on a shared machine a slow example says nothing about the code.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")

gc.disable()  # until everything is imported: nothing of it goes again
REQUIRE_ALL = bool(os.environ.get("CURVEWRIGHT_REQUIRE_ALL"))
DATABASE_FIXTURES = {"db", "transactional_db", "live_server", "service_template", "own_postgresql_url"}
skipped: list[str] = []


def pytest_ignore_collect(collection_path: Path) -> bool | None:
    """On PostgreSQL's turn a module without a mark of it is not even imported."""
    on_its_turn = os.environ.get("DATABASE_URL") and not os.environ.get("CURVEWRIGHT_TRIAL")
    if not on_its_turn or collection_path.suffix != ".py":
        return None
    text = collection_path.read_text(encoding="utf-8")
    return None if "mark.both_engines" in text or "mark.postgresql" in text else True


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leaves out what the suite's other turn runs.

    SQLite's turn runs everything but the tests written for PostgreSQL. PostgreSQL's turn runs those, and what
    is marked both_engines: constraints, triggers, conditional updates, races, what is typed to break a page, and how
    numbers and documents are stored and searched. With CURVEWRIGHT_TRIAL it runs all that has to do with the database,
    but for the browser.
    """
    elsewhere = _not_on_postgresql if os.environ.get("DATABASE_URL") else _only_on_postgresql
    left_out = {item: elsewhere(item) or _only_in_make_faults(item) for item in items}
    if any(left_out.values()):
        config.hook.pytest_deselected(items=[item for item in items if left_out[item]])
        items[:] = [item for item in items if not left_out[item]]


def _only_in_make_faults(item: pytest.Item) -> bool:
    return _is_marked(item, "faults_alone") and not os.environ.get("CURVEWRIGHT_FAULT_ROUNDS")


def _only_on_postgresql(item: pytest.Item) -> bool:
    return _is_marked(item, "postgresql")


def _not_on_postgresql(item: pytest.Item) -> bool:
    if _is_marked(item, "sqlite", "browser"):
        return True
    if _is_marked(item, "postgresql", "both_engines"):
        return False
    if not os.environ.get("CURVEWRIGHT_TRIAL"):
        return True
    asked_for = set(getattr(item, "fixturenames", ()))
    return not (asked_for & DATABASE_FIXTURES or _is_marked(item, "django_db"))


def _is_marked(item: pytest.Item, *names: str) -> bool:
    return any(item.get_closest_marker(name) for name in names)


def pytest_collection_finish(session: pytest.Session) -> None:
    """What is there by now stays to the end; looking through it for garbage took a sixth of the suite's time."""
    gc.collect()
    gc.freeze()
    gc.enable()
    gc.set_threshold(50_000, 20, 20)


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    if report.skipped and not hasattr(report, "wasxfail"):
        skipped.append(report.nodeid)


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish(session: pytest.Session) -> None:
    if REQUIRE_ALL and skipped and not hasattr(session.config, "workerinput"):
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if REQUIRE_ALL and skipped:
        terminalreporter.section("Nothing may be skipped here, and these were")
        for nodeid in skipped:
            terminalreporter.line(nodeid)


@pytest.fixture(scope="session")
def own_postgresql_url() -> Iterator[str]:
    try:
        with own_postgresql() as url:
            yield url
    except CannotBeHad as reason:
        pytest.skip(f"PostgreSQL cannot be had: {reason}")


@pytest.fixture(scope="session")
def own_redis_url() -> Iterator[str]:
    try:
        with own_redis() as url:
            yield url
    except CannotBeHad as reason:
        pytest.skip(f"Redis cannot be had: {reason}")


@pytest.fixture(scope="session")
def chromium_path() -> str:
    result = shutil.which("chromium") or shutil.which("chromium-browser")
    if result is None:
        pytest.skip("Chromium is not installed")
    return result


@pytest.fixture(autouse=True)
def frozen_clock() -> Iterator[clock.FrozenClock]:
    """Monday 5 October 2026, 09:00 UTC, until moved: the day of every test, whichever day it runs on."""
    frozen = clock.FrozenClock(STARTS_AT)
    with clock.use(frozen):
        yield frozen


@pytest.fixture(scope="session", autouse=True)
def emptied_tables_keep_their_triggers() -> Iterator[None]:
    """Once tables are emptied Django lists models and rights, which nothing reads here, and the triggers are made anew:
    that took twenty times as long as emptying.
    """
    from django.core.management.commands import flush
    from django.db import connections

    from quoting.platform.immutable_tables import freeze, missing_triggers

    def freeze_again(verbosity: int, interactive: bool, db: str) -> None:
        if missing_triggers(connections[db]):
            freeze(connections[db])

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(flush, "emit_post_migrate_signal", freeze_again)
        yield


@pytest.fixture
def make_person(db: None) -> Callable[..., object]:
    from quoting.platform.people.models import Person

    def make(role: str, login_name: str = "", **fields: object) -> Person:
        login_name = login_name or f"the-{role}"
        return Person.objects.create_user(login_name, "a long enough phrase", role=role, full_name=login_name, **fields)

    return make


@pytest.fixture(scope="session")
def shared_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Of all the workers of the run."""
    ours = tmp_path_factory.getbasetemp()
    return ours.parent if "PYTEST_XDIST_WORKER" in os.environ else ours


@pytest.fixture(scope="session", autouse=True)
def rows_are_shared(shared_folder: Path) -> None:
    from tests import stored

    stored.shared.append(shared_folder)


@pytest.fixture(scope="session")
def service_template(shared_folder: Path) -> Template:
    return Template(shared_folder / "template")


@pytest.fixture
def own_service(service_template: Template, tmp_path: Path) -> Iterator[OwnService]:
    with service_template.copy(tmp_path) as service:
        yield service
