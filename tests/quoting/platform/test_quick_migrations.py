import pytest
from django.db.migrations.loader import MigrationLoader

from quoting.platform.models.quick_migrations import around
from tests.service import OwnService

AS_DJANGO_DOES = """
import django; django.setup()
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
executor = MigrationExecutor(connection)
executor.migrate(executor.loader.graph.leaf_nodes())
"""
TABLES = "SELECT type, name, tbl_name, sql FROM sqlite_master ORDER BY type, name, tbl_name"


def test_an_operation_sees_its_model_and_what_its_keys_lead_to():
    state = MigrationLoader(None).project_state()
    seen = around(state, ("jobs", "wall"))
    assert {("jobs", "wall"), ("jobs", "job"), ("jobs", "client"), ("quoting", "person")} <= set(seen.models)
    assert ("jobs", "order") not in seen.models
    assert seen.apps.get_model("jobs", "wall")._meta.get_field("job").related_model._meta.model_name == "job"


@pytest.mark.sqlite
@pytest.mark.faults
@pytest.mark.faults_alone
def test_a_new_database_is_to_the_letter_what_django_alone_makes(tmp_path):
    ours, djangos = (OwnService(tmp_path / name) for name in ("ours", "djangos"))
    for service, command in ((ours, ("manage.py", "migrate", "-v0")), (djangos, ("-c", AS_DJANGO_DOES))):
        service.folder.mkdir()
        done = service.run(*command)
        assert done.returncode == 0, done.stderr
    triggers = "WHERE type <> 'trigger' ORDER"  # installed once everything is migrated
    assert ours.rows(TABLES.replace("ORDER", triggers)) == djangos.rows(TABLES.replace("ORDER", triggers))
