from decimal import Decimal

import django.db.models.deletion
import simple_history.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("catalog", "0001_catalog"),
        ("quoting", "0001_people"),
    ]

    operations = [
        migrations.CreateModel(
            name="CatalogChanges",
            fields=[
                ("id", models.PositiveSmallIntegerField(default=1, editable=False, primary_key=True, serialize=False)),
                (
                    "number",
                    models.PositiveIntegerField(
                        default=0, help_text="Rises with every row of the catalog that changes."
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "catalog changes",
                "constraints": [
                    models.CheckConstraint(condition=models.Q(("id", 1)), name="catalog_changes_is_one"),
                    models.CheckConstraint(
                        condition=models.Q(("number__gte", 0), ("number__lte", 2000000000)),
                        name="catalog_changes_number_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalOrderTerms",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("minimum_order", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("freight", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("freight_free_from", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("claim_days", models.PositiveSmallIntegerField(blank=True, null=True)),
                (
                    "claim_counts",
                    models.CharField(
                        choices=[("workdays", "Working days"), ("calendar_days", "Calendar days")],
                        default="calendar_days",
                        max_length=15,
                    ),
                ),
                ("rush_production_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("rush_transit_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("rush_fee", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("rush_share", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("source", models.TextField()),
                ("stated_on", models.DateField()),
                ("stated_by", models.TextField(blank=True)),
                (
                    "supplier",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="catalog.supplier",
                    ),
                ),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "verbose_name": "historical order terms",
                "verbose_name_plural": "historical order terms",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="OrderTerms",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "supplier",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE, related_name="order_terms", to="catalog.supplier"
                    ),
                ),
                ("minimum_order", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("freight", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("freight_free_from", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("claim_days", models.PositiveSmallIntegerField(blank=True, null=True)),
                (
                    "claim_counts",
                    models.CharField(
                        choices=[("workdays", "Working days"), ("calendar_days", "Calendar days")],
                        default="calendar_days",
                        max_length=15,
                    ),
                ),
                ("rush_production_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("rush_transit_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("rush_fee", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("rush_share", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("source", models.TextField()),
                ("stated_on", models.DateField()),
                ("stated_by", models.TextField(blank=True)),
            ],
            options={
                "verbose_name_plural": "order terms",
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("minimum_order__gte", 0), ("minimum_order__lte", Decimal("9999999999.99"))),
                        name="order_terms_minimum_order_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("freight__gte", 0), ("freight__lte", Decimal("9999999999.99"))),
                        name="order_terms_freight_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("freight_free_from__gte", 0), ("freight_free_from__lte", Decimal("9999999999.99"))
                        ),
                        name="order_terms_freight_free_from_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("rush_fee__gte", 0), ("rush_fee__lte", Decimal("9999999999.99"))),
                        name="order_terms_rush_fee_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("claim_days__gte", 0), ("claim_days__lte", 365)),
                        name="order_terms_claim_days_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("claim_counts__in", ["workdays", "calendar_days"])),
                        name="order_terms_claim_counts_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("rush_production_workdays__gte", 0), ("rush_production_workdays__lte", 730)
                        ),
                        name="order_terms_rush_production_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("rush_transit_workdays__gte", 0), ("rush_transit_workdays__lte", 260)),
                        name="order_terms_rush_transit_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("rush_share__gte", 0), ("rush_share__lte", 10)),
                        name="order_terms_rush_share_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("source", ""), _negated=True), name="order_terms_source_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("rush_production_workdays__isnull", True), ("rush_transit_workdays__isnull", True)
                            ),
                            models.Q(
                                ("rush_production_workdays__isnull", False), ("rush_transit_workdays__isnull", False)
                            ),
                            _connector="OR",
                        ),
                        name="order_terms_rush_is_whole",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="PlannedLead",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "material",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="planned_leads", to="catalog.material"
                    ),
                ),
                (
                    "plan_workdays",
                    models.PositiveSmallIntegerField(help_text="Of the supplier, from the order to its arrival."),
                ),
                ("production_days", models.PositiveSmallIntegerField(help_text="As quoted when it was accepted.")),
                (
                    "production_counts",
                    models.CharField(
                        choices=[("workdays", "Working days"), ("calendar_days", "Calendar days")], max_length=15
                    ),
                ),
                ("transit_workdays", models.PositiveSmallIntegerField()),
                ("supplier", models.CharField(help_text="Code of the supplier then.", max_length=60)),
                (
                    "confidence",
                    models.DecimalField(
                        decimal_places=6, help_text="The share of orders meant to come within it.", max_digits=14
                    ),
                ),
                ("evidence", models.CharField(max_length=500)),
                (
                    "ratios",
                    models.JSONField(blank=True, default=list, help_text="Actual over quoted days of the receipts."),
                ),
                ("accepted_by_name", models.CharField(max_length=200)),
                ("accepted_on", models.DateField()),
                ("ended_by_name", models.CharField(blank=True, max_length=200)),
                ("ended_on", models.DateField(blank=True, null=True)),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("ended_on__isnull", True)),
                        fields=("material",),
                        name="planned_lead_stands_once_a_material",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("plan_workdays__gte", 1), ("plan_workdays__lte", 990)),
                        name="planned_lead_plan_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("production_days__gte", 0), ("production_days__lte", 730)),
                        name="planned_lead_production_days_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("transit_workdays__gte", 0), ("transit_workdays__lte", 260)),
                        name="planned_lead_transit_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("confidence__gte", Decimal("0.5")), ("confidence__lte", Decimal("0.995"))),
                        name="planned_lead_confidence_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("production_counts__in", ["workdays", "calendar_days"])),
                        name="planned_lead_production_counts_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("supplier", ""), ("evidence", ""), ("accepted_by_name", ""), _connector="OR", _negated=True
                        ),
                        name="planned_lead_supplier_evidence_accepted_by_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("ended_by_name", ""), ("ended_on__isnull", True)),
                            models.Q(
                                ("ended_on__gte", models.F("accepted_on")),
                                models.Q(("ended_by_name", ""), _negated=True),
                            ),
                            _connector="OR",
                        ),
                        name="planned_lead_ended_by_somebody",
                    ),
                ],
            },
        ),
    ]
