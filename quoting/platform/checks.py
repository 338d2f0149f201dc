import os
import sys
from collections.abc import Iterable, Sequence

from django.apps import AppConfig
from django.conf import settings
from django.contrib.staticfiles.apps import StaticFilesConfig
from django.contrib.staticfiles.finders import get_finders
from django.contrib.staticfiles.storage import ManifestStaticFilesStorage
from django.core import checks
from django.db import connection

MIN_KEY_LENGTH = 50
SQLITE_PRAGMAS = {
    "journal_mode": ("wal", "WAL, so that readers do not wait for the writer"),
    "synchronous": (2, "FULL, so that a committed quote survives a power cut"),
    "foreign_keys": (1, "on, so that no row points at nothing"),
}


@checks.register(checks.Tags.security)
def production_is_closed(app_configs: Sequence[AppConfig] | None, **kwargs: object) -> list[checks.CheckMessage]:
    if not settings.PRODUCTION:
        return []
    return [
        *_when(settings.DEBUG, "E001", "Debug is on in production.", "Unset CURVEWRIGHT_DEBUG."),
        *_when(
            len(settings.SECRET_KEY) < MIN_KEY_LENGTH or settings.SECRET_KEY.startswith("django-insecure-"),
            "E002",
            "The secret key is a default or too short for production.",
            f"Set CURVEWRIGHT_SECRET_KEY to at least {MIN_KEY_LENGTH} random characters.",
        ),
        *_when(
            not settings.NAMED_HOSTS or any(host.startswith(("*", ".")) for host in settings.NAMED_HOSTS),
            "E003",
            "Production would answer to any host name, or to none.",
            "Set CURVEWRIGHT_HOSTS to the exact names people use, separated by commas.",
        ),
    ]


def _when(wrong: bool, code: str, message: str, hint: str) -> Iterable[checks.CheckMessage]:
    return [checks.Error(message, hint=hint, id=f"quoting.{code}")] if wrong else []


# For deployment alone: `serve` collects them itself.
@checks.register(checks.Tags.staticfiles, deploy=True)
def static_files_are_collected(app_configs: Sequence[AppConfig] | None, **kwargs: object) -> list[checks.CheckMessage]:
    if not settings.PRODUCTION:
        return []
    collected = ManifestStaticFilesStorage().hashed_files
    missing = [path for path in static_paths() if path not in collected]
    return [
        *_when(
            bool(missing),
            "E007",
            f"{len(missing)} static files are not collected, so pages would not open.",
            "Run manage.py collectstatic --noinput.",
        )
    ]


def static_paths() -> Iterable[str]:
    for finder in get_finders():
        for path, storage in finder.list(StaticFilesConfig.ignore_patterns):
            yield os.path.join(getattr(storage, "prefix", None) or "", path)


@checks.register(checks.Tags.database)
def sqlite_is_safe(
    app_configs: Sequence[AppConfig] | None, databases: Sequence[str] | None = None, **kwargs: object
) -> list[checks.CheckMessage]:
    if "default" not in (databases or ()) or connection.vendor != "sqlite":
        return []
    problems: list[checks.CheckMessage] = []
    with connection.cursor() as cursor:
        for pragma, (wanted, why) in SQLITE_PRAGMAS.items():
            result = cursor.execute(f"PRAGMA {pragma}").fetchone()[0]
            in_memory = pragma == "journal_mode" and result == "memory"
            if result != wanted and not in_memory:
                problems += _when(True, "E005", f"SQLite has {pragma} = {result}; it must be {why}.", "")
    options = settings.DATABASES["default"].get("OPTIONS", {})
    problems += _when(
        options.get("transaction_mode") != "IMMEDIATE" or options.get("timeout", 0) < 5,
        "E006",
        "SQLite must open transactions IMMEDIATE and wait at least 5 s for a lock.",
        "Leave DATABASES to quoting/platform/environment.py.",
    )
    return problems


def refuse_to_start_when_wrong() -> None:
    """For processes that do not go through manage.py's own checks."""
    result = checks.run_checks(databases=["default"], include_deployment_checks=settings.PRODUCTION)
    errors = [message for message in result if message.is_serious()]
    if errors:
        sys.exit("The service does not start:\n" + "\n".join(f"- {message}" for message in errors))
