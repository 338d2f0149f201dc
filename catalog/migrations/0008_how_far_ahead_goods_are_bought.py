from django.db import migrations

SOURCE = "The firm's own starting figure: three weeks; more saves freight and ties up money"


def state_starter_figure(apps, schema_editor):
    """A firm that is there already would buy months ahead until it stated it."""
    if not apps.get_model("catalog", "Firm").objects.exists():
        return
    apps.get_model("catalog", "Standard").objects.get_or_create(
        name="buying_window_workdays", defaults={"value": "15", "source": SOURCE, "sure": "firm"}
    )


class Migration(migrations.Migration):
    dependencies = [
        ("catalog", "0007_other_suppliers"),
    ]

    operations = [
        migrations.RunPython(state_starter_figure, migrations.RunPython.noop),
    ]
