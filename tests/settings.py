"""The service's settings as the suite runs them."""

import os
import tempfile

# One folder per test process, so that parallel workers share no files.
os.environ.setdefault("CURVEWRIGHT_MODE", "embedded")
if "CURVEWRIGHT_DATA" not in os.environ or os.environ.get("CURVEWRIGHT_TEST_DATA_PARENT"):
    _folder = tempfile.TemporaryDirectory(prefix="curvewright-tests-")
    os.environ["CURVEWRIGHT_DATA"] = _folder.name
    os.environ["CURVEWRIGHT_TEST_DATA_PARENT"] = "1"

from quoting.settings import *  # noqa: F403
from quoting.settings import DATA_DIR, DATABASES, STORAGES

if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    # A file, as in service: SQLite in memory knows neither WAL nor waiting for a lock.
    # Its tables come from the models as they are: walking through the migrations takes longer than many tests. Whether
    # the two agree is asked by `make lint`; the tests of the service as a process migrate, and PostgreSQL's turn does.
    DATABASES["default"]["TEST"] = {"NAME": DATA_DIR / "tests.sqlite3", "MIGRATE": False}
elif "MIGRATED_DATABASE" in os.environ:
    # Migrated by tests.on_postgresql.
    DATABASES["default"]["TEST"] = {"TEMPLATE": os.environ["MIGRATED_DATABASE"], "MIGRATE": False}

ALLOWED_HOSTS = ["testserver", "localhost", "127.0.0.1"]
# The manifest exists only after collectstatic; a test of its own builds it.
STORAGES = STORAGES | {
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
# Argon2 is slow on purpose; a test of its own uses the real one.
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.MD5PasswordHasher",
    "django.contrib.auth.hashers.Argon2PasswordHasher",
]
WHITENOISE_AUTOREFRESH = True
