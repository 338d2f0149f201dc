from django.db import migrations

SIXTEENTH = "The firm's own starting figure: 1/16 in; suppliers write sixteenths of an inch or whole millimetres"
STARTER = {
    "confirmed_length_tolerance_mm": ("1.5875", SIXTEENTH),
    "confirmed_radius_tolerance_mm": ("1.5875", SIXTEENTH),
    "confirmed_price_tolerance": ("0", "The firm's own starting figure: none, each cent is a difference"),
    "confirmed_days_tolerance": ("0", "The firm's own starting figure: none, each day later is a difference"),
}


def state_starter_figures(apps, schema_editor):
    """A firm that is there already would have every last bit of a figure named until it stated them."""
    if apps.get_model("catalog", "Firm").objects.exists():
        standards = apps.get_model("catalog", "Standard").objects
        for name, (value, source) in STARTER.items():
            standards.get_or_create(name=name, defaults={"value": value, "source": source, "sure": "firm"})


class Migration(migrations.Migration):
    dependencies = [
        ("catalog", "0011_where_starter_profiles_are_used"),
    ]

    operations = [
        migrations.RunPython(state_starter_figures, migrations.RunPython.noop),
    ]
