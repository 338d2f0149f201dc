from django.db import migrations

SOURCE = "The firm's own starting figure: half a day; less is made up on the way"


def state_starter_figure(apps, schema_editor):
    """A firm that is there already would be proposed no days of a change until it stated it."""
    if apps.get_model("catalog", "Firm").objects.exists():
        stated = {"value": "0.5", "source": SOURCE, "sure": "firm"}
        apps.get_model("catalog", "Standard").objects.get_or_create(name="change_days_from", defaults=stated)


class Migration(migrations.Migration):
    dependencies = [
        ("catalog", "0009_contact_of_suppliers"),
    ]

    operations = [
        migrations.RunPython(state_starter_figure, migrations.RunPython.noop),
    ]
