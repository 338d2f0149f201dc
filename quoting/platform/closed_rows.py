"""Rows of a closed month are refused by the database itself: none comes, none changes, none goes, whoever asks.

A table is guarded when its model has a `posted_month`, or stands in MONTH_COLUMNS. On PostgreSQL the guard shares the
lock of posting, so that no row slips in while a month is closing; SQLite lets one write at a time anyway. Installed and
looked after with the triggers of what is issued (`immutable_tables.py`).
"""

from django.apps import apps
from django.db.backends.base.base import BaseDatabaseWrapper

CLOSED = "quoting_closedmonth"
POSTED = "posted_month"
MONTH_COLUMNS = {"quoting_causesentence": "month"}
# What is written of a row after its month: its figures stay.
CHANGING: dict[str, tuple[str, ...]] = {}
VERBS = ("insert", "update", "delete")
# Any number, as long as nothing else locks by it.
POSTING = 706_867_724


def share_posting(connection: BaseDatabaseWrapper) -> None:
    """To the end of the transaction no month closes; others may post as well."""
    _lock(connection, "pg_advisory_xact_lock_shared")


def hold_posting(connection: BaseDatabaseWrapper) -> None:
    """To the end of the transaction nobody posts; waits for those who do."""
    _lock(connection, "pg_advisory_xact_lock")


def _lock(connection: BaseDatabaseWrapper, how: str) -> None:
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute(f"SELECT {how}({POSTING})")


def guarded() -> dict[str, str]:
    """Each table whose rows a close freezes, with the column of their month."""
    # What the history keeps of a row is no row that counts.
    models = [model for model in apps.get_models() if not hasattr(model, "instance_type")]
    posted = [model._meta.db_table for model in models if any(field.name == POSTED for field in model._meta.fields)]
    return {**dict.fromkeys(sorted(posted), POSTED), **MONTH_COLUMNS}


def trigger_names(connection: BaseDatabaseWrapper, table: str) -> list[str]:
    verbs = (*VERBS, "truncate") if connection.vendor == "postgresql" else VERBS
    return [f"{table}_{verb}_closed" for verb in verbs]


def guarding(connection: BaseDatabaseWrapper, present: set[str]) -> list[str]:
    """The statements that install every guard whose tables are there. Saying them again changes nothing."""
    tables = {name: column for name, column in guarded().items() if {name, CLOSED} <= present}
    if connection.vendor == "sqlite":
        return [text for name, column in tables.items() for text in _sqlite(connection, name, column)]
    functions = [_IS_CLOSED, _REFUSE_ROW, _REFUSE_TRUNCATE] if tables else []
    return functions + [text for name, column in tables.items() for text in _postgresql(name, column)]


def _sqlite(connection: BaseDatabaseWrapper, table: str, column: str) -> list[str]:
    with connection.cursor() as cursor:
        columns = [entry.name for entry in connection.introspection.get_table_description(cursor, table)]
    old, new = (f"EXISTS (SELECT 1 FROM {CLOSED} WHERE month >= {row}.{column})" for row in ("OLD", "NEW"))
    differs = " OR ".join(
        f'OLD."{entry}" IS NOT NEW."{entry}"' for entry in columns if entry not in CHANGING.get(table, ())
    )
    conditions = {"insert": new, "update": f"({old} OR {new}) AND ({differs})", "delete": old}
    statements = []
    for verb, condition in conditions.items():
        name = f"{table}_{verb}_closed"
        statements += [
            f"DROP TRIGGER IF EXISTS {name}",
            f"CREATE TRIGGER {name} BEFORE {verb.upper()} ON {table} FOR EACH ROW WHEN {condition} "
            f"BEGIN SELECT RAISE(ABORT, '{table}: its month is closed'); END",
        ]
    return statements


_IS_CLOSED = f"""
CREATE OR REPLACE FUNCTION month_is_closed(counted_in date) RETURNS boolean LANGUAGE plpgsql AS $$ BEGIN
    PERFORM pg_advisory_xact_lock_shared({POSTING});
    RETURN EXISTS (SELECT 1 FROM {CLOSED} WHERE month >= counted_in);
END $$"""

_REFUSE_ROW = """
CREATE OR REPLACE FUNCTION refuse_closed_month() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
    before jsonb := CASE WHEN TG_OP = 'INSERT' THEN NULL ELSE to_jsonb(OLD) END;
    after jsonb := CASE WHEN TG_OP = 'DELETE' THEN NULL ELSE to_jsonb(NEW) END;
    changing text[] := TG_ARGV[1:];
BEGIN
    IF (before - changing) IS DISTINCT FROM (after - changing) AND (
        month_is_closed((before ->> TG_ARGV[0])::date) OR month_is_closed((after ->> TG_ARGV[0])::date)
    ) THEN
        RAISE EXCEPTION '%: its month is closed', TG_TABLE_NAME USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN CASE WHEN TG_OP = 'DELETE' THEN OLD ELSE NEW END;
END $$"""

# A table without such rows may be emptied: nothing of worth is lost.
_REFUSE_TRUNCATE = """
CREATE OR REPLACE FUNCTION refuse_closed_truncate() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE found boolean;
BEGIN
    EXECUTE format('SELECT EXISTS (SELECT 1 FROM %I WHERE month_is_closed(%I))', TG_TABLE_NAME, TG_ARGV[0]) INTO found;
    IF found THEN
        RAISE EXCEPTION '%: its month is closed', TG_TABLE_NAME USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NULL;
END $$"""


def _postgresql(table: str, column: str) -> list[str]:
    changing = "".join(f", '{text}'" for text in CHANGING.get(table, ()))
    statements = []
    for verb in (*VERBS, "truncate"):
        name = f"{table}_{verb}_closed"
        each, call = "ROW", f"refuse_closed_month('{column}'{changing})"
        if verb == "truncate":
            each, call = "STATEMENT", f"refuse_closed_truncate('{column}')"
        statements += [
            f"DROP TRIGGER IF EXISTS {name} ON {table}",
            f"CREATE TRIGGER {name} BEFORE {verb.upper()} ON {table} FOR EACH {each} EXECUTE FUNCTION {call}",
        ]
    return statements
