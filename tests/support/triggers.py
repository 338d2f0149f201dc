"""The triggers that keep issued rows, for tests that commit: emptied tables get theirs again by themselves."""

from django.db import connection


def drop_triggers() -> None:
    """On SQLite, so that what was issued can be deleted after the test."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
        for (name,) in cursor.fetchall():
            cursor.execute(f"DROP TRIGGER {name}")
