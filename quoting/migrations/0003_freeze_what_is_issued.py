from django.db import migrations

from quoting.platform.immutable_tables import freeze, thaw


class Migration(migrations.Migration):
    dependencies = [
        ("quoting", "0002_quoting"),
    ]

    operations = [
        migrations.RunPython(
            lambda apps, schema_editor: freeze(schema_editor.connection),
            lambda apps, schema_editor: thaw(schema_editor.connection),
        ),
    ]
