from django.db import migrations

STARTERS = {
    "closest_spacing_share": (
        "0.25",
        "Common practice: a quarter; a board a little easier than its least radius still shows every stud",
        "practice",
    ),
    "limiting_height_from_mm": (
        "3048",
        "The firm's own starting figure: 10 ft; how high studs may stand is for local code and licensed practice",
        "firm",
    ),
}
MANUAL = "US Navy Builder manual NAVEDTRA 14044"
# What was said to be published and is not: only where it stands as it was given.
STEPS = {
    f"{MANUAL}: up to 12 in on curves": f"Common practice: from 150 in. {MANUAL}: up to 12 in on curves",
    f"{MANUAL}: 16 in on gentle curves": f"Common practice: from 300 in. {MANUAL}: 16 in on gentle curves",
}
STEEL = "Design thickness of 43 mil steel, 0.0451 in, less 5 % for the least: "


def set_right(apps, schema_editor):
    """A firm that is there already keeps its own figures; it gets the two new ones, and sources that are true."""
    if not apps.get_model("catalog", "Firm").objects.exists():
        return
    standards = apps.get_model("catalog", "Standard").objects
    for name, (value, source, sure) in STARTERS.items():
        standards.get_or_create(name=name, defaults={"value": value, "source": source, "sure": sure})
    standards.filter(name="screw_penetration_mm", source=f"{MANUAL}: 3/8 in").update(
        source="Common practice: 3/8 in", sure="practice"
    )
    steps = apps.get_model("catalog", "SpacingStep").objects
    for source, right in STEPS.items():
        steps.filter(source=source).update(source=right, sure="practice")
    facts = apps.get_model("catalog", "MaterialFact").objects
    facts.filter(source=f"{STEEL}0.0430 in", value="1.0922").update(source=f"{STEEL}0.0428 in", value="1.0883")


class Migration(migrations.Migration):
    dependencies = [
        ("catalog", "0005_own_kinds"),
    ]

    operations = [
        migrations.RunPython(set_right, migrations.RunPython.noop),
    ]
