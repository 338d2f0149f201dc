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


def parts_of(statement):
    head, _, body = statement.partition("(")
    return head, sorted(body.removesuffix(")").split(", "))


@pytest.mark.sqlite
@pytest.mark.faults
@pytest.mark.faults_alone
def test_a_new_database_is_what_django_alone_makes_but_for_the_order_of_columns(tmp_path):
    ours, djangos = (OwnService(tmp_path / name) for name in ("ours", "djangos"))
    for service, command in ((ours, ("manage.py", "migrate", "-v0")), (djangos, ("-c", AS_DJANGO_DOES))):
        service.folder.mkdir()
        process = service.run(*command)
        assert process.returncode == 0, process.stderr
    triggers = "WHERE type <> 'trigger' ORDER"  # installed once everything is migrated
    made = [
        [(*names, parts_of(sql or "")) for *names, sql in service.rows(TABLES.replace("ORDER", triggers))]
        for service in (ours, djangos)
    ]
    assert len(made[0]) > 700 and made[0] == made[1]
