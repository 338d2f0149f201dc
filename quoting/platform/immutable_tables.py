"""What has been issued is frozen by the database itself: triggers refuse to change or delete it, whoever asks.

On SQLite a migration that changes a table makes it anew and loses its triggers without a word, so they are
installed again after every migrate; the audit tells when one is missing.
"""

from dataclasses import dataclass, field

from django.db.backends.base.base import BaseDatabaseWrapper

from quoting.platform import closed_rows

STATES = {
    "issued": ("superseded", "withdrawn", "lapsed", "accepted", "declined"),
    "accepted": ("taken_back",),
}
NOTE_STATES = {"issued": ("signed", "declined", "withdrawn")}


@dataclass(frozen=True)
class FrozenTable:
    """changing: the columns that may change; state_steps: state -> the states it may be followed by."""

    name: str
    changing: tuple[str, ...] = ()
    state_steps: dict[str, tuple[str, ...]] = field(default_factory=dict)


FROZEN = (
    FrozenTable("quoting_quote"),
    FrozenTable("quoting_quoterevision", ("state", "state_at", "state_by_name", "state_reason"), STATES),
    FrozenTable("quoting_quoteline"),
    FrozenTable("quoting_quoteinstalment"),
    FrozenTable("quoting_marginapproval"),
    FrozenTable("quoting_revisionapproval"),
    FrozenTable("quoting_paper"),
    FrozenTable("quoting_clientanswer"),
    FrozenTable("quoting_takeback"),
    FrozenTable("quoting_clientlink", ("withdrawn_at",)),
    FrozenTable("quoting_changenote", ("state", "state_at", "state_by_name", "state_reason"), NOTE_STATES),
    FrozenTable("quoting_changenoteline"),
    FrozenTable("quoting_changenotecost"),
    FrozenTable("quoting_changeanswer"),
    FrozenTable("quoting_quotedside"),
    FrozenTable("quoting_learntstandard"),
    FrozenTable("quoting_saidleft"),
    FrozenTable("quoting_closedmonth"),
    FrozenTable("jobs_billline"),
    FrozenTable("jobs_accepteddifference"),
    FrozenTable("quoting_paymentrequest"),
    FrozenTable("quoting_requestednote"),
)


def freeze(connection: BaseDatabaseWrapper) -> None:
    """Install every trigger whose table is there. Doing it again changes nothing."""
    with connection.cursor() as cursor:
        present = set(connection.introspection.table_names(cursor))
        for table in FROZEN:
            if table.name in present:
                for statement in _statements(connection, table):
                    cursor.execute(statement)
        for statement in closed_rows.guarding(connection, present):
            cursor.execute(statement)


def thaw(connection: BaseDatabaseWrapper) -> None:
    """Take the triggers away: for undoing the migration, and for tests that must empty the tables."""
    with connection.cursor() as cursor:
        present = set(connection.introspection.table_names(cursor))
        for name, table in _wanted(connection).items():
            on_table = f" ON {table}" if connection.vendor == "postgresql" else ""
            if table in present:
                cursor.execute(f"DROP TRIGGER IF EXISTS {name}{on_table}")


def trigger_names(connection: BaseDatabaseWrapper, table: FrozenTable) -> list[str]:
    kinds = ["update", "delete", *(["state"] if table.state_steps else [])]
    kinds += ["truncate"] if connection.vendor == "postgresql" else []
    return [f"{table.name}_{kind}_frozen" for kind in kinds]


def _wanted(connection: BaseDatabaseWrapper) -> dict[str, str]:
    """Every trigger there should be, and its table."""
    frozen = {name: table.name for table in FROZEN for name in trigger_names(connection, table)}
    closed = {name: table for table in closed_rows.guarded() for name in closed_rows.trigger_names(connection, table)}
    return frozen | closed


def missing_triggers(connection: BaseDatabaseWrapper) -> list[str]:
    catalogue = {
        "sqlite": "SELECT name FROM sqlite_master WHERE type = 'trigger'",
        "postgresql": "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal AND tgenabled <> 'D'",
    }
    with connection.cursor() as cursor:
        cursor.execute(catalogue[connection.vendor])
        present = {row[0] for row in cursor.fetchall()}
    return [name for name in _wanted(connection) if name not in present]


def _statements(connection: BaseDatabaseWrapper, table: FrozenTable) -> list[str]:
    return _sqlite(connection, table) if connection.vendor == "sqlite" else _postgresql(table)


def _wrong_step(table: FrozenTable) -> str:
    allowed = " OR ".join(
        f"(OLD.state = '{state}' AND NEW.state IN ({', '.join(repr(text) for text in following)}))"
        for state, following in table.state_steps.items()
    )
    return f"OLD.state <> NEW.state AND NOT ({allowed})"


def _sqlite(connection: BaseDatabaseWrapper, table: FrozenTable) -> list[str]:
    with connection.cursor() as cursor:
        columns = [entry.name for entry in connection.introspection.get_table_description(cursor, table.name)]
    differs = " OR ".join(f'OLD."{column}" IS NOT NEW."{column}"' for column in columns if column not in table.changing)
    wanted = {
        "update": ("UPDATE", f"WHEN {differs}", "is issued and cannot be changed"),
        "delete": ("DELETE", "", "is issued and cannot be deleted"),
    }
    if table.state_steps:
        wanted["state"] = ("UPDATE", f"WHEN {_wrong_step(table)}", "cannot go from this state to that one")
    statements = []
    for kind, (verb, when, message) in wanted.items():
        name = f"{table.name}_{kind}_frozen"
        statements += [
            f"DROP TRIGGER IF EXISTS {name}",
            f"CREATE TRIGGER {name} BEFORE {verb} ON {table.name} FOR EACH ROW {when} "
            f"BEGIN SELECT RAISE(ABORT, '{table.name} {message}'); END",
        ]
    return statements


def _postgresql(table: FrozenTable) -> list[str]:
    stored = "".join(f" - '{text}'" for text in table.changing)
    state = (
        f"IF {_wrong_step(table)} THEN {_raise(table, 'cannot go from this state to that one')} END IF;"
        if table.state_steps
        else ""
    )
    refuse_update = (
        f"IF to_jsonb(OLD){stored} IS DISTINCT FROM to_jsonb(NEW){stored} THEN "
        f"{_raise(table, 'is issued and cannot be changed')} END IF; RETURN NEW;"
    )
    refuse_delete = f"{_raise(table, 'is issued and cannot be deleted')} RETURN NULL;"
    # An empty table may be emptied: nothing of worth is lost.
    refuse_truncate = (
        f"IF EXISTS (SELECT 1 FROM {table.name}) THEN "
        f"{_raise(table, 'is issued and cannot be deleted')} END IF; RETURN NULL;"
    )
    statements = [
        *_trigger(table, "update", "UPDATE", "ROW", refuse_update),
        *_trigger(table, "delete", "DELETE", "ROW", refuse_delete),
        *_trigger(table, "truncate", "TRUNCATE", "STATEMENT", refuse_truncate),
    ]
    if state:
        statements += _trigger(table, "state", "UPDATE", "ROW", f"{state} RETURN NEW;")
    return statements


def _raise(table: FrozenTable, message: str) -> str:
    return f"RAISE EXCEPTION '{table.name} {message}' USING ERRCODE = 'integrity_constraint_violation';"


def _trigger(table: FrozenTable, kind: str, verb: str, each: str, body: str) -> list[str]:
    name = f"{table.name}_{kind}_frozen"
    return [
        f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN {body} END $$",
        f"DROP TRIGGER IF EXISTS {name} ON {table.name}",
        f"CREATE TRIGGER {name} BEFORE {verb} ON {table.name} FOR EACH {each} EXECUTE FUNCTION {name}()",
    ]
