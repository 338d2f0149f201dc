"""Django's own, quicker."""

from django.core.management.commands import migrate

from quoting.platform.models.quick_migrations import QuickExecutor

migrate.MigrationExecutor = QuickExecutor  # type: ignore[misc]
Command = migrate.Command
