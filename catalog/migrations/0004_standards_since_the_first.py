"""A firm entered before these standards were known gets their starter figures, so that nothing of its jobs becomes a gap."""

from decimal import Decimal

from django.db import migrations

STARTERS = (
    (
        "least_wall_height_mm",
        "300",
        "firm",
        "The firm's own starting figure: lower is more likely a height typed in the wrong unit",
    ),
    (
        "greatest_wall_height_mm",
        "6000",
        "firm",
        "The firm's own starting figure; how high studs may stand is for local code and licensed practice",
    ),
    (
        "tape_accuracy_mm",
        "3.175",
        "practice",
        "Common practice: read to 1/8 in; a wall read with another tape says so itself",
    ),
    ("saw_kerf_mm", "3.175", "practice", "Common practice: 1/8 in"),
    ("usable_offcut_mm", "304.8", "firm", "Our own convention: 12 in"),
    (
        "framing_hours_per_opening",
        "0",
        "firm",
        "The firm's own starting figure: none, an opening counts by its studs alone; learn it from recorded hours",
    ),
    (
        "trim_hours_per_piece",
        "0",
        "firm",
        "The firm's own starting figure: none, trim counts by its length alone; learn it from recorded hours",
    ),
    (
        "delay_factor",
        "1",
        "firm",
        "The firm's own starting figure: no delays; US Navy Builder manual NAVEDTRA 14045 multiplies man-days by it",
    ),
    (
        "crew_availability",
        "1",
        "firm",
        "The firm's own starting figure: all of them; NAVEDTRA 14045 divides by it, 0.75 in its example",
    ),
    (
        "crew_efficiency",
        "1",
        "firm",
        "The firm's own starting figure: all of it; NAVEDTRA 14045 divides by it, 0.9375 in its example",
    ),
)


def state_starters(apps, schema_editor):
    if not apps.get_model("catalog", "Firm").objects.exists():
        return
    standards = apps.get_model("catalog", "Standard").objects
    for name, value, sure, source in STARTERS:
        standards.get_or_create(name=name, defaults={"value": Decimal(value), "sure": sure, "source": source})


class Migration(migrations.Migration):
    dependencies = [("catalog", "0003_kit_roles_that_bend")]
    operations = [migrations.RunPython(state_starters, migrations.RunPython.noop)]
