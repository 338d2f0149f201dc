from decimal import Decimal

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0004_the_way_a_mail_went"),
        ("quoting", "0010_deliveries_in_calendars"),
    ]

    operations = [
        migrations.AddField(
            model_name="changedraft",
            name="days_proposed",
            field=models.SmallIntegerField(blank=True, help_text="By the hours; nothing until entered.", null=True),
        ),
        migrations.AddField(
            model_name="changedraft",
            name="hours_moved",
            field=models.DecimalField(blank=True, decimal_places=1, help_text="Man-hours.", max_digits=8, null=True),
        ),
        migrations.AddField(
            model_name="changedraftline",
            name="cost",
            field=models.DecimalField(blank=True, decimal_places=2, max_digits=14, null=True),
        ),
        migrations.AddField(
            model_name="changenoteline",
            name="cost",
            field=models.DecimalField(blank=True, decimal_places=2, max_digits=14, null=True),
        ),
        migrations.AddField(
            model_name="historicalchangedraft",
            name="days_proposed",
            field=models.SmallIntegerField(blank=True, help_text="By the hours; nothing until entered.", null=True),
        ),
        migrations.AddField(
            model_name="historicalchangedraft",
            name="hours_moved",
            field=models.DecimalField(blank=True, decimal_places=1, help_text="Man-hours.", max_digits=8, null=True),
        ),
        migrations.AddField(
            model_name="historicalchangedraftline",
            name="cost",
            field=models.DecimalField(blank=True, decimal_places=2, max_digits=14, null=True),
        ),
        migrations.AddConstraint(
            model_name="changedraft",
            constraint=models.CheckConstraint(
                condition=models.Q(("days_proposed__gte", -500), ("days_proposed__lte", 500)),
                name="change_draft_days_proposed_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="changedraft",
            constraint=models.CheckConstraint(
                condition=models.Q(("hours_moved__gte", -1000000), ("hours_moved__lte", 1000000)),
                name="change_draft_hours_moved_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="changedraftline",
            constraint=models.CheckConstraint(
                condition=models.Q(("cost__gte", Decimal("-9999999999.99")), ("cost__lte", Decimal("9999999999.99"))),
                name="change_draft_line_cost_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="changenoteline",
            constraint=models.CheckConstraint(
                condition=models.Q(("cost__gte", Decimal("-19999999999.98")), ("cost__lte", Decimal("19999999999.98"))),
                name="change_note_line_cost_in_bounds",
            ),
        ),
    ]
