from decimal import Decimal

import django.db.models.deletion
import django.db.models.functions.text
import simple_history.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0021_what_was_deleted"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="HistoricalHoursLeft",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("day", models.DateField(help_text="The true day.")),
                ("posted_month", models.DateField(db_index=True, help_text="First day of the month it counts in.")),
                ("step", models.CharField(max_length=60)),
                ("minutes", models.PositiveIntegerField()),
                ("is_done", models.BooleanField(default=False)),
                ("request_key", models.CharField(max_length=100)),
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
                "verbose_name": "historical hours left",
                "verbose_name_plural": "historical hours left",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HistoricalHoursRule",
            fields=[
                ("id", models.PositiveSmallIntegerField(db_index=True, default=1, editable=False)),
                (
                    "rounding",
                    models.PositiveSmallIntegerField(default=1, help_text="Nearest so many minutes, both ways."),
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
                "verbose_name": "historical hours rule",
                "verbose_name_plural": "historical hours rules",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HistoricalWorker",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("name", models.CharField(max_length=120)),
                (
                    "rate_name",
                    models.CharField(help_text="Name of the labour rate their hours cost the firm.", max_length=100),
                ),
                ("first_day", models.DateField()),
                ("last_day", models.DateField(blank=True, help_text="Nothing: they still work here.", null=True)),
                ("request_key", models.CharField(db_index=True, max_length=100)),
                ("entered_at", models.DateTimeField()),
                ("entered_by_name", models.CharField(max_length=200)),
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
                    "person",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "verbose_name": "historical worker",
                "verbose_name_plural": "historical workers",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HoursRule",
            fields=[
                ("id", models.PositiveSmallIntegerField(default=1, editable=False, primary_key=True, serialize=False)),
                (
                    "rounding",
                    models.PositiveSmallIntegerField(default=1, help_text="Nearest so many minutes, both ways."),
                ),
            ],
            options={
                "constraints": [
                    models.CheckConstraint(condition=models.Q(("id", 1)), name="hours_rule_is_one"),
                    models.CheckConstraint(
                        condition=models.Q(("rounding__in", [1, 5, 6, 15])), name="hours_rule_rounding_is_known"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Worker",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=120)),
                (
                    "rate_name",
                    models.CharField(help_text="Name of the labour rate their hours cost the firm.", max_length=100),
                ),
                ("first_day", models.DateField()),
                ("last_day", models.DateField(blank=True, help_text="Nothing: they still work here.", null=True)),
                ("request_key", models.CharField(max_length=100, unique=True)),
                ("entered_at", models.DateTimeField()),
                ("entered_by_name", models.CharField(max_length=200)),
                (
                    "person",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="worker",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(django.db.models.functions.text.Lower("name"), name="worker_once_a_name"),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("name", ""),
                            ("rate_name", ""),
                            ("request_key", ""),
                            ("entered_by_name", ""),
                            _connector="OR",
                            _negated=True,
                        ),
                        name="worker_name_rate_name_request_key_entered_by_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("last_day", None), ("last_day__gte", models.F("first_day")), _connector="OR"
                        ),
                        name="worker_ends_after_they_begin",
                    ),
                ],
                "ordering": [django.db.models.functions.text.Lower("name"), "pk"],
            },
        ),
        migrations.CreateModel(
            name="TimeEntry",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("day", models.DateField(help_text="The true day.")),
                ("posted_month", models.DateField(db_index=True, help_text="First day of the month it counts in.")),
                ("voided_at", models.DateTimeField(blank=True, null=True)),
                ("voided_by_name", models.CharField(blank=True, max_length=200)),
                ("void_reason", models.CharField(blank=True, max_length=300)),
                ("step", models.CharField(blank=True, max_length=60)),
                ("elsewhere", models.CharField(blank=True, max_length=200)),
                ("typed_minutes", models.PositiveSmallIntegerField()),
                ("minutes", models.SmallIntegerField()),
                ("tag", models.CharField(blank=True, max_length=10)),
                ("note", models.CharField(blank=True, max_length=300)),
                ("rate", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("rate_name", models.CharField(max_length=100)),
                ("request_key", models.CharField(max_length=100)),
                ("place", models.PositiveSmallIntegerField(default=0)),
                ("entered_at", models.DateTimeField()),
                ("entered_by_name", models.CharField(max_length=200)),
                (
                    "corrects",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="corrected_by",
                        to="jobs.timeentry",
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="time_entries",
                        to="jobs.job",
                    ),
                ),
                (
                    "reverses",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="reversed_by",
                        to="jobs.timeentry",
                    ),
                ),
                (
                    "worker",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="entries", to="jobs.worker"
                    ),
                ),
            ],
            options={
                "indexes": [models.Index(fields=["worker", "day"], name="time_entry_worker_day")],
                "constraints": [
                    models.UniqueConstraint(fields=("request_key", "place"), name="time_entry_once_a_key_and_place"),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("rate_name", ""),
                            ("request_key", ""),
                            ("entered_by_name", ""),
                            _connector="OR",
                            _negated=True,
                        ),
                        name="time_entry_rate_name_request_key_entered_by_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("typed_minutes__gte", 1), ("typed_minutes__lte", 1440)),
                        name="time_entry_typed_minutes_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("place__gte", 0), ("place__lte", 10000)), name="time_entry_place_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("rate__gte", 0), ("rate__lte", Decimal("9999999999.99"))),
                        name="time_entry_rate_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("minutes__gte", 0), ("minutes__lte", 1440), ("reverses__isnull", True)),
                            models.Q(("minutes__gte", -1440), ("minutes__lte", 0), ("reverses__isnull", False)),
                            _connector="OR",
                        ),
                        name="time_entry_minutes_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("elsewhere", ""), ("job__isnull", False)),
                            models.Q(
                                ("job__isnull", True),
                                ("step", ""),
                                ("tag", ""),
                                models.Q(("elsewhere", ""), _negated=True),
                            ),
                            _connector="OR",
                        ),
                        name="time_entry_on_a_job_or_elsewhere",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("tag__regex", "^(rework|late|unforeseen|note [1-9][0-9]{0,4})?$")),
                        name="time_entry_tag_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("posted_month__day", 1)), name="time_entry_posted_month_is_a_first"
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
                        name="time_entry_voided_says_why",
                    ),
                ],
                "verbose_name_plural": "time entries",
                "ordering": ["day", "pk"],
            },
        ),
        migrations.CreateModel(
            name="HistoricalTimeEntry",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("day", models.DateField(help_text="The true day.")),
                ("posted_month", models.DateField(db_index=True, help_text="First day of the month it counts in.")),
                ("voided_at", models.DateTimeField(blank=True, null=True)),
                ("voided_by_name", models.CharField(blank=True, max_length=200)),
                ("void_reason", models.CharField(blank=True, max_length=300)),
                ("step", models.CharField(blank=True, max_length=60)),
                ("elsewhere", models.CharField(blank=True, max_length=200)),
                ("typed_minutes", models.PositiveSmallIntegerField()),
                ("minutes", models.SmallIntegerField()),
                ("tag", models.CharField(blank=True, max_length=10)),
                ("note", models.CharField(blank=True, max_length=300)),
                ("rate", models.DecimalField(blank=True, decimal_places=2, max_digits=12, null=True)),
                ("rate_name", models.CharField(max_length=100)),
                ("request_key", models.CharField(max_length=100)),
                ("place", models.PositiveSmallIntegerField(default=0)),
                ("entered_at", models.DateTimeField()),
                ("entered_by_name", models.CharField(max_length=200)),
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
                (
                    "corrects",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.timeentry",
                    ),
                ),
                (
                    "reverses",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.timeentry",
                    ),
                ),
                (
                    "worker",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.worker",
                    ),
                ),
            ],
            options={
                "verbose_name": "historical time entry",
                "verbose_name_plural": "historical time entries",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HoursLeft",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("day", models.DateField(help_text="The true day.")),
                ("posted_month", models.DateField(db_index=True, help_text="First day of the month it counts in.")),
                ("step", models.CharField(max_length=60)),
                ("minutes", models.PositiveIntegerField()),
                ("is_done", models.BooleanField(default=False)),
                ("request_key", models.CharField(max_length=100)),
                ("said_at", models.DateTimeField()),
                ("said_by_name", models.CharField(max_length=200)),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="hours_left", to="jobs.job"
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "hours left",
                "ordering": ["day", "pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("request_key", "step"), name="hours_left_once_a_key_and_step"),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("step", ""), ("request_key", ""), ("said_by_name", ""), _connector="OR", _negated=True
                        ),
                        name="hours_left_step_request_key_said_by_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("minutes__gte", 0), ("minutes__lte", 6000000)),
                        name="hours_left_minutes_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("is_done__in", [True, False])), name="hours_left_is_done_is_yes_or_no"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("is_done", False), ("minutes", 0), _connector="OR"),
                        name="hours_left_of_done_is_none",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("posted_month__day", 1)), name="hours_left_posted_month_is_a_first"
                    ),
                ],
            },
        ),
    ]
