import datetime

import django.core.validators
import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0003_stored_needs"),
        ("quoting", "0005_order_sheets_payments_and_substitutions"),
    ]

    operations = [
        migrations.CreateModel(
            name="Alert",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("material", models.CharField(max_length=60)),
                ("name", models.CharField(help_text="The item's name as of then.", max_length=200)),
                ("day", models.DateField()),
                ("threshold", models.CharField(max_length=6)),
                ("due_on", models.DateField()),
                ("came_up_at", models.DateTimeField()),
                ("told", models.BooleanField(default=True)),
                ("batch", models.CharField(blank=True, max_length=32)),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="alerts", to="jobs.job"
                    ),
                ),
            ],
            options={
                "ordering": ["day", "pk"],
                "indexes": [models.Index(fields=["batch"], name="alert_batch")],
                "constraints": [
                    models.UniqueConstraint(fields=("job", "material", "day", "threshold"), name="alert_comes_up_once"),
                    models.CheckConstraint(
                        condition=models.Q(("material", ""), ("name", ""), _connector="OR", _negated=True),
                        name="alert_material_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("told__in", [True, False])), name="alert_told_is_yes_or_no"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("threshold__regex", "^([1-9]|[1-5][0-9]|60|0|late|decide)$")),
                        name="alert_threshold_is_known",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="AlertMail",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("batch", models.CharField(max_length=32)),
                ("asked_at", models.DateTimeField()),
                ("began_at", models.DateTimeField(blank=True, null=True)),
                ("sent_at", models.DateTimeField(blank=True, null=True)),
                ("alerts", models.ManyToManyField(related_name="mails", to="quoting.alert")),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="alert_mails",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ["-asked_at", "-pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("person", "batch"), name="alert_mail_once_a_person_and_batch"),
                    models.CheckConstraint(
                        condition=models.Q(("batch", ""), _negated=True), name="alert_mail_batch_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("sent_at__isnull", True), ("began_at__isnull", False), _connector="OR"),
                        name="alert_mail_begun_before_sent",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="AlertTimes",
            fields=[
                ("id", models.PositiveSmallIntegerField(default=1, editable=False, primary_key=True, serialize=False)),
                (
                    "days_ahead",
                    models.CharField(
                        default="10, 5, 1",
                        max_length=40,
                        validators=[django.core.validators.RegexValidator("^[0-9]{1,2}(, [0-9]{1,2}){0,5}$")],
                    ),
                ),
                ("list_at", models.TimeField(default=datetime.time(7, 0))),
            ],
            options={
                "verbose_name_plural": "alert times",
                "constraints": [
                    models.CheckConstraint(condition=models.Q(("id", 1)), name="alert_times_are_one"),
                    models.CheckConstraint(
                        condition=models.Q(("days_ahead__regex", "^[0-9]{1,2}(, [0-9]{1,2}){0,5}$")),
                        name="alert_times_days_ahead_are_days",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="AlertTrouble",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("material", models.CharField(max_length=60)),
                ("sentence", models.TextField()),
                ("since", models.DateTimeField()),
                ("seen_at", models.DateTimeField()),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="alert_troubles", to="jobs.job"
                    ),
                ),
            ],
            options={
                "ordering": ["since", "pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("job", "material"), name="alert_trouble_once_an_item"),
                    models.CheckConstraint(
                        condition=models.Q(("material", ""), ("sentence", ""), _connector="OR", _negated=True),
                        name="alert_trouble_material_sentence_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("seen_at__gte", models.F("since"))),
                        name="alert_trouble_seen_after_it_began",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="FeedAddress",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("digest", models.CharField(editable=False, max_length=64, unique=True)),
                ("made_at", models.DateTimeField()),
                ("withdrawn_at", models.DateTimeField(blank=True, null=True)),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="feed_addresses",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "feed addresses",
                "ordering": ["-made_at", "-pk"],
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("withdrawn_at__isnull", True)),
                        fields=("person",),
                        name="feed_address_live_once_a_person",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("digest__regex", "^[0-9a-f]{64}$")), name="feed_address_digest_is_sha256"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="FeedEvent",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("uid", models.CharField(max_length=100, unique=True)),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("decide", "Decide"),
                            ("order", "Order"),
                            ("need", "On site"),
                            ("activity", "Activity"),
                        ],
                        max_length=8,
                    ),
                ),
                ("about", models.CharField(max_length=100)),
                ("summary", models.CharField(max_length=500)),
                ("note", models.TextField(blank=True)),
                ("first_day", models.DateField()),
                ("last_day", models.DateField()),
                ("sequence", models.PositiveIntegerField(default=0)),
                ("modified_at", models.DateTimeField()),
                ("cancelled", models.BooleanField(default=False)),
                (
                    "job",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="feed_events",
                        to="jobs.job",
                    ),
                ),
            ],
            options={
                "ordering": ["first_day", "summary", "pk"],
                "indexes": [models.Index(fields=["kind", "first_day"], name="feed_event_kind_day")],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("uid", ""), ("about", ""), ("summary", ""), _connector="OR", _negated=True),
                        name="feed_event_uid_about_summary_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("kind__in", ["decide", "order", "need", "activity"])),
                        name="feed_event_kind_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("sequence__gte", 0), ("sequence__lte", 1000000000)),
                        name="feed_event_sequence_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("cancelled__in", [True, False])), name="feed_event_cancelled_is_yes_or_no"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("last_day__gte", models.F("first_day"))),
                        name="feed_event_ends_after_it_begins",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="MailWish",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("address", models.EmailField(blank=True, max_length=254)),
                ("alerts", models.BooleanField(default=False)),
                ("weekly_list", models.BooleanField(default=False)),
                ("set_at", models.DateTimeField()),
                (
                    "person",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="mail_wish",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("alerts__in", [True, False])), name="mail_wish_alerts_is_yes_or_no"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("weekly_list__in", [True, False])),
                        name="mail_wish_weekly_list_is_yes_or_no",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("alerts", False), ("weekly_list", False)),
                            models.Q(("address", ""), _negated=True),
                            _connector="OR",
                        ),
                        name="mail_wish_has_an_address",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="WeeklyMail",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("week", models.DateField()),
                ("asked_at", models.DateTimeField()),
                ("began_at", models.DateTimeField(blank=True, null=True)),
                ("sent_at", models.DateTimeField(blank=True, null=True)),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="weekly_mails",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ["-week", "-pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("person", "week"), name="weekly_mail_once_a_person_and_week"),
                    models.CheckConstraint(
                        condition=models.Q(("sent_at__isnull", True), ("began_at__isnull", False), _connector="OR"),
                        name="weekly_mail_begun_before_sent",
                    ),
                ],
            },
        ),
    ]
