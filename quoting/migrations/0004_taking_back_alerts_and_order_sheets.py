import datetime
from decimal import Decimal

import django.core.validators
import django.db.models.deletion
import simple_history.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0002_needs_orders_and_deliveries"),
        ("quoting", "0003_freeze_what_is_issued"),
    ]

    operations = [
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
            name="MailWish",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "person",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="mail_wish",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                ("address", models.EmailField(blank=True, max_length=254)),
                ("alerts", models.BooleanField(default=False)),
                ("weekly_list", models.BooleanField(default=False)),
                ("set_at", models.DateTimeField()),
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
            name="Alert",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="alerts", to="jobs.job"
                    ),
                ),
                ("material", models.CharField(max_length=60)),
                ("name", models.CharField(help_text="The item's name as of then.", max_length=200)),
                ("day", models.DateField()),
                ("threshold", models.CharField(max_length=6)),
                ("due_on", models.DateField()),
                ("came_up_at", models.DateTimeField()),
                ("told", models.BooleanField(default=True)),
                ("batch", models.CharField(blank=True, max_length=32)),
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
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="alert_mails",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                ("batch", models.CharField(max_length=32)),
                ("asked_at", models.DateTimeField()),
                ("began_at", models.DateTimeField(blank=True, null=True)),
                ("sent_at", models.DateTimeField(blank=True, null=True)),
                ("alerts", models.ManyToManyField(related_name="mails", to="quoting.alert")),
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
            name="WeeklyMail",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="weekly_mails",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                ("week", models.DateField()),
                ("asked_at", models.DateTimeField()),
                ("began_at", models.DateTimeField(blank=True, null=True)),
                ("sent_at", models.DateTimeField(blank=True, null=True)),
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
        migrations.CreateModel(
            name="AlertTrouble",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="alert_troubles", to="jobs.job"
                    ),
                ),
                ("material", models.CharField(max_length=60)),
                ("sentence", models.TextField()),
                ("since", models.DateTimeField()),
                ("seen_at", models.DateTimeField()),
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
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="feed_addresses",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                ("digest", models.CharField(editable=False, max_length=64, unique=True)),
                ("made_at", models.DateTimeField()),
                ("withdrawn_at", models.DateTimeField(blank=True, null=True)),
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
            name="HistoricalPaymentReceived",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("request_key", models.CharField(db_index=True, max_length=100)),
                ("amount", models.DecimalField(decimal_places=2, max_digits=12)),
                ("received_on", models.DateField()),
                ("what_for", models.CharField(help_text="Deposit, or the event of the instalment.", max_length=200)),
                ("entered_at", models.DateTimeField()),
                ("entered_by_name", models.CharField(max_length=200)),
                (
                    "undone_at",
                    models.DateTimeField(
                        blank=True, help_text="Entered by mistake, or sent back by the bank.", null=True
                    ),
                ),
                ("undone_by_name", models.CharField(blank=True, max_length=200)),
                ("undone_reason", models.TextField(blank=True)),
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
                "verbose_name": "historical payment received",
                "verbose_name_plural": "historical payments received",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="PaymentReceived",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="payments_received", to="jobs.job"
                    ),
                ),
                ("request_key", models.CharField(max_length=100, unique=True)),
                ("amount", models.DecimalField(decimal_places=2, max_digits=12)),
                ("received_on", models.DateField()),
                ("what_for", models.CharField(help_text="Deposit, or the event of the instalment.", max_length=200)),
                ("entered_at", models.DateTimeField()),
                ("entered_by_name", models.CharField(max_length=200)),
                (
                    "undone_at",
                    models.DateTimeField(
                        blank=True, help_text="Entered by mistake, or sent back by the bank.", null=True
                    ),
                ),
                ("undone_by_name", models.CharField(blank=True, max_length=200)),
                ("undone_reason", models.TextField(blank=True)),
            ],
            options={
                "verbose_name_plural": "payments received",
                "ordering": ["received_on", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("amount__gt", 0), ("amount__lte", Decimal("9999999999.99"))),
                        name="payment_received_amount_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("request_key", ""),
                            ("what_for", ""),
                            ("entered_by_name", ""),
                            _connector="OR",
                            _negated=True,
                        ),
                        name="payment_received_request_key_what_for_entered_by_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("undone_at__isnull", True), ("undone_by_name", "")),
                            models.Q(
                                ("undone_at__isnull", False),
                                models.Q(("undone_by_name", ""), _negated=True),
                                models.Q(("undone_reason", ""), _negated=True),
                            ),
                            _connector="OR",
                        ),
                        name="payment_received_undone_says_why",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalSubstitution",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("reason", models.TextField()),
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
                    "instead",
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
                    "note",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="quoting.changenote",
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
                "verbose_name": "historical substitution",
                "verbose_name_plural": "historical substitutions",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Substitution",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="substitutions", to="jobs.job"
                    ),
                ),
                (
                    "line",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="substitutions",
                        to="jobs.orderline",
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
                    "instead",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="catalog.material",
                        to_field="code",
                    ),
                ),
                ("reason", models.TextField()),
                (
                    "draft",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="substitution",
                        to="quoting.changedraft",
                    ),
                ),
                (
                    "note",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="substitution",
                        to="quoting.changenote",
                    ),
                ),
                ("made_at", models.DateTimeField()),
                ("made_by_name", models.CharField(max_length=200)),
            ],
            options={
                "ordering": ["-made_at", "-pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("reason", ""), ("made_by_name", ""), _connector="OR", _negated=True),
                        name="substitution_reason_made_by_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("material", models.F("instead")), _negated=True),
                        name="substitution_is_another_item",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="TakeBack",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "answer",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="taken_back",
                        to="quoting.clientanswer",
                    ),
                ),
                (
                    "way",
                    models.CharField(
                        choices=[
                            ("page", "On the client's page"),
                            ("letter", "By letter, or by hand"),
                            ("mail", "By mail"),
                            ("spoken", "By word of mouth"),
                        ],
                        max_length=6,
                    ),
                ),
                ("typed_name", models.CharField(max_length=200)),
                ("reason", models.TextField(blank=True)),
                ("given_on", models.DateField(help_text="The day the client gave notice, in the firm's time zone.")),
                ("kept_at", models.DateTimeField()),
                ("from_address", models.CharField(blank=True, max_length=45)),
                ("entered_by_name", models.CharField(blank=True, max_length=200)),
            ],
            options={
                "ordering": ["-kept_at", "-pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("way__in", ["page", "letter", "mail", "spoken"])),
                        name="take_back_way_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("typed_name", ""), _negated=True), name="take_back_typed_name_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("entered_by_name", ""), ("way", "page")),
                            models.Q(
                                models.Q(("way", "page"), _negated=True),
                                models.Q(("entered_by_name", ""), _negated=True),
                                models.Q(("reason", ""), _negated=True),
                            ),
                            _connector="OR",
                        ),
                        name="take_back_was_entered_by_someone_with_a_reason",
                    ),
                ],
            },
        ),
        migrations.RemoveConstraint(
            model_name="clientanswer",
            name="answer_accepted_once_a_quote",
        ),
        migrations.RemoveConstraint(
            model_name="paper",
            name="paper_kind_is_known",
        ),
        migrations.RemoveConstraint(
            model_name="quoterevision",
            name="revision_state_is_known",
        ),
        migrations.AddField(
            model_name="cancellationterm",
            name="notice",
            field=models.CharField(blank=True, help_text="How the client gives notice.", max_length=500),
        ),
        migrations.AddField(
            model_name="historicalcancellationterm",
            name="notice",
            field=models.CharField(blank=True, help_text="How the client gives notice.", max_length=500),
        ),
        migrations.AddField(
            model_name="paper",
            name="order",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="papers",
                to="jobs.order",
            ),
        ),
        migrations.AddField(
            model_name="quotemail",
            name="change_note",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="mails",
                to="quoting.changenote",
            ),
        ),
        migrations.AlterField(
            model_name="paper",
            name="job",
            field=models.ForeignKey(
                blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name="papers", to="jobs.job"
            ),
        ),
        migrations.AlterField(
            model_name="paper",
            name="kind",
            field=models.CharField(
                choices=[
                    ("quote", "Quotation"),
                    ("order_dates", "Order dates"),
                    ("site_sheet", "Site sheet"),
                    ("full_size", "Full-size template"),
                    ("certificate", "Certificate of acceptance"),
                    ("change_note", "Change note"),
                    ("order_sheet", "Order sheet"),
                ],
                max_length=12,
            ),
        ),
        migrations.AlterField(
            model_name="quoterevision",
            name="state",
            field=models.CharField(
                choices=[
                    ("issued", "Issued"),
                    ("superseded", "Superseded"),
                    ("withdrawn", "Withdrawn"),
                    ("lapsed", "Lapsed"),
                    ("accepted", "Accepted"),
                    ("declined", "Declined"),
                    ("taken_back", "Taken back"),
                ],
                default="issued",
                max_length=10,
            ),
        ),
        migrations.AddConstraint(
            model_name="paper",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    (
                        "kind__in",
                        [
                            "quote",
                            "order_dates",
                            "site_sheet",
                            "full_size",
                            "certificate",
                            "change_note",
                            "order_sheet",
                        ],
                    )
                ),
                name="paper_kind_is_known",
            ),
        ),
        migrations.AddConstraint(
            model_name="paper",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("job__isnull", True), ("kind", "order_sheet"), ("order__isnull", False)),
                    models.Q(
                        models.Q(("kind", "order_sheet"), _negated=True),
                        ("job__isnull", False),
                        ("order__isnull", True),
                    ),
                    _connector="OR",
                ),
                name="paper_of_an_order_has_it",
            ),
        ),
        migrations.AddConstraint(
            model_name="quoterevision",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("state__in", ["issued", "superseded", "withdrawn", "lapsed", "accepted", "declined", "taken_back"])
                ),
                name="revision_state_is_known",
            ),
        ),
    ]
