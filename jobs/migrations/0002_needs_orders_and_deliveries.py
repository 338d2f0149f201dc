from decimal import Decimal

import django.db.models.deletion
import simple_history.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("catalog", "0002_terms_of_orders_and_days_planned"),
        ("jobs", "0001_jobs"),
    ]

    operations = [
        migrations.CreateModel(
            name="HistoricalRelease",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("statement", models.JSONField(help_text="What would be ordered, as it stood.")),
                (
                    "statement_mark",
                    models.CharField(help_text="SHA-256 of the statement: another one is not released.", max_length=64),
                ),
                (
                    "holds",
                    models.JSONField(default=list, help_text="Key and sentence of each hold that was set aside."),
                ),
                ("past_holds", models.BooleanField(default=False, help_text="Whether any hold was set aside.")),
                ("reason", models.TextField(blank=True, help_text="Why holds were set aside.")),
                ("released_at", models.DateTimeField()),
                ("released_by_name", models.CharField(max_length=200)),
                ("ended_at", models.DateTimeField(blank=True, null=True)),
                ("ended_by_name", models.CharField(blank=True, max_length=200)),
                ("ended_reason", models.TextField(blank=True)),
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
                (
                    "material",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="catalog.material",
                        to_field="code",
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
                "verbose_name": "historical release",
                "verbose_name_plural": "historical releases",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Release",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="releases", to="jobs.job"
                    ),
                ),
                (
                    "material",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="catalog.material",
                        to_field="code",
                    ),
                ),
                ("statement", models.JSONField(help_text="What would be ordered, as it stood.")),
                (
                    "statement_mark",
                    models.CharField(help_text="SHA-256 of the statement: another one is not released.", max_length=64),
                ),
                (
                    "holds",
                    models.JSONField(default=list, help_text="Key and sentence of each hold that was set aside."),
                ),
                ("past_holds", models.BooleanField(default=False, help_text="Whether any hold was set aside.")),
                ("reason", models.TextField(blank=True, help_text="Why holds were set aside.")),
                ("released_at", models.DateTimeField()),
                ("released_by_name", models.CharField(max_length=200)),
                ("ended_at", models.DateTimeField(blank=True, null=True)),
                ("ended_by_name", models.CharField(blank=True, max_length=200)),
                ("ended_reason", models.TextField(blank=True)),
            ],
            options={
                "ordering": ["-released_at", "-pk"],
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("ended_at__isnull", True)),
                        fields=("job", "material"),
                        name="release_stands_once_an_item",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("released_by_name", ""), _negated=True),
                        name="release_released_by_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("past_holds__in", [True, False])), name="release_past_holds_is_yes_or_no"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("statement_mark__regex", "^[0-9a-f]{64}$")), name="release_mark_is_sha256"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("past_holds", False), models.Q(("reason", ""), _negated=True), _connector="OR"
                        ),
                        name="release_past_a_hold_says_why",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("ended_at__isnull", True), ("ended_by_name", "")),
                            models.Q(("ended_at__isnull", False), models.Q(("ended_by_name", ""), _negated=True)),
                            _connector="OR",
                        ),
                        name="release_ended_by_somebody",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalOrder",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("number", models.CharField(db_index=True, max_length=20)),
                (
                    "state",
                    models.CharField(
                        choices=[("draft", "Being put together"), ("placed", "Placed"), ("called_off", "Called off")],
                        default="draft",
                        max_length=10,
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, help_text="Rises with every change.")),
                (
                    "request_key",
                    models.CharField(db_index=True, help_text="Asking twice with it makes one order.", max_length=100),
                ),
                ("note", models.TextField(blank=True, help_text="For the supplier.")),
                ("freight", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("rush_fee", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("made_at", models.DateTimeField()),
                ("made_by_name", models.CharField(max_length=200)),
                (
                    "way",
                    models.CharField(
                        blank=True,
                        choices=[("mail", "By mail from here"), ("other", "Otherwise, entered by the office")],
                        max_length=5,
                    ),
                ),
                ("placed_at", models.DateTimeField(blank=True, null=True)),
                ("placed_on", models.DateField(blank=True, help_text="The day in the firm's time zone.", null=True)),
                (
                    "counted_from",
                    models.DateField(
                        blank=True,
                        help_text="The day the supplier counts from: the next one after the cut-off hour.",
                        null=True,
                    ),
                ),
                ("placed_by_name", models.CharField(blank=True, max_length=200)),
                ("called_off_at", models.DateTimeField(blank=True, null=True)),
                ("called_off_by_name", models.CharField(blank=True, max_length=200)),
                ("called_off_reason", models.TextField(blank=True)),
                (
                    "supplier",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="catalog.supplier",
                        to_field="code",
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
                "verbose_name": "historical order",
                "verbose_name_plural": "historical orders",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Order",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("number", models.CharField(max_length=20, unique=True)),
                (
                    "supplier",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="orders",
                        to="catalog.supplier",
                        to_field="code",
                    ),
                ),
                (
                    "state",
                    models.CharField(
                        choices=[("draft", "Being put together"), ("placed", "Placed"), ("called_off", "Called off")],
                        default="draft",
                        max_length=10,
                    ),
                ),
                ("version", models.PositiveIntegerField(default=1, help_text="Rises with every change.")),
                (
                    "request_key",
                    models.CharField(help_text="Asking twice with it makes one order.", max_length=100, unique=True),
                ),
                ("note", models.TextField(blank=True, help_text="For the supplier.")),
                ("freight", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("rush_fee", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("made_at", models.DateTimeField()),
                ("made_by_name", models.CharField(max_length=200)),
                (
                    "way",
                    models.CharField(
                        blank=True,
                        choices=[("mail", "By mail from here"), ("other", "Otherwise, entered by the office")],
                        max_length=5,
                    ),
                ),
                ("placed_at", models.DateTimeField(blank=True, null=True)),
                ("placed_on", models.DateField(blank=True, help_text="The day in the firm's time zone.", null=True)),
                (
                    "counted_from",
                    models.DateField(
                        blank=True,
                        help_text="The day the supplier counts from: the next one after the cut-off hour.",
                        null=True,
                    ),
                ),
                ("placed_by_name", models.CharField(blank=True, max_length=200)),
                ("called_off_at", models.DateTimeField(blank=True, null=True)),
                ("called_off_by_name", models.CharField(blank=True, max_length=200)),
                ("called_off_reason", models.TextField(blank=True)),
            ],
            options={
                "ordering": ["-made_at", "-pk"],
                "indexes": [models.Index(fields=["state", "placed_on"], name="order_state_placed_on")],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("state__in", ["draft", "placed", "called_off"])),
                        name="order_state_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("way__in", ["", "mail", "other"])), name="order_way_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("version__gte", 1), ("version__lte", 1000000000)),
                        name="order_version_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("number", ""), ("request_key", ""), _connector="OR", _negated=True),
                        name="order_number_request_key_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("made_by_name", ""), _negated=True), name="order_made_by_name_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("freight__gte", 0), ("freight__lte", Decimal("9999999999.99"))),
                        name="order_freight_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("rush_fee__gte", 0), ("rush_fee__lte", Decimal("9999999999.99"))),
                        name="order_rush_fee_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("placed_at__isnull", True),
                                ("placed_by_name", ""),
                                ("placed_on__isnull", True),
                                ("state", "draft"),
                                ("way", ""),
                            ),
                            ("state", "called_off"),
                            models.Q(
                                ("counted_from__isnull", False),
                                ("placed_at__isnull", False),
                                ("placed_on__isnull", False),
                                ("state", "placed"),
                                models.Q(("placed_by_name", ""), _negated=True),
                                models.Q(("way", ""), _negated=True),
                            ),
                            _connector="OR",
                        ),
                        name="order_placed_by_somebody",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("state", "called_off"), _negated=True),
                            models.Q(
                                ("called_off_at__isnull", False),
                                models.Q(("called_off_by_name", ""), _negated=True),
                                models.Q(("called_off_reason", ""), _negated=True),
                            ),
                            _connector="OR",
                        ),
                        name="order_called_off_says_why",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="OrderLine",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "order",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="lines", to="jobs.order"
                    ),
                ),
                ("place", models.PositiveSmallIntegerField()),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="order_lines", to="jobs.job"
                    ),
                ),
                (
                    "material",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="order_lines",
                        to="catalog.material",
                        to_field="code",
                    ),
                ),
                ("what", models.CharField(help_text="The item as the supplier reads it.", max_length=500)),
                ("quantity", models.DecimalField(decimal_places=6, max_digits=14)),
                ("unit", models.CharField(help_text="What the quantity counts: sticks, pieces, ft.", max_length=40)),
                (
                    "statement",
                    models.JSONField(default=dict, help_text="All the order states of pieces made for the wall."),
                ),
                ("statement_mark", models.CharField(max_length=64)),
                (
                    "release",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="lines",
                        to="jobs.release",
                    ),
                ),
                ("unit_price", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("amount", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("rush", models.BooleanField(default=False)),
                ("need_by", models.DateField(blank=True, null=True)),
                (
                    "order_by",
                    models.DateField(blank=True, help_text="As it stood when the order was placed.", null=True),
                ),
                ("quoted_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                (
                    "quoted_dock_on",
                    models.DateField(blank=True, help_text="The day it should be here, as quoted.", null=True),
                ),
                ("promised_on", models.DateField(blank=True, null=True)),
                (
                    "replaces",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="replaced_by",
                        to="jobs.orderline",
                    ),
                ),
                (
                    "ended_on",
                    models.DateField(blank=True, help_text="No more of it is expected from this day on.", null=True),
                ),
                ("ended_reason", models.TextField(blank=True)),
            ],
            options={
                "ordering": ["order", "place", "pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("order", "place"), name="order_line_once_a_place"),
                    models.CheckConstraint(
                        condition=models.Q(("place__gte", 0), ("place__lte", 5000)), name="order_line_place_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("what", ""), ("unit", ""), _connector="OR", _negated=True),
                        name="order_line_what_unit_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("quantity__gt", 0), ("quantity__lte", 1000000)),
                        name="order_line_quantity_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("rush__in", [True, False])), name="order_line_rush_is_yes_or_no"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("unit_price__gte", 0), ("unit_price__lte", Decimal("9999999999.99"))),
                        name="order_line_unit_price_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("amount__gte", 0), ("amount__lte", Decimal("9999999999.99"))),
                        name="order_line_amount_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("quoted_workdays__gte", 0), ("quoted_workdays__lte", 2000)),
                        name="order_line_quoted_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("statement_mark__regex", "^[0-9a-f]{64}$")),
                        name="order_line_mark_is_sha256",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("ended_on__isnull", True), models.Q(("ended_reason", ""), _negated=True), _connector="OR"
                        ),
                        name="order_line_ended_says_why",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalOrderLine",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("place", models.PositiveSmallIntegerField()),
                ("what", models.CharField(help_text="The item as the supplier reads it.", max_length=500)),
                ("quantity", models.DecimalField(decimal_places=6, max_digits=14)),
                ("unit", models.CharField(help_text="What the quantity counts: sticks, pieces, ft.", max_length=40)),
                (
                    "statement",
                    models.JSONField(default=dict, help_text="All the order states of pieces made for the wall."),
                ),
                ("statement_mark", models.CharField(max_length=64)),
                ("unit_price", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("amount", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("rush", models.BooleanField(default=False)),
                ("need_by", models.DateField(blank=True, null=True)),
                (
                    "order_by",
                    models.DateField(blank=True, help_text="As it stood when the order was placed.", null=True),
                ),
                ("quoted_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                (
                    "quoted_dock_on",
                    models.DateField(blank=True, help_text="The day it should be here, as quoted.", null=True),
                ),
                ("promised_on", models.DateField(blank=True, null=True)),
                (
                    "ended_on",
                    models.DateField(blank=True, help_text="No more of it is expected from this day on.", null=True),
                ),
                ("ended_reason", models.TextField(blank=True)),
                (
                    "order",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.order",
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
                (
                    "material",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="catalog.material",
                        to_field="code",
                    ),
                ),
                (
                    "release",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.release",
                    ),
                ),
                (
                    "replaces",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.orderline",
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
                "verbose_name": "historical order line",
                "verbose_name_plural": "historical order lines",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Promise",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "line",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="promises", to="jobs.orderline"
                    ),
                ),
                ("promised_on", models.DateField()),
                ("reason", models.TextField(blank=True)),
                ("told_by", models.CharField(blank=True, max_length=200)),
                ("told_on", models.DateField()),
                ("entered_at", models.DateTimeField()),
                ("entered_by_name", models.CharField(max_length=200)),
            ],
            options={
                "ordering": ["entered_at", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("entered_by_name", ""), _negated=True),
                        name="promise_entered_by_name_stated",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="OrderMail",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "order",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="mails", to="jobs.order"
                    ),
                ),
                ("request_key", models.CharField(max_length=100, unique=True)),
                ("to_address", models.CharField(max_length=254)),
                ("message", models.TextField(blank=True)),
                ("asked_at", models.DateTimeField()),
                ("asked_by_name", models.CharField(max_length=200)),
                ("began_at", models.DateTimeField(blank=True, null=True)),
                ("sent_at", models.DateTimeField(blank=True, null=True)),
            ],
            options={
                "ordering": ["-asked_at", "-pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("request_key", ""), ("to_address", ""), _connector="OR", _negated=True),
                        name="order_mail_request_key_to_address_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("asked_by_name", ""), _negated=True), name="order_mail_asked_by_name_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("sent_at__isnull", True), ("began_at__isnull", False), _connector="OR"),
                        name="order_mail_begun_before_sent",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalSignOff",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                (
                    "what",
                    models.CharField(
                        help_text="The sample or the choice: profile, size, grade, colour.", max_length=300
                    ),
                ),
                ("asked_on", models.DateField(blank=True, null=True)),
                ("agreed_on", models.DateField(blank=True, null=True)),
                ("agreed_by", models.CharField(blank=True, max_length=200)),
                ("entered_at", models.DateTimeField()),
                ("entered_by_name", models.CharField(max_length=200)),
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
                (
                    "material",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="catalog.material",
                        to_field="code",
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
                "verbose_name": "historical sign off",
                "verbose_name_plural": "historical sign offs",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="SignOff",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="sign_offs", to="jobs.job"
                    ),
                ),
                (
                    "material",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="catalog.material",
                        to_field="code",
                    ),
                ),
                (
                    "what",
                    models.CharField(
                        help_text="The sample or the choice: profile, size, grade, colour.", max_length=300
                    ),
                ),
                ("asked_on", models.DateField(blank=True, null=True)),
                ("agreed_on", models.DateField(blank=True, null=True)),
                ("agreed_by", models.CharField(blank=True, max_length=200)),
                ("entered_at", models.DateTimeField()),
                ("entered_by_name", models.CharField(max_length=200)),
            ],
            options={
                "ordering": ["-entered_at", "-pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("what", ""), ("entered_by_name", ""), _connector="OR", _negated=True),
                        name="sign_off_what_entered_by_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("agreed_by", ""), ("agreed_on__isnull", True)),
                            models.Q(("agreed_on__isnull", False), models.Q(("agreed_by", ""), _negated=True)),
                            _connector="OR",
                        ),
                        name="sign_off_agreed_by_somebody",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalConfirmation",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("request_key", models.CharField(db_index=True, max_length=100)),
                (
                    "reference",
                    models.CharField(blank=True, help_text="The supplier's own number of the order.", max_length=100),
                ),
                ("received_on", models.DateField()),
                ("note", models.TextField(blank=True)),
                ("entered_at", models.DateTimeField()),
                ("entered_by_name", models.CharField(max_length=200)),
                (
                    "order",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.order",
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
                "verbose_name": "historical confirmation",
                "verbose_name_plural": "historical confirmations",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Confirmation",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "order",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="confirmations", to="jobs.order"
                    ),
                ),
                ("request_key", models.CharField(max_length=100, unique=True)),
                (
                    "reference",
                    models.CharField(blank=True, help_text="The supplier's own number of the order.", max_length=100),
                ),
                ("received_on", models.DateField()),
                ("note", models.TextField(blank=True)),
                ("entered_at", models.DateTimeField()),
                ("entered_by_name", models.CharField(max_length=200)),
            ],
            options={
                "ordering": ["-received_on", "-pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("request_key", ""), ("entered_by_name", ""), _connector="OR", _negated=True
                        ),
                        name="confirmation_request_key_entered_by_name_stated",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalConfirmedLine",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("quantity", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("lengths_mm", models.JSONField(default=list)),
                ("radii_mm", models.JSONField(default=list)),
                ("radius_face", models.CharField(blank=True, max_length=200)),
                ("amount", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("promised_on", models.DateField(blank=True, null=True)),
                (
                    "settled_by_name",
                    models.CharField(blank=True, help_text="Who stands for its differences.", max_length=200),
                ),
                ("settled_at", models.DateTimeField(blank=True, null=True)),
                ("settled_reason", models.TextField(blank=True)),
                (
                    "confirmation",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.confirmation",
                    ),
                ),
                (
                    "line",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.orderline",
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
                "verbose_name": "historical confirmed line",
                "verbose_name_plural": "historical confirmed lines",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="ConfirmedLine",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "confirmation",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="lines", to="jobs.confirmation"
                    ),
                ),
                (
                    "line",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="confirmed", to="jobs.orderline"
                    ),
                ),
                ("quantity", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("lengths_mm", models.JSONField(default=list)),
                ("radii_mm", models.JSONField(default=list)),
                ("radius_face", models.CharField(blank=True, max_length=200)),
                ("amount", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("promised_on", models.DateField(blank=True, null=True)),
                (
                    "settled_by_name",
                    models.CharField(blank=True, help_text="Who stands for its differences.", max_length=200),
                ),
                ("settled_at", models.DateTimeField(blank=True, null=True)),
                ("settled_reason", models.TextField(blank=True)),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("confirmation", "line"), name="confirmed_line_once_a_confirmation"),
                    models.CheckConstraint(
                        condition=models.Q(("quantity__gt", 0), ("quantity__lte", 1000000)),
                        name="confirmed_line_quantity_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("amount__gte", 0), ("amount__lte", Decimal("9999999999.99"))),
                        name="confirmed_line_amount_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("settled_at__isnull", True), ("settled_by_name", "")),
                            models.Q(("settled_at__isnull", False), models.Q(("settled_by_name", ""), _negated=True)),
                            _connector="OR",
                        ),
                        name="confirmed_line_settled_by_somebody",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Delivery",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "order",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="deliveries", to="jobs.order"
                    ),
                ),
                (
                    "request_key",
                    models.CharField(
                        help_text="Made on the phone: twice sent, once kept.", max_length=100, unique=True
                    ),
                ),
                ("received_on", models.DateField(help_text="The day it came, in the firm's time zone.")),
                ("note", models.TextField(blank=True)),
                ("entered_at", models.DateTimeField()),
                ("entered_by_name", models.CharField(max_length=200)),
            ],
            options={
                "verbose_name_plural": "deliveries",
                "ordering": ["received_on", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("request_key", ""), ("entered_by_name", ""), _connector="OR", _negated=True
                        ),
                        name="delivery_request_key_entered_by_name_stated",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalReceiptLine",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("good", models.DecimalField(decimal_places=6, default=0, max_digits=14)),
                ("damaged", models.DecimalField(decimal_places=6, default=0, max_digits=14)),
                ("wrong", models.DecimalField(decimal_places=6, default=0, max_digits=14)),
                ("note", models.TextField(blank=True)),
                ("quoted_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("promised_on", models.DateField(blank=True, null=True)),
                ("actual_workdays", models.PositiveSmallIntegerField()),
                ("claim_by", models.DateField(blank=True, help_text="The last day to tell the supplier.", null=True)),
                ("claimed_on", models.DateField(blank=True, null=True)),
                ("claimed_by_name", models.CharField(blank=True, max_length=200)),
                (
                    "outcome",
                    models.CharField(
                        blank=True,
                        choices=[
                            ("replaced", "Made again"),
                            ("credited", "Credited"),
                            ("kept", "Kept as it is"),
                            ("refused", "Refused by the supplier"),
                        ],
                        max_length=8,
                    ),
                ),
                ("outcome_on", models.DateField(blank=True, null=True)),
                ("outcome_note", models.TextField(blank=True)),
                ("credit", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                (
                    "delivery",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.delivery",
                    ),
                ),
                (
                    "line",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.orderline",
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
                "verbose_name": "historical receipt line",
                "verbose_name_plural": "historical receipt lines",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="ReceiptLine",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "delivery",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="lines", to="jobs.delivery"
                    ),
                ),
                (
                    "line",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="receipts", to="jobs.orderline"
                    ),
                ),
                ("good", models.DecimalField(decimal_places=6, default=0, max_digits=14)),
                ("damaged", models.DecimalField(decimal_places=6, default=0, max_digits=14)),
                ("wrong", models.DecimalField(decimal_places=6, default=0, max_digits=14)),
                ("note", models.TextField(blank=True)),
                ("quoted_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("promised_on", models.DateField(blank=True, null=True)),
                ("actual_workdays", models.PositiveSmallIntegerField()),
                ("claim_by", models.DateField(blank=True, help_text="The last day to tell the supplier.", null=True)),
                ("claimed_on", models.DateField(blank=True, null=True)),
                ("claimed_by_name", models.CharField(blank=True, max_length=200)),
                (
                    "outcome",
                    models.CharField(
                        blank=True,
                        choices=[
                            ("replaced", "Made again"),
                            ("credited", "Credited"),
                            ("kept", "Kept as it is"),
                            ("refused", "Refused by the supplier"),
                        ],
                        max_length=8,
                    ),
                ),
                ("outcome_on", models.DateField(blank=True, null=True)),
                ("outcome_note", models.TextField(blank=True)),
                ("credit", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
            ],
            options={
                "ordering": ["delivery", "pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("delivery", "line"), name="receipt_line_once_a_delivery"),
                    models.CheckConstraint(
                        condition=models.Q(("good__gte", 0), ("good__lte", 1000000)), name="receipt_line_good_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("damaged__gte", 0), ("damaged__lte", 1000000)),
                        name="receipt_line_damaged_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("wrong__gte", 0), ("wrong__lte", 1000000)),
                        name="receipt_line_wrong_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("good__gt", 0), ("damaged__gt", 0), ("wrong__gt", 0), _connector="OR"),
                        name="receipt_line_of_something",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("quoted_workdays__gte", 0), ("quoted_workdays__lte", 2000)),
                        name="receipt_line_quoted_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("actual_workdays__gte", 0), ("actual_workdays__lte", 5000)),
                        name="receipt_line_actual_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("outcome__in", ["", "replaced", "credited", "kept", "refused"])),
                        name="receipt_line_outcome_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("credit__gte", 0), ("credit__lte", Decimal("9999999999.99"))),
                        name="receipt_line_credit_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("claimed_by_name", ""), ("claimed_on__isnull", True)),
                            models.Q(("claimed_on__isnull", False), models.Q(("claimed_by_name", ""), _negated=True)),
                            _connector="OR",
                        ),
                        name="receipt_line_claimed_by_somebody",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("outcome", ""), ("outcome_on__isnull", True)),
                            models.Q(models.Q(("outcome", ""), _negated=True), ("outcome_on__isnull", False)),
                            _connector="OR",
                        ),
                        name="receipt_line_outcome_has_a_day",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="ReceiptPhoto",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "receipt",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="photos", to="jobs.receiptline"
                    ),
                ),
                ("caption", models.CharField(max_length=200)),
                ("file_name", models.CharField(max_length=100)),
                ("sha256", models.CharField(max_length=64)),
                ("size_bytes", models.PositiveIntegerField()),
                ("width_px", models.PositiveIntegerField()),
                ("height_px", models.PositiveIntegerField()),
                ("added_by", models.CharField(max_length=200)),
                ("added_at", models.DateTimeField()),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("caption", ""), ("file_name", ""), ("added_by", ""), _connector="OR", _negated=True
                        ),
                        name="receipt_photo_caption_file_name_added_by_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("sha256__regex", "^[0-9a-f]{64}$")), name="receipt_photo_hash_is_sha256"
                    ),
                    models.UniqueConstraint(fields=("receipt", "sha256"), name="receipt_photo_once_a_receipt"),
                    models.CheckConstraint(
                        condition=models.Q(("size_bytes__gte", 1), ("size_bytes__lte", 100000000)),
                        name="receipt_photo_size_bytes_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("width_px__gte", 1), ("width_px__lte", 20000)),
                        name="receipt_photo_width_px_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("height_px__gte", 1), ("height_px__lte", 20000)),
                        name="receipt_photo_height_px_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalReturnedGoods",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("request_key", models.CharField(db_index=True, max_length=100)),
                ("quantity", models.DecimalField(decimal_places=6, max_digits=14)),
                ("sent_on", models.DateField()),
                ("reason", models.TextField()),
                ("credit_expected", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("credited", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("credited_on", models.DateField(blank=True, null=True)),
                ("entered_at", models.DateTimeField()),
                ("entered_by_name", models.CharField(max_length=200)),
                (
                    "line",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.orderline",
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
                "verbose_name": "historical returned goods",
                "verbose_name_plural": "historical returned goods",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="ReturnedGoods",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "line",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="returns", to="jobs.orderline"
                    ),
                ),
                ("request_key", models.CharField(max_length=100, unique=True)),
                ("quantity", models.DecimalField(decimal_places=6, max_digits=14)),
                ("sent_on", models.DateField()),
                ("reason", models.TextField()),
                ("credit_expected", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("credited", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("credited_on", models.DateField(blank=True, null=True)),
                ("entered_at", models.DateTimeField()),
                ("entered_by_name", models.CharField(max_length=200)),
            ],
            options={
                "verbose_name_plural": "returned goods",
                "ordering": ["sent_on", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("request_key", ""), ("reason", ""), ("entered_by_name", ""), _connector="OR", _negated=True
                        ),
                        name="returned_goods_request_key_reason_entered_by_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("quantity__gt", 0), ("quantity__lte", 1000000)),
                        name="returned_goods_quantity_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("credit_expected__gte", 0), ("credit_expected__lte", Decimal("9999999999.99"))
                        ),
                        name="returned_goods_credit_expected_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("credited__gte", 0), ("credited__lte", Decimal("9999999999.99"))),
                        name="returned_goods_credited_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("credited__isnull", True), ("credited_on__isnull", True)),
                            models.Q(("credited__isnull", False), ("credited_on__isnull", False)),
                            _connector="OR",
                        ),
                        name="returned_goods_credit_has_a_day",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalOwnActivity",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("key", models.CharField(max_length=60)),
                ("name", models.CharField(max_length=120)),
                ("kind", models.CharField(default="work", max_length=12)),
                ("duration_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("crew_hours", models.DecimalField(blank=True, decimal_places=3, max_digits=9, null=True)),
                ("crew", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("after", models.CharField(blank=True, max_length=60)),
                ("before", models.CharField(blank=True, max_length=60)),
                ("not_before", models.DateField(blank=True, null=True)),
                ("shortest_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("longest_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
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
                "verbose_name": "historical own activity",
                "verbose_name_plural": "historical own activities",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="OwnActivity",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="own_activities", to="jobs.job"
                    ),
                ),
                ("key", models.CharField(max_length=60)),
                ("name", models.CharField(max_length=120)),
                ("kind", models.CharField(default="work", max_length=12)),
                ("duration_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("crew_hours", models.DecimalField(blank=True, decimal_places=3, max_digits=9, null=True)),
                ("crew", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("after", models.CharField(blank=True, max_length=60)),
                ("before", models.CharField(blank=True, max_length=60)),
                ("not_before", models.DateField(blank=True, null=True)),
                ("shortest_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("longest_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
            ],
            options={
                "verbose_name_plural": "own activities",
                "ordering": ["pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("job", "key"), name="own_activity_once_a_job"),
                    models.CheckConstraint(
                        condition=models.Q(("key", ""), ("name", ""), _connector="OR", _negated=True),
                        name="own_activity_key_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("kind__in", ["work", "inspection", "hold"])),
                        name="own_activity_kind_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("duration_workdays__gte", 0), ("duration_workdays__lte", 500)),
                        name="own_activity_duration_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("crew_hours__gt", 0), ("crew_hours__lte", 20000)),
                        name="own_activity_crew_hours_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("crew__gte", 1), ("crew__lte", 50)), name="own_activity_crew_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("shortest_workdays__gte", 0), ("shortest_workdays__lte", 500)),
                        name="own_activity_shortest_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("longest_workdays__gte", 0), ("longest_workdays__lte", 500)),
                        name="own_activity_longest_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("kind", "work"), _negated=True),
                            models.Q(("crew_hours__gt", 0), ("duration_workdays", None)),
                            models.Q(("crew_hours", None), ("duration_workdays__gte", 0)),
                            _connector="OR",
                        ),
                        name="own_activity_work_has_days_or_hours",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalActivityLink",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("before", models.CharField(max_length=60)),
                ("after", models.CharField(max_length=60)),
                ("kind", models.CharField(default="FS", max_length=2)),
                ("lag_workdays", models.SmallIntegerField(default=0)),
                ("lag_elapsed_hours", models.PositiveSmallIntegerField(default=0)),
                ("left_out", models.BooleanField(default=False)),
                ("name", models.CharField(blank=True, max_length=120)),
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
                "verbose_name": "historical activity link",
                "verbose_name_plural": "historical activity links",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="ActivityLink",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="activity_links", to="jobs.job"
                    ),
                ),
                ("before", models.CharField(max_length=60)),
                ("after", models.CharField(max_length=60)),
                ("kind", models.CharField(default="FS", max_length=2)),
                ("lag_workdays", models.SmallIntegerField(default=0)),
                ("lag_elapsed_hours", models.PositiveSmallIntegerField(default=0)),
                ("left_out", models.BooleanField(default=False)),
                ("name", models.CharField(blank=True, max_length=120)),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("job", "before", "after", "kind"), name="activity_link_once_a_job"),
                    models.CheckConstraint(
                        condition=models.Q(("before", ""), ("after", ""), _connector="OR", _negated=True),
                        name="activity_link_before_after_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("kind__in", ["FS", "SS", "FF", "SF"])), name="activity_link_kind_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("lag_workdays__gte", -250), ("lag_workdays__lte", 250)),
                        name="activity_link_lag_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("lag_elapsed_hours__gte", 0), ("lag_elapsed_hours__lte", 8760)),
                        name="activity_link_lag_elapsed_hours_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("left_out__in", [True, False])), name="activity_link_left_out_is_yes_or_no"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("before", models.F("after")), _negated=True),
                        name="activity_link_between_two",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("lag_workdays", 0), ("lag_elapsed_hours", 0), _connector="OR"),
                        name="activity_link_waits_in_one_way",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="PlannedActivityDays",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="planned_days", to="jobs.job"
                    ),
                ),
                ("key", models.CharField(max_length=60)),
                ("name", models.CharField(max_length=120)),
                ("first_day", models.DateField(db_index=True)),
                ("last_day", models.DateField()),
                ("people", models.PositiveSmallIntegerField()),
            ],
            options={
                "verbose_name_plural": "planned activity days",
                "ordering": ["pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("job", "key", "first_day"), name="planned_days_once_a_day"),
                    models.CheckConstraint(
                        condition=models.Q(("key", ""), ("name", ""), _connector="OR", _negated=True),
                        name="planned_days_key_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("people__gte", 1), ("people__lte", 50)),
                        name="planned_days_people_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("last_day__gte", models.F("first_day"))),
                        name="planned_days_end_after_they_begin",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="StoredNeed",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name="needs", to="jobs.job"),
                ),
                ("material", models.CharField(max_length=60)),
                ("name", models.CharField(max_length=200)),
                (
                    "supply",
                    models.CharField(
                        choices=[
                            ("stocked", "Stocked"),
                            ("special_order", "Special order"),
                            ("custom_made", "Made to order"),
                        ],
                        max_length=20,
                    ),
                ),
                ("supplier", models.CharField(blank=True, max_length=60)),
                ("quantity", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                (
                    "unit",
                    models.CharField(
                        choices=[
                            ("each", "each"),
                            ("mm", "mm"),
                            ("cm", "cm"),
                            ("m", "m"),
                            ("in", "in"),
                            ("ft", "ft"),
                            ("sqm", "sqm"),
                            ("sqft", "sqft"),
                            ("ml", "ml"),
                            ("l", "l"),
                            ("floz", "floz"),
                            ("gal", "gal"),
                            ("g", "g"),
                            ("kg", "kg"),
                            ("lb", "lb"),
                            ("h", "h"),
                        ],
                        max_length=10,
                    ),
                ),
                (
                    "driven_by",
                    models.CharField(
                        choices=[
                            ("length", "length"),
                            ("profile", "profile"),
                            ("radius", "radius"),
                            ("template", "template"),
                        ],
                        max_length=10,
                    ),
                ),
                ("need_by", models.DateField(blank=True, null=True)),
                ("set_by", models.TextField(blank=True, help_text="Where need-by comes from, in words.")),
                ("use_on", models.DateField(blank=True, help_text="When an activity first wants it.", null=True)),
                ("use_words", models.TextField(blank=True)),
                (
                    "stage",
                    models.CharField(blank=True, help_text="Key of the activity that first wants it.", max_length=60),
                ),
                ("agreed_cushion_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("agreed_sign_off_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("cushion_workdays", models.PositiveSmallIntegerField()),
                ("sign_off_workdays", models.PositiveSmallIntegerField()),
                ("production_days", models.PositiveSmallIntegerField(blank=True, null=True)),
                (
                    "production_counts",
                    models.CharField(
                        blank=True,
                        choices=[("workdays", "Working days"), ("calendar_days", "Calendar days")],
                        max_length=15,
                    ),
                ),
                ("transit_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("term_source", models.TextField(blank=True)),
                ("term_stated_on", models.DateField(blank=True, null=True)),
                ("term_stated_by", models.TextField(blank=True)),
                (
                    "planned_workdays",
                    models.PositiveSmallIntegerField(
                        blank=True,
                        help_text="Working days accepted for planning in the place of the quoted ones.",
                        null=True,
                    ),
                ),
                ("decide_by", models.DateField(blank=True, null=True)),
                ("order_by", models.DateField(blank=True, null=True)),
                ("ship", models.DateField(blank=True, null=True)),
                ("dock", models.DateField(blank=True, null=True)),
                ("cut_off", models.TimeField(blank=True, null=True)),
                (
                    "findings",
                    models.JSONField(blank=True, default=list, help_text="Gaps and cautions: key, weight, sentence."),
                ),
                (
                    "holds",
                    models.JSONField(
                        blank=True, default=list, help_text="Dimensions it is made to that nobody stands for."
                    ),
                ),
                (
                    "field_checked_on",
                    models.DateField(
                        blank=True, help_text="From when every dimension it is made to is confirmed on site.", null=True
                    ),
                ),
                (
                    "statement",
                    models.JSONField(
                        blank=True, default=dict, help_text="All a line of an order states, so far as known."
                    ),
                ),
                (
                    "missing",
                    models.JSONField(
                        blank=True, default=list, help_text="What an order does not state yet, in sentences."
                    ),
                ),
            ],
            options={
                "ordering": ["job", "name", "material"],
                "indexes": [
                    models.Index(fields=["order_by"], name="stored_need_order_by"),
                    models.Index(fields=["decide_by"], name="stored_need_decide_by"),
                    models.Index(fields=["supplier", "order_by"], name="stored_need_supplier"),
                ],
                "constraints": [
                    models.UniqueConstraint(fields=("job", "material"), name="stored_need_once_a_material"),
                    models.CheckConstraint(
                        condition=models.Q(("material", ""), ("name", ""), _connector="OR", _negated=True),
                        name="stored_need_material_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("supply__in", ["stocked", "special_order", "custom_made"])),
                        name="stored_need_supply_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "unit__in",
                                [
                                    "each",
                                    "mm",
                                    "cm",
                                    "m",
                                    "in",
                                    "ft",
                                    "sqm",
                                    "sqft",
                                    "ml",
                                    "l",
                                    "floz",
                                    "gal",
                                    "g",
                                    "kg",
                                    "lb",
                                    "h",
                                ],
                            )
                        ),
                        name="stored_need_unit_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("driven_by__in", ["length", "profile", "radius", "template"])),
                        name="stored_need_driven_by_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("production_counts__in", ["", "workdays", "calendar_days"])),
                        name="stored_need_production_counts_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("quantity__gte", 0), ("quantity__lte", 99999999)),
                        name="stored_need_quantity_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("agreed_cushion_workdays__gte", 0), ("agreed_cushion_workdays__lte", 250)),
                        name="stored_need_agreed_cushion_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("agreed_sign_off_workdays__gte", 0), ("agreed_sign_off_workdays__lte", 250)
                        ),
                        name="stored_need_agreed_sign_off_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("cushion_workdays__gte", 0), ("cushion_workdays__lte", 250)),
                        name="stored_need_cushion_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("sign_off_workdays__gte", 0), ("sign_off_workdays__lte", 250)),
                        name="stored_need_sign_off_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("production_days__gte", 0), ("production_days__lte", 730)),
                        name="stored_need_production_days_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("transit_workdays__gte", 0), ("transit_workdays__lte", 260)),
                        name="stored_need_transit_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("planned_workdays__gte", 0), ("planned_workdays__lte", 990)),
                        name="stored_need_planned_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("decide_by__isnull", True),
                                ("dock__isnull", True),
                                ("order_by__isnull", True),
                                ("ship__isnull", True),
                            ),
                            models.Q(
                                ("dock__gte", models.F("ship")),
                                ("need_by__gte", models.F("dock")),
                                ("order_by__gte", models.F("decide_by")),
                                ("ship__gte", models.F("order_by")),
                            ),
                            _connector="OR",
                        ),
                        name="stored_need_days_in_order",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("production_counts", ""),
                                ("production_days", None),
                                ("term_stated_on", None),
                                ("transit_workdays", None),
                            ),
                            models.Q(
                                ("production_days__isnull", False),
                                ("term_stated_on__isnull", False),
                                ("transit_workdays__isnull", False),
                                models.Q(("production_counts", ""), _negated=True),
                                models.Q(("term_source", ""), _negated=True),
                            ),
                            _connector="OR",
                        ),
                        name="stored_need_term_is_whole",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="WorkedJob",
            fields=[
                (
                    "job",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        primary_key=True,
                        related_name="worked",
                        serialize=False,
                        to="jobs.job",
                    ),
                ),
                (
                    "changes",
                    models.PositiveIntegerField(
                        default=1, help_text="Rises with every change of the job or a part of it."
                    ),
                ),
                (
                    "worked_changes",
                    models.PositiveIntegerField(
                        blank=True,
                        help_text="The number of changes it was worked up at; none before the first time.",
                        null=True,
                    ),
                ),
                (
                    "basis",
                    models.CharField(
                        blank=True, help_text="Mark over what its quantities took from the catalog.", max_length=64
                    ),
                ),
                (
                    "catalog_changes",
                    models.PositiveIntegerField(
                        blank=True,
                        help_text="The number of the catalog's changes its dates were counted at.",
                        null=True,
                    ),
                ),
                (
                    "dated_on",
                    models.DateField(blank=True, help_text="The firm's day its dates were counted on.", null=True),
                ),
                ("worked_up_at", models.DateTimeField(blank=True, null=True)),
                (
                    "trouble",
                    models.TextField(blank=True, help_text="Why its walls cannot be worked out; empty when they can."),
                ),
                (
                    "findings",
                    models.JSONField(
                        blank=True, default=list, help_text="What is missing or to be decided, in sentences."
                    ),
                ),
            ],
            options={
                "indexes": [models.Index(fields=["dated_on"], name="worked_job_dated_on")],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("changes__gte", 1), ("changes__lte", 2000000000)),
                        name="worked_job_changes_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("worked_changes__gte", 1), ("worked_changes__lte", 2000000000)),
                        name="worked_job_worked_changes_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("catalog_changes__gte", 0), ("catalog_changes__lte", 2000000000)),
                        name="worked_job_catalog_changes_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("catalog_changes__isnull", True),
                                ("dated_on__isnull", True),
                                ("worked_changes__isnull", True),
                                ("worked_up_at__isnull", True),
                            ),
                            models.Q(
                                ("catalog_changes__isnull", False),
                                ("dated_on__isnull", False),
                                ("worked_changes__isnull", False),
                                ("worked_up_at__isnull", False),
                            ),
                            _connector="OR",
                        ),
                        name="worked_job_worked_or_not",
                    ),
                ],
            },
        ),
        migrations.AddField(
            model_name="activitychange",
            name="crew",
            field=models.PositiveSmallIntegerField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="activitychange",
            name="longest_workdays",
            field=models.PositiveSmallIntegerField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="activitychange",
            name="shortest_workdays",
            field=models.PositiveSmallIntegerField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="historicalactivitychange",
            name="crew",
            field=models.PositiveSmallIntegerField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="historicalactivitychange",
            name="longest_workdays",
            field=models.PositiveSmallIntegerField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="historicalactivitychange",
            name="shortest_workdays",
            field=models.PositiveSmallIntegerField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="historicaljob",
            name="chance_seed",
            field=models.PositiveIntegerField(default=1, help_text="From which the chance of that is drawn."),
        ),
        migrations.AddField(
            model_name="historicaljob",
            name="promised_on",
            field=models.DateField(blank=True, help_text="The day the work is promised to be done on site.", null=True),
        ),
        migrations.AddField(
            model_name="job",
            name="chance_seed",
            field=models.PositiveIntegerField(default=1, help_text="From which the chance of that is drawn."),
        ),
        migrations.AddField(
            model_name="job",
            name="promised_on",
            field=models.DateField(blank=True, help_text="The day the work is promised to be done on site.", null=True),
        ),
        migrations.AddConstraint(
            model_name="activitychange",
            constraint=models.CheckConstraint(
                condition=models.Q(("crew__gte", 1), ("crew__lte", 50)), name="activity_change_crew_in_bounds"
            ),
        ),
        migrations.AddConstraint(
            model_name="activitychange",
            constraint=models.CheckConstraint(
                condition=models.Q(("shortest_workdays__gte", 0), ("shortest_workdays__lte", 500)),
                name="activity_change_shortest_workdays_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="activitychange",
            constraint=models.CheckConstraint(
                condition=models.Q(("longest_workdays__gte", 0), ("longest_workdays__lte", 500)),
                name="activity_change_longest_workdays_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="job",
            constraint=models.CheckConstraint(
                condition=models.Q(("chance_seed__gte", 1), ("chance_seed__lte", 2000000000)),
                name="job_chance_seed_in_bounds",
            ),
        ),
    ]
