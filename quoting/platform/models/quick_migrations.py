"""Migrations carried out on the models they touch.

Django draws up every model related to a changed one anew after each operation, and all of ours are related: that took
nine tenths of the time of a new database. An operation on one model reads that model and what its keys lead to, so no
more is drawn up for it. The statements are the same. What may read more, as Python code does, still has all models.
"""

from typing import Any

from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations import operations
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.migration import Migration
from django.db.migrations.operations.base import Operation
from django.db.migrations.state import ModelState, ProjectState
from django.db.migrations.utils import resolve_relation

ON_COLUMNS = (operations.AddField, operations.RemoveField, operations.AlterField)
ON_RULES = (operations.AddConstraint, operations.RemoveConstraint, operations.AddIndex, operations.RemoveIndex)
Key = tuple[str, str]


class QuickExecutor(MigrationExecutor):
    def _migrate_all_forwards(
        self, state: ProjectState, plan: list[Any], full_plan: list[Any], fake: bool, fake_initial: bool
    ) -> ProjectState:
        """Django's own, but for drawing up all models before the first."""
        wanted = {migration for migration, _ in plan}
        for migration, _ in full_plan:
            if migration in wanted:
                state = self.apply_migration(state, migration, fake=fake, fake_initial=fake_initial)
        return state

    def apply_migration(self, state: ProjectState, migration: Migration, *how: Any, **more: Any) -> ProjectState:
        written = migration.operations
        migration.operations = [OnItsOwn(one) if is_on_one_model(one) else one for one in written]
        try:
            return super().apply_migration(state, migration, *how, **more)
        finally:
            migration.operations = written


def is_on_one_model(one: Operation) -> bool:
    if isinstance(one, ON_COLUMNS):
        return one.field is None or not (one.field.unique or one.field.primary_key)
    return isinstance(one, (operations.CreateModel, *ON_RULES))


class OnItsOwn(Operation):
    """An operation that sees its model and what its keys lead to."""

    def __init__(self, one: Operation) -> None:
        self.one = one

    def state_forwards(self, app_label: str, state: ProjectState) -> None:
        state.__dict__.pop("apps", None)  # whoever asks next has them drawn up anew
        self.one.state_forwards(app_label, state)

    def database_forwards(
        self, app_label: str, schema_editor: BaseDatabaseSchemaEditor, from_state: ProjectState, to_state: ProjectState
    ) -> None:
        name = self.one.name if isinstance(self.one, operations.CreateModel) else self.one.model_name
        before, after = (around(state, (app_label, name.lower())) for state in (from_state, to_state))
        _ = before.apps, after.apps  # drawn up in this order, for columns stand in the order their fields were made in
        self.one.database_forwards(app_label, schema_editor, before, after)


def around(state: ProjectState, key: Key) -> ProjectState:
    found: set[Key] = set()
    waiting = [key] if key in state.models else []
    while waiting:
        key = waiting.pop()
        if key not in found:
            found.add(key)
            waiting += leads_to(state.models[key])
    return ProjectState({key: model for key, model in state.models.items() if key in found}, state.real_apps)


def leads_to(model: ModelState) -> list[Key]:
    keys = [field.remote_field for field in model.fields.values() if field.is_relation]
    named = [one for key in keys for one in (key.model, getattr(key, "through", None)) if one]
    named += [base for base in model.bases if isinstance(base, str)]
    return [resolve_relation(one, model.app_label, model.name_lower) for one in named]
