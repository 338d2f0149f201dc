from decimal import Decimal

import django.db.models.deletion
import django.db.models.expressions
import django.db.models.functions.comparison
import simple_history.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("jobs", "0001_jobs"),
        ("quoting", "0001_people"),
    ]

    operations = [
        migrations.CreateModel(
            name="HistoricalTaxRate",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("name", models.CharField(max_length=60)),
                ("rate", models.DecimalField(decimal_places=6, help_text="As a share: 0.13 is 13 %.", max_digits=14)),
                (
                    "applies_to",
                    models.CharField(
                        choices=[("price", "The whole price"), ("materials", "The part of the price for materials")],
                        default="price",
                        max_length=9,
                    ),
                ),
                (
                    "basis",
                    models.CharField(
                        choices=[("document", "Rounded once"), ("line", "Rounded on each line")],
                        default="document",
                        max_length=8,
                    ),
                ),
                ("starts_on", models.DateField()),
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
                "verbose_name": "historical tax rate",
                "verbose_name_plural": "historical tax rates",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="TaxRate",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=60)),
                ("rate", models.DecimalField(decimal_places=6, help_text="As a share: 0.13 is 13 %.", max_digits=14)),
                (
                    "applies_to",
                    models.CharField(
                        choices=[("price", "The whole price"), ("materials", "The part of the price for materials")],
                        default="price",
                        max_length=9,
                    ),
                ),
                (
                    "basis",
                    models.CharField(
                        choices=[("document", "Rounded once"), ("line", "Rounded on each line")],
                        default="document",
                        max_length=8,
                    ),
                ),
                ("starts_on", models.DateField()),
            ],
            options={
                "ordering": ["name", "starts_on"],
                "constraints": [
                    models.UniqueConstraint(fields=("name", "starts_on"), name="tax_rate_once_a_name_and_day"),
                    models.CheckConstraint(
                        condition=models.Q(("name", ""), _negated=True), name="tax_rate_name_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("rate__gte", 0), ("rate__lte", 1)), name="tax_rate_rate_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("applies_to__in", ["price", "materials"])),
                        name="tax_rate_applies_to_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("basis__in", ["document", "line"])), name="tax_rate_basis_is_known"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalLabourRate",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("name", models.CharField(max_length=100)),
                ("rate", models.DecimalField(decimal_places=2, max_digits=12)),
                ("starts_on", models.DateField()),
                (
                    "wage",
                    models.DecimalField(blank=True, decimal_places=2, help_text="An hour.", max_digits=12, null=True),
                ),
                ("payroll_tax_rate", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("insurance_rate", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("health_per_year", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("other_per_year", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("paid_hours", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("unproductive_hours", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
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
                "verbose_name": "historical labour rate",
                "verbose_name_plural": "historical labour rates",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="LabourRate",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=100)),
                ("rate", models.DecimalField(decimal_places=2, max_digits=12)),
                ("starts_on", models.DateField()),
                (
                    "wage",
                    models.DecimalField(blank=True, decimal_places=2, help_text="An hour.", max_digits=12, null=True),
                ),
                ("payroll_tax_rate", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("insurance_rate", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("health_per_year", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("other_per_year", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("paid_hours", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("unproductive_hours", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
            ],
            options={
                "ordering": ["name", "starts_on"],
                "constraints": [
                    models.UniqueConstraint(fields=("name", "starts_on"), name="labour_rate_once_a_name_and_day"),
                    models.CheckConstraint(
                        condition=models.Q(("name", ""), _negated=True), name="labour_rate_name_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("rate__gte", 0), ("rate__lte", Decimal("9999999999.99"))),
                        name="labour_rate_rate_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("wage__gte", 0), ("wage__lte", Decimal("9999999999.99"))),
                        name="labour_rate_wage_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("health_per_year__gte", 0), ("health_per_year__lte", Decimal("9999999999.99"))
                        ),
                        name="labour_rate_health_per_year_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("other_per_year__gte", 0), ("other_per_year__lte", Decimal("9999999999.99"))
                        ),
                        name="labour_rate_other_per_year_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("payroll_tax_rate__gte", 0), ("payroll_tax_rate__lte", 1)),
                        name="labour_rate_payroll_tax_rate_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("insurance_rate__gte", 0), ("insurance_rate__lte", 1)),
                        name="labour_rate_insurance_rate_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("paid_hours__gte", 0), ("paid_hours__lte", Decimal("8784"))),
                        name="labour_rate_paid_hours_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("unproductive_hours__gte", 0), ("unproductive_hours__lte", Decimal("8784"))
                        ),
                        name="labour_rate_unproductive_hours_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("health_per_year__isnull", True),
                                ("insurance_rate__isnull", True),
                                ("other_per_year__isnull", True),
                                ("paid_hours__isnull", True),
                                ("payroll_tax_rate__isnull", True),
                                ("unproductive_hours__isnull", True),
                                ("wage__isnull", True),
                            ),
                            models.Q(
                                ("health_per_year__isnull", False),
                                ("insurance_rate__isnull", False),
                                ("other_per_year__isnull", False),
                                ("paid_hours__isnull", False),
                                ("payroll_tax_rate__isnull", False),
                                ("unproductive_hours__isnull", False),
                                ("wage__isnull", False),
                            ),
                            _connector="OR",
                        ),
                        name="labour_rate_worksheet_is_whole",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalPricing",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("version", models.PositiveIntegerField(default=1, help_text="Rises with every change.")),
                (
                    "mode",
                    models.CharField(
                        choices=[("margin", "One target margin"), ("markup", "A markup on each category")], max_length=6
                    ),
                ),
                ("target_margin", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("minimum_margin", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("markup_materials", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("markup_labour", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("markup_subcontract", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("markup_other", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                (
                    "entered_materials",
                    models.DecimalField(
                        blank=True,
                        decimal_places=2,
                        help_text="Empty takes the takeoff's cost.",
                        max_digits=12,
                        null=True,
                    ),
                ),
                ("materials_note", models.TextField(blank=True)),
                (
                    "hour_cost",
                    models.DecimalField(
                        blank=True,
                        decimal_places=2,
                        help_text="Of the walls' own hours; empty leaves them out.",
                        max_digits=12,
                        null=True,
                    ),
                ),
                ("tax_name", models.CharField(max_length=60)),
                (
                    "tax_rate",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        help_text="Empty takes the rate in force on the day.",
                        max_digits=14,
                        null=True,
                    ),
                ),
                (
                    "tax_applies_to",
                    models.CharField(
                        blank=True,
                        choices=[("price", "The whole price"), ("materials", "The part of the price for materials")],
                        max_length=9,
                    ),
                ),
                (
                    "tax_basis",
                    models.CharField(
                        blank=True,
                        choices=[("document", "Rounded once"), ("line", "Rounded on each line")],
                        max_length=8,
                    ),
                ),
                (
                    "hour_rate_name",
                    models.CharField(blank=True, help_text="Not empty takes the rate of the day.", max_length=100),
                ),
                (
                    "overhead_share",
                    models.DecimalField(
                        blank=True, decimal_places=6, max_digits=14, null=True, verbose_name="overhead, share of cost"
                    ),
                ),
                (
                    "overhead_per_hour",
                    models.DecimalField(
                        blank=True, decimal_places=2, max_digits=12, null=True, verbose_name="overhead, labour hour"
                    ),
                ),
                (
                    "contingency_share",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        max_digits=14,
                        null=True,
                        verbose_name="contingency, share of cost",
                    ),
                ),
                (
                    "contingency_shown",
                    models.BooleanField(default=False, verbose_name="contingency shown to the client"),
                ),
                ("special_order_cost", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("valid_days", models.PositiveSmallIntegerField(default=30)),
                ("notice_place", models.CharField(blank=True, help_text="Empty: no notice is chosen.", max_length=100)),
                ("notice_language", models.CharField(blank=True, max_length=40)),
                (
                    "job",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.job",
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
                "verbose_name": "historical pricing",
                "verbose_name_plural": "historical pricing",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Pricing",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="pricing",
                        to="jobs.job",
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, help_text="Rises with every change.")),
                (
                    "mode",
                    models.CharField(
                        choices=[("margin", "One target margin"), ("markup", "A markup on each category")], max_length=6
                    ),
                ),
                ("target_margin", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("minimum_margin", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("markup_materials", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("markup_labour", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("markup_subcontract", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("markup_other", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                (
                    "entered_materials",
                    models.DecimalField(
                        blank=True,
                        decimal_places=2,
                        help_text="Empty takes the takeoff's cost.",
                        max_digits=12,
                        null=True,
                    ),
                ),
                ("materials_note", models.TextField(blank=True)),
                (
                    "hour_cost",
                    models.DecimalField(
                        blank=True,
                        decimal_places=2,
                        help_text="Of the walls' own hours; empty leaves them out.",
                        max_digits=12,
                        null=True,
                    ),
                ),
                ("tax_name", models.CharField(max_length=60)),
                (
                    "tax_rate",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        help_text="Empty takes the rate in force on the day.",
                        max_digits=14,
                        null=True,
                    ),
                ),
                (
                    "tax_applies_to",
                    models.CharField(
                        blank=True,
                        choices=[("price", "The whole price"), ("materials", "The part of the price for materials")],
                        max_length=9,
                    ),
                ),
                (
                    "tax_basis",
                    models.CharField(
                        blank=True,
                        choices=[("document", "Rounded once"), ("line", "Rounded on each line")],
                        max_length=8,
                    ),
                ),
                (
                    "hour_rate_name",
                    models.CharField(blank=True, help_text="Not empty takes the rate of the day.", max_length=100),
                ),
                (
                    "overhead_share",
                    models.DecimalField(
                        blank=True, decimal_places=6, max_digits=14, null=True, verbose_name="overhead, share of cost"
                    ),
                ),
                (
                    "overhead_per_hour",
                    models.DecimalField(
                        blank=True, decimal_places=2, max_digits=12, null=True, verbose_name="overhead, labour hour"
                    ),
                ),
                (
                    "contingency_share",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        max_digits=14,
                        null=True,
                        verbose_name="contingency, share of cost",
                    ),
                ),
                (
                    "contingency_shown",
                    models.BooleanField(default=False, verbose_name="contingency shown to the client"),
                ),
                ("special_order_cost", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("valid_days", models.PositiveSmallIntegerField(default=30)),
                ("notice_place", models.CharField(blank=True, help_text="Empty: no notice is chosen.", max_length=100)),
                ("notice_language", models.CharField(blank=True, max_length=40)),
            ],
            options={
                "verbose_name_plural": "pricing",
                "constraints": [
                    models.UniqueConstraint(
                        django.db.models.functions.comparison.Coalesce(models.F("job"), 0),
                        name="pricing_once_a_job_and_once_the_firm",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("version__gte", 1), ("version__lte", 1000000000)),
                        name="pricing_version_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("mode__in", ["margin", "markup"])), name="pricing_mode_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("target_margin__gte", 0), ("target_margin__lte", Decimal("0.99"))),
                        name="pricing_target_margin_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("minimum_margin__gte", 0), ("minimum_margin__lte", Decimal("0.99"))),
                        name="pricing_minimum_margin_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("markup_materials__gte", 0), ("markup_materials__lte", Decimal("10"))),
                        name="pricing_markup_materials_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("markup_labour__gte", 0), ("markup_labour__lte", Decimal("10"))),
                        name="pricing_markup_labour_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("markup_subcontract__gte", 0), ("markup_subcontract__lte", Decimal("10"))),
                        name="pricing_markup_subcontract_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("markup_other__gte", 0), ("markup_other__lte", Decimal("10"))),
                        name="pricing_markup_other_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("markup_labour__isnull", True),
                                ("markup_materials__isnull", True),
                                ("markup_other__isnull", True),
                                ("markup_subcontract__isnull", True),
                                ("mode", "margin"),
                                ("target_margin__isnull", False),
                            ),
                            models.Q(("mode", "markup"), ("target_margin__isnull", True)),
                            _connector="OR",
                        ),
                        name="pricing_mode_and_figures_agree",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("entered_materials__gte", 0), ("entered_materials__lte", Decimal("9999999999.99"))
                        ),
                        name="pricing_entered_materials_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("hour_cost__gte", 0), ("hour_cost__lte", Decimal("10000000"))),
                        name="pricing_hour_cost_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("tax_name", ""), _negated=True), name="pricing_tax_name_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("tax_rate__gte", 0), ("tax_rate__lte", 1)),
                        name="pricing_tax_rate_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("tax_applies_to", ""), ("tax_basis", ""), ("tax_rate__isnull", True)),
                            models.Q(
                                ("tax_applies_to__in", ("price", "materials")),
                                ("tax_basis__in", ("document", "line")),
                                ("tax_rate__isnull", False),
                            ),
                            _connector="OR",
                        ),
                        name="pricing_tax_is_whole_or_by_name",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("overhead_share__gte", 0), ("overhead_share__lte", Decimal("5"))),
                        name="pricing_overhead_share_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("overhead_per_hour__gte", 0), ("overhead_per_hour__lte", Decimal("10000"))),
                        name="pricing_overhead_per_hour_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("overhead_share__isnull", True), ("overhead_per_hour__isnull", True), _connector="OR"
                        ),
                        name="pricing_overhead_goes_one_way",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("contingency_share__gte", 0), ("contingency_share__lte", 1)),
                        name="pricing_contingency_share_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("contingency_shown__in", [True, False])),
                        name="pricing_contingency_shown_is_yes_or_no",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("special_order_cost__gte", 0), ("special_order_cost__lte", Decimal("9999999999.99"))
                        ),
                        name="pricing_special_order_cost_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("valid_days__gte", 1), ("valid_days__lte", 365)),
                        name="pricing_valid_days_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("notice_language", ""), ("notice_place", "")),
                            models.Q(
                                models.Q(("notice_place", ""), _negated=True),
                                models.Q(("notice_language", ""), _negated=True),
                            ),
                            _connector="OR",
                        ),
                        name="pricing_notice_is_whole",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalCostEntry",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                (
                    "category",
                    models.CharField(
                        choices=[
                            ("materials", "Materials"),
                            ("labour", "Labour"),
                            ("subcontract", "Subcontract"),
                            ("other", "Other"),
                        ],
                        max_length=11,
                    ),
                ),
                ("what", models.CharField(max_length=200)),
                ("quantity", models.DecimalField(decimal_places=6, max_digits=14)),
                ("unit", models.CharField(max_length=40)),
                ("unit_cost", models.DecimalField(decimal_places=2, max_digits=12)),
                (
                    "rate_name",
                    models.CharField(blank=True, help_text="Not empty takes the rate of the day.", max_length=100),
                ),
                (
                    "pricing",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="quoting.pricing",
                    ),
                ),
                (
                    "wall",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        help_text="Empty when it serves the whole job.",
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.wall",
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
                "verbose_name": "historical cost entry",
                "verbose_name_plural": "historical cost entries",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="CostEntry",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "pricing",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="costs", to="quoting.pricing"
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                (
                    "category",
                    models.CharField(
                        choices=[
                            ("materials", "Materials"),
                            ("labour", "Labour"),
                            ("subcontract", "Subcontract"),
                            ("other", "Other"),
                        ],
                        max_length=11,
                    ),
                ),
                ("what", models.CharField(max_length=200)),
                ("quantity", models.DecimalField(decimal_places=6, max_digits=14)),
                ("unit", models.CharField(max_length=40)),
                ("unit_cost", models.DecimalField(decimal_places=2, max_digits=12)),
                (
                    "rate_name",
                    models.CharField(blank=True, help_text="Not empty takes the rate of the day.", max_length=100),
                ),
                (
                    "wall",
                    models.ForeignKey(
                        blank=True,
                        help_text="Empty when it serves the whole job.",
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="jobs.wall",
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "cost entries",
                "ordering": ["order", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="cost_entry_order_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("category__in", ["materials", "labour", "subcontract", "other"])),
                        name="cost_entry_category_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("what", ""), ("unit", ""), _connector="OR", _negated=True),
                        name="cost_entry_what_unit_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("quantity__gte", 0), ("quantity__lte", Decimal("10000000"))),
                        name="cost_entry_quantity_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("unit_cost__gte", 0), ("unit_cost__lte", Decimal("10000000"))),
                        name="cost_entry_unit_cost_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalAllowanceEntry",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("what", models.CharField(max_length=200)),
                ("amount", models.DecimalField(decimal_places=2, max_digits=12)),
                (
                    "category",
                    models.CharField(
                        choices=[
                            ("materials", "Materials"),
                            ("labour", "Labour"),
                            ("subcontract", "Subcontract"),
                            ("other", "Other"),
                        ],
                        max_length=11,
                    ),
                ),
                (
                    "cost",
                    models.DecimalField(
                        blank=True, decimal_places=2, help_text="Empty: the sum itself.", max_digits=12, null=True
                    ),
                ),
                ("over_markup", models.DecimalField(decimal_places=6, max_digits=14)),
                (
                    "pricing",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="quoting.pricing",
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
                "verbose_name": "historical allowance",
                "verbose_name_plural": "historical allowances",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="AllowanceEntry",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "pricing",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="allowances", to="quoting.pricing"
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                ("what", models.CharField(max_length=200)),
                ("amount", models.DecimalField(decimal_places=2, max_digits=12)),
                (
                    "category",
                    models.CharField(
                        choices=[
                            ("materials", "Materials"),
                            ("labour", "Labour"),
                            ("subcontract", "Subcontract"),
                            ("other", "Other"),
                        ],
                        max_length=11,
                    ),
                ),
                (
                    "cost",
                    models.DecimalField(
                        blank=True, decimal_places=2, help_text="Empty: the sum itself.", max_digits=12, null=True
                    ),
                ),
                ("over_markup", models.DecimalField(decimal_places=6, max_digits=14)),
            ],
            options={
                "verbose_name": "allowance",
                "ordering": ["order", "pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("pricing", "what"), name="allowance_once_a_name"),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="allowance_order_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("what", ""), _negated=True), name="allowance_what_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("amount__gte", 0), ("amount__lte", Decimal("9999999999.99"))),
                        name="allowance_amount_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("category__in", ["materials", "labour", "subcontract", "other"])),
                        name="allowance_category_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("cost__gte", 0), ("cost__lte", Decimal("9999999999.99"))),
                        name="allowance_cost_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("over_markup__gte", 0), ("over_markup__lte", 1)),
                        name="allowance_over_markup_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="QuoteSequence",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("year", models.PositiveSmallIntegerField(unique=True)),
                ("last", models.PositiveIntegerField(default=0)),
            ],
            options={
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("year__gte", 2000), ("year__lte", 2100)),
                        name="quote_sequence_year_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("last__gte", 0), ("last__lte", 1000000000)),
                        name="quote_sequence_last_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Quote",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT, related_name="quote", to="jobs.job"
                    ),
                ),
                ("number", models.CharField(max_length=20, unique=True)),
                ("opened_at", models.DateTimeField()),
            ],
            options={
                "ordering": ["-opened_at", "-pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("number", ""), _negated=True), name="quote_number_stated"
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="QuoteRevision",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "quote",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="revisions", to="quoting.quote"
                    ),
                ),
                ("number", models.PositiveSmallIntegerField()),
                (
                    "request_key",
                    models.CharField(help_text="Asking twice with it issues once.", max_length=100, unique=True),
                ),
                ("issued_at", models.DateTimeField()),
                (
                    "issued_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                ("issued_by_name", models.CharField(max_length=200)),
                ("quoted_on", models.DateField()),
                ("valid_until", models.DateField()),
                ("currency", models.CharField(max_length=3)),
                ("price", models.DecimalField(decimal_places=2, max_digits=14)),
                ("tax", models.DecimalField(decimal_places=2, max_digits=14)),
                ("total", models.DecimalField(decimal_places=2, max_digits=14)),
                ("cost", models.DecimalField(decimal_places=2, max_digits=14)),
                ("margin", models.DecimalField(decimal_places=6, max_digits=14)),
                ("rules_version", models.CharField(max_length=40)),
                ("snapshot", models.TextField()),
                ("snapshot_sha256", models.CharField(max_length=64)),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("issued", "Issued"),
                            ("superseded", "Superseded"),
                            ("withdrawn", "Withdrawn"),
                            ("lapsed", "Lapsed"),
                            ("accepted", "Accepted"),
                            ("declined", "Declined"),
                        ],
                        default="issued",
                        max_length=10,
                    ),
                ),
                ("state_at", models.DateTimeField(help_text="Since when it stands so.")),
                ("state_by_name", models.CharField(blank=True, max_length=200)),
                ("state_reason", models.TextField(blank=True)),
            ],
            options={
                "ordering": ["quote", "-number"],
                "constraints": [
                    models.UniqueConstraint(fields=("quote", "number"), name="revision_number_once_a_quote"),
                    models.UniqueConstraint(
                        condition=models.Q(("state", "accepted")),
                        fields=("quote",),
                        name="revision_accepted_once_a_quote",
                    ),
                    models.UniqueConstraint(
                        condition=models.Q(("state", "issued")), fields=("quote",), name="revision_issued_once_a_quote"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("number__gte", 1), ("number__lte", 10000)), name="revision_number_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("state__in", ["issued", "superseded", "withdrawn", "lapsed", "accepted", "declined"])
                        ),
                        name="revision_state_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("request_key", ""), ("issued_by_name", ""), _connector="OR", _negated=True),
                        name="revision_request_key_issued_by_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("rules_version", ""), ("snapshot", ""), _connector="OR", _negated=True),
                        name="revision_rules_version_snapshot_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("valid_until__gte", models.F("quoted_on"))),
                        name="revision_valid_from_its_day_on",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("currency__regex", "^[A-Z]{3}$")), name="revision_currency_is_a_code"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("snapshot_sha256__regex", "^[0-9a-f]{64}$")), name="revision_hash_is_sha256"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("price__gte", 0), ("price__lte", Decimal("19999999999.98"))),
                        name="revision_price_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("tax__gte", 0), ("tax__lte", Decimal("19999999999.98"))),
                        name="revision_tax_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("total__gte", 0), ("total__lte", Decimal("19999999999.98"))),
                        name="revision_total_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("cost__gte", 0), ("cost__lte", Decimal("19999999999.98"))),
                        name="revision_cost_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("margin__gte", -1), ("margin__lte", 1)), name="revision_margin_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "total__gt",
                                django.db.models.expressions.CombinedExpression(
                                    django.db.models.expressions.CombinedExpression(
                                        models.F("price"), "+", models.F("tax")
                                    ),
                                    "-",
                                    models.Value(Decimal("0.005")),
                                ),
                            ),
                            (
                                "total__lt",
                                django.db.models.expressions.CombinedExpression(
                                    django.db.models.expressions.CombinedExpression(
                                        models.F("price"), "+", models.F("tax")
                                    ),
                                    "+",
                                    models.Value(Decimal("0.005")),
                                ),
                            ),
                        ),
                        name="revision_total_is_price_and_tax",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="QuoteLine",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "revision",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="lines", to="quoting.quoterevision"
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                ("section", models.CharField(max_length=200)),
                ("price", models.DecimalField(decimal_places=2, max_digits=14)),
                ("taxed", models.DecimalField(decimal_places=2, max_digits=14)),
                ("tax", models.DecimalField(decimal_places=2, max_digits=14)),
            ],
            options={
                "ordering": ["order", "pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("revision", "order"), name="quote_line_once_a_place"),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="quote_line_order_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("section", ""), _negated=True), name="quote_line_section_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("price__gte", 0), ("price__lte", Decimal("19999999999.98"))),
                        name="quote_line_price_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("taxed__gte", 0), ("taxed__lte", Decimal("19999999999.98"))),
                        name="quote_line_taxed_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("tax__gte", 0), ("tax__lte", Decimal("19999999999.98"))),
                        name="quote_line_tax_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="QuoteInstalment",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "revision",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="instalments",
                        to="quoting.quoterevision",
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                ("event", models.CharField(max_length=200)),
                ("share_count", models.BigIntegerField()),
                ("share_parts", models.BigIntegerField()),
                ("amount", models.DecimalField(decimal_places=2, max_digits=14)),
            ],
            options={
                "ordering": ["order", "pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("revision", "order"), name="quote_instalment_once_a_place"),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)),
                        name="quote_instalment_order_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("event", ""), _negated=True), name="quote_instalment_event_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("share_count__gte", 1),
                            ("share_count__lte", models.F("share_parts")),
                            ("share_parts__gte", 1),
                            ("share_parts__lte", 1000000000000),
                        ),
                        name="quote_instalment_share_count_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("amount__gte", 0), ("amount__lte", Decimal("19999999999.98"))),
                        name="quote_instalment_amount_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="ClientAnswer",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "quote",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="answers", to="quoting.quote"
                    ),
                ),
                (
                    "revision",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT, related_name="answer", to="quoting.quoterevision"
                    ),
                ),
                (
                    "answer",
                    models.CharField(choices=[("accepted", "Accepted"), ("declined", "Declined")], max_length=8),
                ),
                (
                    "way",
                    models.CharField(
                        choices=[("page", "On the client's page"), ("paper", "On paper, entered by the office")],
                        max_length=5,
                    ),
                ),
                ("typed_name", models.CharField(max_length=200)),
                ("reason", models.TextField(blank=True)),
                (
                    "options_chosen",
                    models.TextField(default="[]", help_text="A JSON list: key, name and price of each."),
                ),
                ("price", models.DecimalField(decimal_places=2, max_digits=14)),
                ("tax", models.DecimalField(decimal_places=2, max_digits=14)),
                ("total", models.DecimalField(decimal_places=2, max_digits=14)),
                ("paper_sha256", models.CharField(blank=True, max_length=64)),
                ("answered_at", models.DateTimeField()),
                ("answered_on", models.DateField(help_text="The day in the firm's time zone.")),
                ("from_address", models.CharField(blank=True, max_length=45)),
                ("entered_by_name", models.CharField(blank=True, max_length=200)),
                ("cancel_until", models.DateField(blank=True, null=True)),
                ("cancel_words", models.CharField(blank=True, max_length=200)),
            ],
            options={
                "ordering": ["-answered_at", "-pk"],
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("answer", "accepted")),
                        fields=("quote",),
                        name="answer_accepted_once_a_quote",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("answer__in", ["accepted", "declined"])), name="answer_answer_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("way__in", ["page", "paper"])), name="answer_way_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("typed_name", ""), _negated=True), name="answer_typed_name_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("price__gte", 0), ("price__lte", Decimal("19999999999.98"))),
                        name="answer_price_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("tax__gte", 0), ("tax__lte", Decimal("19999999999.98"))),
                        name="answer_tax_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("total__gte", 0), ("total__lte", Decimal("19999999999.98"))),
                        name="answer_total_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "total__gt",
                                django.db.models.expressions.CombinedExpression(
                                    django.db.models.expressions.CombinedExpression(
                                        models.F("price"), "+", models.F("tax")
                                    ),
                                    "-",
                                    models.Value(Decimal("0.005")),
                                ),
                            ),
                            (
                                "total__lt",
                                django.db.models.expressions.CombinedExpression(
                                    django.db.models.expressions.CombinedExpression(
                                        models.F("price"), "+", models.F("tax")
                                    ),
                                    "+",
                                    models.Value(Decimal("0.005")),
                                ),
                            ),
                        ),
                        name="answer_total_is_price_and_tax",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("paper_sha256__regex", "^[0-9a-f]{64}$"),
                            models.Q(("answer", "declined"), ("paper_sha256", "")),
                            _connector="OR",
                        ),
                        name="answer_names_the_paper_accepted",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("entered_by_name", ""), ("way", "page")),
                            models.Q(("way", "paper"), models.Q(("entered_by_name", ""), _negated=True)),
                            _connector="OR",
                        ),
                        name="answer_on_paper_was_entered_by_someone",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("cancel_until__isnull", True), ("cancel_words", "")),
                            models.Q(
                                ("answer", "accepted"),
                                ("cancel_until__gte", models.F("answered_on")),
                                models.Q(("cancel_words", ""), _negated=True),
                            ),
                            _connector="OR",
                        ),
                        name="answer_window_is_whole",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="MarginApproval",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="margin_approvals", to="jobs.job"
                    ),
                ),
                ("figures_mark", models.CharField(help_text="Of what was shown when it was approved.", max_length=64)),
                ("price", models.DecimalField(decimal_places=2, max_digits=14)),
                ("cost", models.DecimalField(decimal_places=2, max_digits=14)),
                ("margin", models.DecimalField(decimal_places=6, max_digits=14)),
                ("least_margin", models.DecimalField(decimal_places=6, max_digits=14)),
                ("shortfall", models.DecimalField(decimal_places=2, max_digits=14)),
                ("reason", models.TextField()),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                ("by_name", models.CharField(max_length=200)),
                ("at", models.DateTimeField()),
            ],
            options={
                "ordering": ["-at", "-pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("reason", ""), ("by_name", ""), _connector="OR", _negated=True),
                        name="margin_approval_reason_by_name_stated",
                    ),
                    models.UniqueConstraint(fields=("job", "by", "figures_mark"), name="margin_approval_once_a_person"),
                    models.CheckConstraint(
                        condition=models.Q(("figures_mark__regex", "^[0-9a-f]{64}$")),
                        name="margin_approval_mark_is_sha256",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("price__gte", 0), ("price__lte", Decimal("19999999999.98"))),
                        name="margin_approval_price_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("cost__gte", 0), ("cost__lte", Decimal("19999999999.98"))),
                        name="margin_approval_cost_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("shortfall__gte", 0), ("shortfall__lte", Decimal("19999999999.98"))),
                        name="margin_approval_shortfall_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("margin__gte", -1), ("margin__lte", 1)),
                        name="margin_approval_margin_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("least_margin__gte", 0), ("least_margin__lte", 1)),
                        name="margin_approval_least_margin_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="RevisionApproval",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "revision",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="margin_approval",
                        to="quoting.quoterevision",
                    ),
                ),
                (
                    "approval",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="revisions",
                        to="quoting.marginapproval",
                    ),
                ),
                (
                    "issued_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "approved_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("issued_by", models.F("approved_by")), _negated=True),
                        name="revision_approval_by_two_people",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalCancellationTerm",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("starts_on", models.DateField(db_index=True)),
                ("days", models.PositiveSmallIntegerField(help_text="0 states that there is no window.")),
                (
                    "counting",
                    models.CharField(
                        choices=[
                            ("calendar", "Every day of the calendar"),
                            ("business", "Monday to Friday, without holidays"),
                            ("business_and_saturday", "Monday to Saturday, without holidays"),
                        ],
                        max_length=21,
                    ),
                ),
                ("source", models.CharField(help_text="On whose word.", max_length=200)),
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
                "verbose_name": "historical cancellation term",
                "verbose_name_plural": "historical cancellation terms",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="CancellationTerm",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("starts_on", models.DateField(unique=True)),
                ("days", models.PositiveSmallIntegerField(help_text="0 states that there is no window.")),
                (
                    "counting",
                    models.CharField(
                        choices=[
                            ("calendar", "Every day of the calendar"),
                            ("business", "Monday to Friday, without holidays"),
                            ("business_and_saturday", "Monday to Saturday, without holidays"),
                        ],
                        max_length=21,
                    ),
                ),
                ("source", models.CharField(help_text="On whose word.", max_length=200)),
            ],
            options={
                "ordering": ["-starts_on"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("days__gte", 0), ("days__lte", 90)), name="cancellation_term_days_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("counting__in", ["calendar", "business", "business_and_saturday"])),
                        name="cancellation_term_counting_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("source", ""), _negated=True), name="cancellation_term_source_stated"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalHoliday",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("day", models.DateField(db_index=True)),
                ("name", models.CharField(max_length=100)),
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
                "verbose_name": "historical holiday",
                "verbose_name_plural": "historical holidays",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Holiday",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("day", models.DateField(unique=True)),
                ("name", models.CharField(max_length=100)),
            ],
            options={
                "ordering": ["day"],
                "constraints": [
                    models.CheckConstraint(condition=models.Q(("name", ""), _negated=True), name="holiday_name_stated")
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalChangeDraft",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("version", models.PositiveIntegerField(default=1, help_text="Rises with every change.")),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("lines", "Priced by hand"),
                            ("walls", "Worked out from the walls"),
                            ("allowance", "An allowance used"),
                            ("substitution", "One thing for another"),
                        ],
                        max_length=12,
                    ),
                ),
                ("title", models.CharField(max_length=200)),
                ("reason", models.TextField()),
                (
                    "days_moved",
                    models.SmallIntegerField(default=0, help_text="Working days by which the work is done later."),
                ),
                (
                    "original",
                    models.TextField(blank=True, help_text="What was agreed, where something takes its place."),
                ),
                ("replacement", models.TextField(blank=True)),
                ("allowance", models.CharField(blank=True, max_length=200)),
                (
                    "walls_mark",
                    models.CharField(blank=True, help_text="Of the job as the lines were worked out.", max_length=64),
                ),
                ("made_at", models.DateTimeField()),
                ("made_by_name", models.CharField(max_length=200)),
                (
                    "job",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.job",
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
                "verbose_name": "historical change draft",
                "verbose_name_plural": "historical change drafts",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="ChangeDraft",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="change_drafts", to="jobs.job"
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, help_text="Rises with every change.")),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("lines", "Priced by hand"),
                            ("walls", "Worked out from the walls"),
                            ("allowance", "An allowance used"),
                            ("substitution", "One thing for another"),
                        ],
                        max_length=12,
                    ),
                ),
                ("title", models.CharField(max_length=200)),
                ("reason", models.TextField()),
                (
                    "days_moved",
                    models.SmallIntegerField(default=0, help_text="Working days by which the work is done later."),
                ),
                (
                    "original",
                    models.TextField(blank=True, help_text="What was agreed, where something takes its place."),
                ),
                ("replacement", models.TextField(blank=True)),
                ("allowance", models.CharField(blank=True, max_length=200)),
                (
                    "walls_mark",
                    models.CharField(blank=True, help_text="Of the job as the lines were worked out.", max_length=64),
                ),
                ("made_at", models.DateTimeField()),
                ("made_by_name", models.CharField(max_length=200)),
            ],
            options={
                "ordering": ["-made_at", "-pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("version__gte", 1), ("version__lte", 1000000000)),
                        name="change_draft_version_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("kind__in", ["lines", "walls", "allowance", "substitution"])),
                        name="change_draft_kind_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("title", ""), ("reason", ""), _connector="OR", _negated=True),
                        name="change_draft_title_reason_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("made_by_name", ""), _negated=True), name="change_draft_made_by_name_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("days_moved__gte", -500), ("days_moved__lte", 500)),
                        name="change_draft_days_moved_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("kind", "substitution"), _negated=True),
                            models.Q(
                                models.Q(("original", ""), _negated=True), models.Q(("replacement", ""), _negated=True)
                            ),
                            _connector="OR",
                        ),
                        name="change_draft_substitution_is_whole",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalChangeDraftLine",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("what", models.CharField(max_length=200)),
                ("price", models.DecimalField(decimal_places=2, max_digits=14)),
                ("taxed", models.DecimalField(decimal_places=2, max_digits=14)),
                (
                    "draft",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="quoting.changedraft",
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
                "verbose_name": "historical change draft line",
                "verbose_name_plural": "historical change draft lines",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="ChangeDraftLine",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "draft",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="lines", to="quoting.changedraft"
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                ("what", models.CharField(max_length=200)),
                ("price", models.DecimalField(decimal_places=2, max_digits=14)),
                ("taxed", models.DecimalField(decimal_places=2, max_digits=14)),
            ],
            options={
                "ordering": ["order", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)),
                        name="change_draft_line_order_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("what", ""), _negated=True), name="change_draft_line_what_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("price__gte", Decimal("-9999999999.99")), ("price__lte", Decimal("9999999999.99"))
                        ),
                        name="change_draft_line_price_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("taxed__gte", Decimal("-9999999999.99")), ("taxed__lte", Decimal("9999999999.99"))
                        ),
                        name="change_draft_line_taxed_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="ChangeNote",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="change_notes", to="jobs.job"
                    ),
                ),
                (
                    "revision",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="change_notes",
                        to="quoting.quoterevision",
                    ),
                ),
                ("number", models.PositiveSmallIntegerField()),
                (
                    "request_key",
                    models.CharField(help_text="Asking twice with it issues once.", max_length=100, unique=True),
                ),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("lines", "Priced by hand"),
                            ("walls", "Worked out from the walls"),
                            ("allowance", "An allowance used"),
                            ("substitution", "One thing for another"),
                        ],
                        max_length=12,
                    ),
                ),
                ("title", models.CharField(max_length=200)),
                ("reason", models.TextField()),
                ("original", models.TextField(blank=True)),
                ("replacement", models.TextField(blank=True)),
                ("days_moved", models.SmallIntegerField()),
                ("currency", models.CharField(max_length=3)),
                ("price", models.DecimalField(decimal_places=2, max_digits=14)),
                ("tax", models.DecimalField(decimal_places=2, max_digits=14)),
                ("total", models.DecimalField(decimal_places=2, max_digits=14)),
                ("issued_at", models.DateTimeField()),
                ("issued_on", models.DateField(help_text="The day in the firm's time zone.")),
                (
                    "issued_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                ("issued_by_name", models.CharField(max_length=200)),
                (
                    "snapshot",
                    models.TextField(help_text="The filled paper, and the job as it was worked out, where it was."),
                ),
                ("snapshot_sha256", models.CharField(max_length=64)),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("issued", "Waits for a signature"),
                            ("signed", "Signed"),
                            ("declined", "Declined"),
                            ("withdrawn", "Withdrawn"),
                        ],
                        default="issued",
                        max_length=10,
                    ),
                ),
                ("state_at", models.DateTimeField()),
                ("state_by_name", models.CharField(blank=True, max_length=200)),
                ("state_reason", models.TextField(blank=True)),
            ],
            options={
                "ordering": ["job", "number"],
                "constraints": [
                    models.UniqueConstraint(fields=("job", "number"), name="change_note_number_once_a_job"),
                    models.CheckConstraint(
                        condition=models.Q(("number__gte", 1), ("number__lte", 10000)),
                        name="change_note_number_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("kind__in", ["lines", "walls", "allowance", "substitution"])),
                        name="change_note_kind_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("state__in", ["issued", "signed", "declined", "withdrawn"])),
                        name="change_note_state_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("request_key", ""), ("title", ""), _connector="OR", _negated=True),
                        name="change_note_request_key_title_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("reason", ""), ("snapshot", ""), _connector="OR", _negated=True),
                        name="change_note_reason_snapshot_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("issued_by_name", ""), _negated=True),
                        name="change_note_issued_by_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("days_moved__gte", -500), ("days_moved__lte", 500)),
                        name="change_note_days_moved_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("price__gte", Decimal("-19999999999.98")), ("price__lte", Decimal("19999999999.98"))
                        ),
                        name="change_note_price_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("tax__gte", Decimal("-19999999999.98")), ("tax__lte", Decimal("19999999999.98"))
                        ),
                        name="change_note_tax_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("total__gte", Decimal("-19999999999.98")), ("total__lte", Decimal("19999999999.98"))
                        ),
                        name="change_note_total_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("currency__regex", "^[A-Z]{3}$")), name="change_note_currency_is_a_code"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("snapshot_sha256__regex", "^[0-9a-f]{64}$")),
                        name="change_note_hash_is_sha256",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "total__gt",
                                django.db.models.expressions.CombinedExpression(
                                    django.db.models.expressions.CombinedExpression(
                                        models.F("price"), "+", models.F("tax")
                                    ),
                                    "-",
                                    models.Value(Decimal("0.005")),
                                ),
                            ),
                            (
                                "total__lt",
                                django.db.models.expressions.CombinedExpression(
                                    django.db.models.expressions.CombinedExpression(
                                        models.F("price"), "+", models.F("tax")
                                    ),
                                    "+",
                                    models.Value(Decimal("0.005")),
                                ),
                            ),
                        ),
                        name="change_note_total_is_price_and_tax",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="ChangeNoteLine",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "note",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="lines", to="quoting.changenote"
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                ("what", models.CharField(max_length=200)),
                ("price", models.DecimalField(decimal_places=2, max_digits=14)),
                ("taxed", models.DecimalField(decimal_places=2, max_digits=14)),
            ],
            options={
                "ordering": ["order", "pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("note", "order"), name="change_note_line_once_a_place"),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)),
                        name="change_note_line_order_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("what", ""), _negated=True), name="change_note_line_what_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("price__gte", Decimal("-19999999999.98")), ("price__lte", Decimal("19999999999.98"))
                        ),
                        name="change_note_line_price_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("taxed__gte", Decimal("-19999999999.98")), ("taxed__lte", Decimal("19999999999.98"))
                        ),
                        name="change_note_line_taxed_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="ChangeAnswer",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "note",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT, related_name="answer", to="quoting.changenote"
                    ),
                ),
                ("answer", models.CharField(choices=[("signed", "Signed"), ("declined", "Declined")], max_length=8)),
                (
                    "way",
                    models.CharField(
                        choices=[("page", "On the client's page"), ("paper", "On paper, entered by the office")],
                        max_length=5,
                    ),
                ),
                ("typed_name", models.CharField(max_length=200)),
                ("reason", models.TextField(blank=True)),
                ("paper_sha256", models.CharField(blank=True, max_length=64)),
                ("answered_at", models.DateTimeField()),
                ("answered_on", models.DateField(help_text="The day in the firm's time zone.")),
                ("from_address", models.CharField(blank=True, max_length=45)),
                ("entered_by_name", models.CharField(blank=True, max_length=200)),
            ],
            options={
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("answer__in", ["signed", "declined"])), name="change_answer_answer_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("way__in", ["page", "paper"])), name="change_answer_way_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("typed_name", ""), _negated=True), name="change_answer_typed_name_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("paper_sha256__regex", "^[0-9a-f]{64}$"),
                            models.Q(("answer", "declined"), ("paper_sha256", "")),
                            _connector="OR",
                        ),
                        name="change_answer_names_the_paper_signed",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("entered_by_name", ""), ("way", "page")),
                            models.Q(("way", "paper"), models.Q(("entered_by_name", ""), _negated=True)),
                            _connector="OR",
                        ),
                        name="change_answer_on_paper_was_entered_by_someone",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalChecklistAnswer",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("item", models.CharField(max_length=100)),
                (
                    "answer",
                    models.CharField(
                        blank=True,
                        choices=[
                            ("cost", "A cost is entered"),
                            ("included", "Included in something else"),
                            ("dismissed", "Does not arise"),
                        ],
                        max_length=9,
                    ),
                ),
                ("where", models.CharField(blank=True, max_length=200)),
                ("reason", models.TextField(blank=True)),
                ("by", models.CharField(blank=True, max_length=200, verbose_name="dismissed by")),
                ("on", models.DateField(blank=True, null=True, verbose_name="dismissed on")),
                (
                    "pricing",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="quoting.pricing",
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
                "verbose_name": "historical checklist item",
                "verbose_name_plural": "historical checklist items",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="ChecklistAnswer",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "pricing",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="checklist", to="quoting.pricing"
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                ("item", models.CharField(max_length=100)),
                (
                    "answer",
                    models.CharField(
                        blank=True,
                        choices=[
                            ("cost", "A cost is entered"),
                            ("included", "Included in something else"),
                            ("dismissed", "Does not arise"),
                        ],
                        max_length=9,
                    ),
                ),
                ("where", models.CharField(blank=True, max_length=200)),
                ("reason", models.TextField(blank=True)),
                ("by", models.CharField(blank=True, max_length=200, verbose_name="dismissed by")),
                ("on", models.DateField(blank=True, null=True, verbose_name="dismissed on")),
            ],
            options={
                "verbose_name": "checklist item",
                "ordering": ["order", "pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("pricing", "item"), name="checklist_item_once"),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="checklist_order_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("item", ""), _negated=True), name="checklist_item_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("answer__in", ["", "cost", "included", "dismissed"])),
                        name="checklist_answer_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("answer", "dismissed"), _negated=True),
                            models.Q(
                                models.Q(("reason", ""), _negated=True),
                                models.Q(("by", ""), _negated=True),
                                ("on__isnull", False),
                            ),
                            _connector="OR",
                        ),
                        name="checklist_dismissal_is_signed",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("answer__in", ["cost", "included"]), _negated=True),
                            models.Q(("where", ""), _negated=True),
                            _connector="OR",
                        ),
                        name="checklist_answer_says_where",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="ClientLink",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "revision",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="links", to="quoting.quoterevision"
                    ),
                ),
                ("digest", models.CharField(max_length=64, unique=True)),
                ("made_at", models.DateTimeField()),
                ("made_by_name", models.CharField(max_length=200)),
                ("withdrawn_at", models.DateTimeField(blank=True, null=True)),
            ],
            options={
                "ordering": ["-made_at", "-pk"],
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("withdrawn_at__isnull", True)),
                        fields=("revision",),
                        name="client_link_live_once_a_revision",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("made_by_name", ""), _negated=True), name="client_link_made_by_name_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("digest__regex", "^[0-9a-f]{64}$")), name="client_link_digest_is_sha256"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="QuoteMail",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "revision",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="mails", to="quoting.quoterevision"
                    ),
                ),
                (
                    "request_key",
                    models.CharField(help_text="Asking twice with it sends once.", max_length=100, unique=True),
                ),
                ("to_address", models.CharField(max_length=254)),
                ("message", models.TextField(blank=True)),
                (
                    "origin",
                    models.CharField(help_text="Where the client's page is: scheme, host and port.", max_length=200),
                ),
                ("asked_at", models.DateTimeField()),
                ("asked_by_name", models.CharField(max_length=200)),
                (
                    "link",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="mail",
                        to="quoting.clientlink",
                    ),
                ),
                ("began_at", models.DateTimeField(blank=True, null=True)),
                ("sent_at", models.DateTimeField(blank=True, null=True)),
            ],
            options={
                "ordering": ["-asked_at", "-pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("request_key", ""), ("to_address", ""), _connector="OR", _negated=True),
                        name="quote_mail_request_key_to_address_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("origin", ""), ("asked_by_name", ""), _connector="OR", _negated=True),
                        name="quote_mail_origin_asked_by_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("began_at__isnull", True), ("link__isnull", True), ("sent_at__isnull", True)),
                            models.Q(("began_at__isnull", False), ("link__isnull", False)),
                            _connector="OR",
                        ),
                        name="quote_mail_begun_has_its_link",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Errand",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("kind", models.CharField(max_length=60)),
                (
                    "key",
                    models.CharField(
                        help_text="With the kind, names the work: the same work has one row.", max_length=200
                    ),
                ),
                ("payload", models.JSONField(default=dict)),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("waiting", "Waiting"),
                            ("claimed", "Under way"),
                            ("done", "Done"),
                            ("failed", "Failed"),
                        ],
                        default="waiting",
                        max_length=8,
                    ),
                ),
                ("due_at", models.DateTimeField()),
                (
                    "claimed_by",
                    models.CharField(
                        blank=True,
                        help_text="A name made anew for each claim, so that a late claimant is told.",
                        max_length=120,
                    ),
                ),
                ("lease_until", models.DateTimeField(blank=True, null=True)),
                ("tries", models.PositiveSmallIntegerField(default=0)),
                ("error", models.TextField(blank=True)),
                ("progress_text", models.CharField(blank=True, max_length=200)),
                ("progress_percent", models.PositiveSmallIntegerField(default=0)),
                ("created_at", models.DateTimeField()),
                ("finished_at", models.DateTimeField(blank=True, null=True)),
            ],
            options={
                "ordering": ["pk"],
                "indexes": [models.Index(fields=["state", "due_at"], name="errand_state_due")],
                "constraints": [
                    models.UniqueConstraint(fields=("kind", "key"), name="errand_kind_key_once"),
                    models.CheckConstraint(
                        condition=models.Q(("state__in", ["waiting", "claimed", "done", "failed"])),
                        name="errand_state_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("progress_percent__gte", 0), ("progress_percent__lte", 100)),
                        name="errand_percent_in_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("lease_until__isnull", False),
                                ("state", "claimed"),
                                models.Q(("claimed_by", ""), _negated=True),
                            ),
                            models.Q(
                                models.Q(("state", "claimed"), _negated=True),
                                ("claimed_by", ""),
                                ("lease_until__isnull", True),
                            ),
                            _connector="OR",
                        ),
                        name="errand_claim_and_lease_agree",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("finished_at__isnull", False), ("state__in", ["done", "failed"])),
                            models.Q(("finished_at__isnull", True), ("state__in", ["waiting", "claimed"])),
                            _connector="OR",
                        ),
                        name="errand_finish_and_state_agree",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("state", "failed"), _negated=True),
                            models.Q(("error", ""), _negated=True),
                            _connector="OR",
                        ),
                        name="errand_failure_says_why",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalStandardText",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("key", models.CharField(max_length=60)),
                (
                    "block",
                    models.CharField(
                        choices=[
                            ("inclusions", "Included"),
                            ("exclusions", "Not included"),
                            ("access", "Site and access"),
                            ("assumptions", "Assumptions"),
                            ("cautions", "Cautions"),
                            ("warranty", "Warranty"),
                            ("terms", "Terms"),
                        ],
                        max_length=11,
                    ),
                ),
                ("order", models.PositiveSmallIntegerField(default=0)),
                ("text", models.TextField()),
                ("starts_on", models.DateField()),
                (
                    "ends_on",
                    models.DateField(
                        blank=True, help_text="The last day it holds; empty while it holds on.", null=True
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
                "verbose_name": "historical standard text",
                "verbose_name_plural": "historical standard texts",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="StandardText",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("key", models.CharField(max_length=60)),
                (
                    "block",
                    models.CharField(
                        choices=[
                            ("inclusions", "Included"),
                            ("exclusions", "Not included"),
                            ("access", "Site and access"),
                            ("assumptions", "Assumptions"),
                            ("cautions", "Cautions"),
                            ("warranty", "Warranty"),
                            ("terms", "Terms"),
                        ],
                        max_length=11,
                    ),
                ),
                ("order", models.PositiveSmallIntegerField(default=0)),
                ("text", models.TextField()),
                ("starts_on", models.DateField()),
                (
                    "ends_on",
                    models.DateField(
                        blank=True, help_text="The last day it holds; empty while it holds on.", null=True
                    ),
                ),
            ],
            options={
                "ordering": ["block", "order", "key", "starts_on"],
                "constraints": [
                    models.UniqueConstraint(fields=("key", "starts_on"), name="standard_text_once_a_key_and_day"),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "block__in",
                                ["inclusions", "exclusions", "access", "assumptions", "cautions", "warranty", "terms"],
                            )
                        ),
                        name="standard_text_block_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)),
                        name="standard_text_order_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("key", ""), ("text", ""), _connector="OR", _negated=True),
                        name="standard_text_key_text_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("ends_on__isnull", True), ("ends_on__gte", models.F("starts_on")), _connector="OR"
                        ),
                        name="standard_text_ends_after_it_starts",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalNoticePlace",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("name", models.CharField(db_index=True, max_length=100)),
                ("requires_notice", models.BooleanField(default=False)),
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
                "verbose_name": "historical notice place",
                "verbose_name_plural": "historical notice places",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="NoticePlace",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=100, unique=True)),
                ("requires_notice", models.BooleanField(default=False)),
            ],
            options={
                "ordering": ["name"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("name", ""), _negated=True), name="notice_place_name_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("requires_notice__in", [True, False])),
                        name="notice_place_requires_notice_is_yes_or_no",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalNoticePack",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("language", models.CharField(max_length=40)),
                ("version", models.CharField(max_length=60)),
                ("title", models.CharField(max_length=200)),
                ("text", models.TextField()),
                ("source", models.TextField(blank=True, help_text="Who gave the wording, and when.")),
                ("starts_on", models.DateField()),
                ("ends_on", models.DateField(blank=True, null=True)),
                (
                    "place",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="quoting.noticeplace",
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
                "verbose_name": "historical notice pack",
                "verbose_name_plural": "historical notice packs",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="NoticePack",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "place",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="notices", to="quoting.noticeplace"
                    ),
                ),
                ("language", models.CharField(max_length=40)),
                ("version", models.CharField(max_length=60)),
                ("title", models.CharField(max_length=200)),
                ("text", models.TextField()),
                ("source", models.TextField(blank=True, help_text="Who gave the wording, and when.")),
                ("starts_on", models.DateField()),
                ("ends_on", models.DateField(blank=True, null=True)),
            ],
            options={
                "ordering": ["place__name", "language", "starts_on"],
                "constraints": [
                    models.UniqueConstraint(
                        fields=("place", "language", "starts_on"), name="notice_once_a_place_and_day"
                    ),
                    models.UniqueConstraint(
                        fields=("place", "language", "version"), name="notice_version_once_a_place"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("language", ""), ("version", ""), _connector="OR", _negated=True),
                        name="notice_pack_language_version_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("title", ""), ("text", ""), _connector="OR", _negated=True),
                        name="notice_pack_title_text_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("ends_on__isnull", True), ("ends_on__gte", models.F("starts_on")), _connector="OR"
                        ),
                        name="notice_pack_ends_after_it_starts",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalTextLeftOut",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("key", models.CharField(max_length=60)),
                (
                    "pricing",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="quoting.pricing",
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
                "verbose_name": "historical text left out",
                "verbose_name_plural": "historical text left outs",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="TextLeftOut",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "pricing",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="left_out", to="quoting.pricing"
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                ("key", models.CharField(max_length=60)),
            ],
            options={
                "ordering": ["order", "pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("pricing", "key"), name="text_left_out_once"),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)),
                        name="text_left_out_order_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("key", ""), _negated=True), name="text_left_out_key_stated"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Heartbeat",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=40, unique=True)),
                ("beat_at", models.DateTimeField()),
            ],
        ),
        migrations.CreateModel(
            name="HistoricalOptionEntry",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("key", models.CharField(max_length=40)),
                ("title", models.CharField(max_length=200)),
                ("text", models.TextField(blank=True)),
                ("group", models.CharField(blank=True, max_length=60, verbose_name="choice")),
                ("price", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("cost", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("materials_price", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("special_order_cost", models.DecimalField(decimal_places=2, default=0, max_digits=12)),
                ("build", models.JSONField(blank=True, null=True)),
                (
                    "pricing",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="quoting.pricing",
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
                "verbose_name": "historical option",
                "verbose_name_plural": "historical options",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="OptionEntry",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "pricing",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="options", to="quoting.pricing"
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                ("key", models.CharField(max_length=40)),
                ("title", models.CharField(max_length=200)),
                ("text", models.TextField(blank=True)),
                ("group", models.CharField(blank=True, max_length=60, verbose_name="choice")),
                ("price", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("cost", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("materials_price", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("special_order_cost", models.DecimalField(decimal_places=2, default=0, max_digits=12)),
                ("build", models.JSONField(blank=True, null=True)),
            ],
            options={
                "verbose_name": "option",
                "ordering": ["order", "pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("pricing", "key"), name="option_key_once"),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="option_order_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("key", ""), ("title", ""), _connector="OR", _negated=True),
                        name="option_key_title_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("price__gte", Decimal("-9999999999.99")), ("price__lte", Decimal("9999999999.99"))
                        ),
                        name="option_price_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("cost__gte", Decimal("-9999999999.99")), ("cost__lte", Decimal("9999999999.99"))
                        ),
                        name="option_cost_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("materials_price__gte", Decimal("-9999999999.99")),
                            ("materials_price__lte", Decimal("9999999999.99")),
                        ),
                        name="option_materials_price_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("special_order_cost__gte", 0), ("special_order_cost__lte", Decimal("9999999999.99"))
                        ),
                        name="option_special_order_cost_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("build__isnull", False), ("price__isnull", True)),
                            models.Q(("build__isnull", True), ("price__isnull", False)),
                            _connector="OR",
                        ),
                        name="option_has_a_price_or_a_build",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Paper",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("quote", "Quotation"),
                            ("order_dates", "Order dates"),
                            ("site_sheet", "Site sheet"),
                            ("full_size", "Full-size template"),
                            ("certificate", "Certificate of acceptance"),
                            ("change_note", "Change note"),
                        ],
                        max_length=12,
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="papers", to="jobs.job"
                    ),
                ),
                (
                    "revision",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="paper",
                        to="quoting.quoterevision",
                    ),
                ),
                (
                    "answer",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="certificate",
                        to="quoting.clientanswer",
                    ),
                ),
                (
                    "change_note",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="paper",
                        to="quoting.changenote",
                    ),
                ),
                (
                    "key",
                    models.CharField(
                        help_text="The errand that made it: one errand, one paper.", max_length=200, unique=True
                    ),
                ),
                ("title", models.CharField(max_length=500)),
                ("file_name", models.CharField(max_length=100)),
                ("sha256", models.CharField(max_length=64)),
                ("size_bytes", models.PositiveIntegerField()),
                ("page_count", models.PositiveSmallIntegerField()),
                ("made_at", models.DateTimeField()),
            ],
            options={
                "ordering": ["-made_at", "-pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "kind__in",
                                ["quote", "order_dates", "site_sheet", "full_size", "certificate", "change_note"],
                            )
                        ),
                        name="paper_kind_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("key", ""), ("title", ""), ("file_name", ""), _connector="OR", _negated=True
                        ),
                        name="paper_key_title_file_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("sha256__regex", "^[0-9a-f]{64}$")), name="paper_hash_is_sha256"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("size_bytes__gte", 1), ("size_bytes__lte", 1000000000)),
                        name="paper_size_bytes_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("page_count__gte", 1), ("page_count__lte", 10000)),
                        name="paper_page_count_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("kind", "quote"), ("revision__isnull", False)),
                            models.Q(models.Q(("kind", "quote"), _negated=True), ("revision__isnull", True)),
                            _connector="OR",
                        ),
                        name="paper_of_a_quote_has_a_revision",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("answer__isnull", False), ("kind", "certificate")),
                            models.Q(models.Q(("kind", "certificate"), _negated=True), ("answer__isnull", True)),
                            _connector="OR",
                        ),
                        name="paper_of_an_acceptance_has_it",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("change_note__isnull", False), ("kind", "change_note")),
                            models.Q(models.Q(("kind", "change_note"), _negated=True), ("change_note__isnull", True)),
                            _connector="OR",
                        ),
                        name="paper_of_a_change_note_has_it",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalInstalmentTerm",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("event", models.CharField(max_length=200)),
                ("share_count", models.BigIntegerField()),
                ("share_parts", models.BigIntegerField()),
                (
                    "pricing",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="quoting.pricing",
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
                "verbose_name": "historical instalment term",
                "verbose_name_plural": "historical instalment terms",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="InstalmentTerm",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "pricing",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="instalments", to="quoting.pricing"
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                ("event", models.CharField(max_length=200)),
                ("share_count", models.BigIntegerField()),
                ("share_parts", models.BigIntegerField()),
            ],
            options={
                "ordering": ["order", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)),
                        name="instalment_term_order_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("event", ""), _negated=True), name="instalment_term_event_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("share_count__gte", 1),
                            ("share_count__lte", models.F("share_parts")),
                            ("share_parts__gte", 1),
                            ("share_parts__lte", 1000000000000),
                        ),
                        name="instalment_term_share_count_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalDepositTerm",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("share_count", models.BigIntegerField()),
                ("share_parts", models.BigIntegerField()),
                ("at_most", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("covers_special_orders", models.BooleanField(default=False)),
                ("legal_share_count", models.BigIntegerField(blank=True, null=True)),
                ("legal_share_parts", models.BigIntegerField(blank=True, null=True)),
                ("legal_amount", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                (
                    "pricing",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="quoting.pricing",
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
                "verbose_name": "historical deposit term",
                "verbose_name_plural": "historical deposit terms",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="DepositTerm",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "pricing",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE, related_name="deposit", to="quoting.pricing"
                    ),
                ),
                ("share_count", models.BigIntegerField()),
                ("share_parts", models.BigIntegerField()),
                ("at_most", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("covers_special_orders", models.BooleanField(default=False)),
                ("legal_share_count", models.BigIntegerField(blank=True, null=True)),
                ("legal_share_parts", models.BigIntegerField(blank=True, null=True)),
                ("legal_amount", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
            ],
            options={
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("share_count__gte", 0),
                            ("share_count__lte", models.F("share_parts")),
                            ("share_parts__gte", 1),
                            ("share_parts__lte", 1000000000000),
                        ),
                        name="deposit_term_share_count_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("legal_share_count__gte", 0),
                            ("legal_share_count__lte", models.F("legal_share_parts")),
                            ("legal_share_parts__gte", 1),
                            ("legal_share_parts__lte", 1000000000000),
                        ),
                        name="deposit_term_legal_share_count_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("legal_share_count__isnull", True), ("legal_share_parts__isnull", True)),
                            models.Q(("legal_share_count__isnull", False), ("legal_share_parts__isnull", False)),
                            _connector="OR",
                        ),
                        name="deposit_term_legal_share_is_whole",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("at_most__gte", 0), ("at_most__lte", Decimal("9999999999.99"))),
                        name="deposit_term_at_most_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("legal_amount__gte", 0), ("legal_amount__lte", Decimal("9999999999.99"))),
                        name="deposit_term_legal_amount_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("covers_special_orders__in", [True, False])),
                        name="deposit_term_covers_special_orders_is_yes_or_no",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("at_most__isnull", True), ("covers_special_orders", False), _connector="OR"
                        ),
                        name="deposit_term_is_limited_or_raised",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="QuoteText",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "pricing",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="texts", to="quoting.pricing"
                    ),
                ),
                (
                    "block",
                    models.CharField(
                        choices=[
                            ("inclusions", "Included"),
                            ("exclusions", "Not included"),
                            ("access", "Site and access"),
                            ("assumptions", "Assumptions"),
                            ("cautions", "Cautions"),
                            ("warranty", "Warranty"),
                            ("terms", "Terms"),
                        ],
                        max_length=11,
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                ("text", models.TextField()),
            ],
            options={
                "ordering": ["block", "order", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "block__in",
                                ["inclusions", "exclusions", "access", "assumptions", "cautions", "warranty", "terms"],
                            )
                        ),
                        name="quote_text_block_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="quote_text_order_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("text", ""), _negated=True), name="quote_text_text_stated"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Token",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="tokens", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "name",
                    models.CharField(
                        help_text="What uses it, such as: spreadsheet on the office machine.", max_length=80
                    ),
                ),
                ("digest", models.CharField(editable=False, max_length=64, unique=True)),
                ("made_at", models.DateTimeField(editable=False)),
                ("last_used_on", models.DateField(blank=True, editable=False, null=True)),
                ("withdrawn_at", models.DateTimeField(blank=True, editable=False, null=True)),
            ],
            options={
                "ordering": ["-made_at", "-pk"],
                "constraints": [
                    models.CheckConstraint(condition=models.Q(("name", ""), _negated=True), name="token_has_a_name"),
                    models.CheckConstraint(
                        condition=models.Q(("digest__regex", "^[0-9a-f]{64}$")), name="token_digest_is_sha256"
                    ),
                ],
            },
        ),
    ]
