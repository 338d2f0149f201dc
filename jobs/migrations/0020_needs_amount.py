from django.db import migrations, models
from django.db.models import F, Q


def ask_for_amounts(apps, schema_editor):
    """Jobs worked up before have no amounts: each counts as changed, so that the tick asks for it again."""
    worked = apps.get_model("jobs", "WorkedJob").objects.filter(worked_changes__isnull=False, job__closed_on=None)
    worked.update(changes=F("changes") + 1)


class Migration(migrations.Migration):
    dependencies = [("jobs", "0019_worked_out_from_offsets")]

    operations = [
        migrations.AddField(
            "storedneed",
            "amount",
            models.DecimalField(
                max_digits=14,
                decimal_places=2,
                null=True,
                blank=True,
                help_text="Money; none while a price is missing.",
            ),
        ),
        migrations.RunPython(ask_for_amounts, migrations.RunPython.noop),
        migrations.AddConstraint(
            "storedneed",
            models.CheckConstraint(
                condition=Q(amount__gte=0, amount__lte=999_999_999_999), name="stored_need_amount_in_bounds"
            ),
        ),
    ]
