from django.db import migrations

NAME = "reclaimed_tax_share"
SOURCE = "The firm's own starting figure: all of it; what is not reclaimed is cost, by local law"


def state_starter_figure(apps, schema_editor):
    """A firm that is there already would have the tax on its bills named as missing until it stated this."""
    if apps.get_model("catalog", "Firm").objects.exists():
        standards = apps.get_model("catalog", "Standard").objects
        standards.get_or_create(name=NAME, defaults={"value": "1", "source": SOURCE, "sure": "firm"})


class Migration(migrations.Migration):
    dependencies = [
        ("catalog", "0012_tolerances_of_confirmations"),
    ]

    operations = [
        migrations.RunPython(state_starter_figure, migrations.RunPython.noop),
    ]
