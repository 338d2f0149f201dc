from django.db import migrations

OWN = "The firm's own starting figure"
STARTERS = {
    "paint_dry_hours": ("4", f"{OWN}; what the tin says decides"),
    "trim_cure_hours": ("12", f"{OWN}; what the maker says decides"),
    "trim_acclimatise_hours": ("0", f"{OWN}: none beside the cushion days; what the maker says decides"),
    "board_acclimatise_hours": ("0", f"{OWN}: none beside the cushion days; what the maker says decides"),
    "people_on_site": ("2", f"{OWN}: one crew of two; say how many there are"),
    "shortest_duration_share": ("0.8", f"{OWN}, nothing is published; learn it from recorded days"),
    "longest_duration_share": ("1.6", f"{OWN}, nothing is published; learn it from recorded days"),
}


def state_starter_figures(apps, schema_editor):
    """A firm that is there already would have no days until it stated each."""
    if not apps.get_model("catalog", "Firm").objects.exists():
        return
    standards = apps.get_model("catalog", "Standard").objects
    for name, (value, source) in STARTERS.items():
        standards.get_or_create(name=name, defaults={"value": value, "source": source, "sure": "firm"})


class Migration(migrations.Migration):
    dependencies = [
        ("catalog", "0002_terms_of_orders_and_days_planned"),
    ]

    operations = [
        migrations.RunPython(state_starter_figures, migrations.RunPython.noop),
    ]
