from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("catalog", "0003_starter_figures_of_waits_and_people"),
    ]

    operations = [
        migrations.AddField(
            model_name="historicalorderterms",
            name="rush_cushion_workdays",
            field=models.PositiveSmallIntegerField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="orderterms",
            name="rush_cushion_workdays",
            field=models.PositiveSmallIntegerField(blank=True, null=True),
        ),
        migrations.AddConstraint(
            model_name="orderterms",
            constraint=models.CheckConstraint(
                condition=models.Q(("rush_cushion_workdays__gte", 0), ("rush_cushion_workdays__lte", 250)),
                name="order_terms_rush_cushion_workdays_in_bounds",
            ),
        ),
    ]
