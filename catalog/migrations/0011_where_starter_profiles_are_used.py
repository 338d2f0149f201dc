from django.db import migrations

POSITIONS = {
    "BASE-THIN-MDF": ["base"],
    "BASE-THIN-4-MDF": ["base"],
    "BASE-514-FLEX": ["base"],
    "BASE-700-FLEX": ["base"],
    "BASE-400-FLEX": ["base"],
    "BASE-312-FLEX": ["base"],
    "QUARTER-34-FLEX": ["shoe"],
    "BASE-OAK-PRE": ["base"],
    "CAP-OAK-PRE": ["cap", "top"],
    "REVEAL-58": ["reveal"],
}


def state_positions(apps, schema_editor):
    """Profiles of the starter list on which nobody has filled in a card; others say nothing until somebody does."""
    bare = apps.get_model("catalog", "Material").objects.filter(kind="trim", profile__isnull=True)
    for code, positions in POSITIONS.items():
        bare.filter(code=code).update(profile={"positions": positions})


class Migration(migrations.Migration):
    dependencies = [
        ("catalog", "0010_days_of_a_change"),
    ]

    operations = [
        migrations.RunPython(state_positions, migrations.RunPython.noop),
    ]
