"""What was set aside for a job by hand is the firm's stock, set aside for it."""

from decimal import Decimal

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("catalog", "0007_other_suppliers"),
        ("jobs", "0012_where_orders_go"),
    ]

    operations = [
        migrations.RenameModel(old_name="StickOnHand", new_name="Stock"),
        migrations.RenameModel(old_name="HistoricalStickOnHand", new_name="HistoricalStock"),
        migrations.RemoveConstraint(model_name="stock", name="stickonhand_length_mm_in_bounds"),
        migrations.RemoveConstraint(model_name="stock", name="stickonhand_count_in_bounds"),
        migrations.AlterModelOptions(
            name="stock",
            options={"ordering": ["pk"], "verbose_name": "stock", "verbose_name_plural": "stock"},
        ),
        migrations.AlterModelOptions(
            name="historicalstock",
            options={
                "get_latest_by": ("history_date", "history_id"),
                "ordering": ("-history_date", "-history_id"),
                "verbose_name": "historical stock",
                "verbose_name_plural": "historical stock",
            },
        ),
        migrations.AlterField(
            model_name="stock",
            name="length_mm",
            field=models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True),
        ),
        migrations.AddField(
            model_name="stock",
            name="pack",
            field=models.CharField(blank=True, help_text="Code of the pack; empty for an off-cut.", max_length=60),
        ),
        migrations.AddField(
            model_name="stock",
            name="unit_cost",
            field=models.DecimalField(
                blank=True, decimal_places=2, help_text="What a job is charged for one.", max_digits=12, null=True
            ),
        ),
        migrations.AddField(
            model_name="stock",
            name="note",
            field=models.CharField(blank=True, help_text="Where it lies, or where it came from.", max_length=200),
        ),
        migrations.AddField(
            model_name="stock",
            name="set_aside_by_name",
            field=models.CharField(blank=True, max_length=200),
        ),
        migrations.AlterField(
            model_name="historicalstock",
            name="length_mm",
            field=models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True),
        ),
        migrations.AddField(
            model_name="historicalstock",
            name="pack",
            field=models.CharField(blank=True, help_text="Code of the pack; empty for an off-cut.", max_length=60),
        ),
        migrations.AddField(
            model_name="historicalstock",
            name="unit_cost",
            field=models.DecimalField(
                blank=True, decimal_places=2, help_text="What a job is charged for one.", max_digits=12, null=True
            ),
        ),
        migrations.AddField(
            model_name="historicalstock",
            name="note",
            field=models.CharField(blank=True, help_text="Where it lies, or where it came from.", max_length=200),
        ),
        migrations.AddField(
            model_name="historicalstock",
            name="set_aside_by_name",
            field=models.CharField(blank=True, max_length=200),
        ),
        migrations.AlterField(
            model_name="stock",
            name="job",
            field=models.ForeignKey(
                blank=True,
                help_text="Empty: on the shelf.",
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="on_hand",
                to="jobs.job",
            ),
        ),
        migrations.AlterField(
            model_name="historicalstock",
            name="job",
            field=models.ForeignKey(
                blank=True,
                db_constraint=False,
                help_text="Empty: on the shelf.",
                null=True,
                on_delete=django.db.models.deletion.DO_NOTHING,
                related_name="+",
                to="jobs.job",
            ),
        ),
        migrations.AddConstraint(
            model_name="stock",
            constraint=models.CheckConstraint(
                condition=models.Q(("length_mm__gt", 0), ("length_mm__lte", 10000000)), name="stock_length_mm_in_bounds"
            ),
        ),
        migrations.AddConstraint(
            model_name="stock",
            constraint=models.CheckConstraint(
                condition=models.Q(("count__gte", 1), ("count__lte", 1000)), name="stock_count_in_bounds"
            ),
        ),
        migrations.AddConstraint(
            model_name="stock",
            constraint=models.CheckConstraint(
                condition=models.Q(("unit_cost__gte", 0), ("unit_cost__lte", Decimal("9999999999.99"))),
                name="stock_unit_cost_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="stock",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("length_mm__isnull", False), models.Q(("pack", ""), _negated=True), _connector="OR"
                ),
                name="stock_has_a_length_or_a_pack",
            ),
        ),
    ]
