from decimal import Decimal

import django.db.models.deletion
import simple_history.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0023_bills"),
        ("quoting", "0020_payment_requests"),
    ]

    operations = [
        migrations.CreateModel(
            name="HistoricalChangeDraftCost",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("category", models.CharField(max_length=11)),
                ("item", models.CharField(max_length=200)),
                ("what", models.CharField(blank=True, max_length=200)),
                ("quantity", models.DecimalField(decimal_places=6, max_digits=14)),
                ("unit_cost", models.DecimalField(decimal_places=6, max_digits=14)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
                ),
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
                "verbose_name": "historical change draft cost",
                "verbose_name_plural": "historical change draft costs",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HistoricalSaidLeft",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("day", models.DateField(help_text="The true day.")),
                ("posted_month", models.DateField(db_index=True, help_text="First day of the month it counts in.")),
                ("voided_at", models.DateTimeField(blank=True, null=True)),
                ("voided_by_name", models.CharField(blank=True, max_length=200)),
                ("void_reason", models.CharField(blank=True, max_length=300)),
                ("category", models.CharField(max_length=11)),
                ("item", models.CharField(max_length=200)),
                ("amount", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("reason", models.CharField(max_length=300)),
                ("request_key", models.CharField(db_index=True, max_length=100)),
                ("said_at", models.DateTimeField()),
                ("said_by_name", models.CharField(max_length=200)),
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
            ],
            options={
                "verbose_name": "historical said left",
                "verbose_name_plural": "historical said left",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="ChangeDraftCost",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("category", models.CharField(max_length=11)),
                ("item", models.CharField(max_length=200)),
                ("what", models.CharField(blank=True, max_length=200)),
                ("quantity", models.DecimalField(decimal_places=6, max_digits=14)),
                ("unit_cost", models.DecimalField(decimal_places=6, max_digits=14)),
                (
                    "draft",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="costs", to="quoting.changedraft"
                    ),
                ),
            ],
            options={
                "ordering": ["order", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)),
                        name="change_draft_cost_order_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("category__in", ["materials", "labour", "subcontract", "other", "freight"])
                        ),
                        name="change_draft_cost_category_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("item", ""), _negated=True), name="change_draft_cost_item_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("quantity__gte", Decimal("-10000000")), ("quantity__lte", Decimal("10000000"))
                        ),
                        name="change_draft_cost_quantity_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("unit_cost__gte", 0), ("unit_cost__lte", Decimal("10000000"))),
                        name="change_draft_cost_unit_cost_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="ChangeNoteCost",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("category", models.CharField(max_length=11)),
                ("item", models.CharField(max_length=200)),
                ("what", models.CharField(blank=True, max_length=200)),
                ("quantity", models.DecimalField(decimal_places=6, max_digits=14)),
                ("unit_cost", models.DecimalField(decimal_places=6, max_digits=14)),
                (
                    "note",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="costs", to="quoting.changenote"
                    ),
                ),
            ],
            options={
                "ordering": ["order", "pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("note", "order"), name="change_note_cost_once_a_place"),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)),
                        name="change_note_cost_order_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("category__in", ["materials", "labour", "subcontract", "other", "freight"])
                        ),
                        name="change_note_cost_category_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("item", ""), _negated=True), name="change_note_cost_item_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("quantity__gte", Decimal("-10000000")), ("quantity__lte", Decimal("10000000"))
                        ),
                        name="change_note_cost_quantity_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("unit_cost__gte", 0), ("unit_cost__lte", Decimal("10000000"))),
                        name="change_note_cost_unit_cost_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="QuotedSide",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("price", models.DecimalField(decimal_places=2, max_digits=14)),
                ("lines", models.TextField()),
                ("overhead", models.TextField(default="null")),
                ("made_at", models.DateTimeField()),
                (
                    "revision",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="quoted_side",
                        to="quoting.quoterevision",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("price__gte", 0), ("price__lte", Decimal("19999999999.98"))),
                        name="quoted_side_price_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("lines", ""), ("overhead", ""), _connector="OR", _negated=True),
                        name="quoted_side_lines_overhead_stated",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="SaidLeft",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("day", models.DateField(help_text="The true day.")),
                ("posted_month", models.DateField(db_index=True, help_text="First day of the month it counts in.")),
                ("voided_at", models.DateTimeField(blank=True, null=True)),
                ("voided_by_name", models.CharField(blank=True, max_length=200)),
                ("void_reason", models.CharField(blank=True, max_length=300)),
                ("category", models.CharField(max_length=11)),
                ("item", models.CharField(max_length=200)),
                ("amount", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("reason", models.CharField(max_length=300)),
                ("request_key", models.CharField(max_length=100, unique=True)),
                ("said_at", models.DateTimeField()),
                ("said_by_name", models.CharField(max_length=200)),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="said_left", to="jobs.job"
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "said left",
                "ordering": ["said_at", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("category__in", ["materials", "labour", "subcontract", "other", "freight"])
                        ),
                        name="said_left_category_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("item", ""),
                            ("reason", ""),
                            ("request_key", ""),
                            ("said_by_name", ""),
                            _connector="OR",
                            _negated=True,
                        ),
                        name="said_left_item_reason_request_key_said_by_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("amount__gte", 0), ("amount__lte", Decimal("9999999999.99"))),
                        name="said_left_amount_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("posted_month__day", 1)), name="said_left_posted_month_is_a_first"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("void_reason", ""), ("voided_at__isnull", True), ("voided_by_name", "")),
                            models.Q(
                                ("voided_at__isnull", False),
                                models.Q(("voided_by_name", ""), _negated=True),
                                models.Q(("void_reason", ""), _negated=True),
                            ),
                            _connector="OR",
                        ),
                        name="said_left_voided_says_why",
                    ),
                ],
            },
        ),
    ]
