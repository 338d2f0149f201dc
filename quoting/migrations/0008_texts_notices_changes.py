from decimal import Decimal

import django.db.models.deletion
import django.db.models.expressions
import simple_history.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0002_job_closed_on"),
        ("quoting", "0007_links_answers_cancellation"),
    ]

    operations = [
        migrations.CreateModel(
            name="ChangeAnswer",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
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
        ),
        migrations.CreateModel(
            name="ChangeDraft",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
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
            },
        ),
        migrations.CreateModel(
            name="ChangeDraftLine",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("what", models.CharField(max_length=200)),
                ("price", models.DecimalField(decimal_places=2, max_digits=14)),
                ("taxed", models.DecimalField(decimal_places=2, max_digits=14)),
            ],
            options={
                "ordering": ["order", "pk"],
            },
        ),
        migrations.CreateModel(
            name="ChangeNote",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
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
            },
        ),
        migrations.CreateModel(
            name="ChangeNoteLine",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("what", models.CharField(max_length=200)),
                ("price", models.DecimalField(decimal_places=2, max_digits=14)),
                ("taxed", models.DecimalField(decimal_places=2, max_digits=14)),
            ],
            options={
                "ordering": ["order", "pk"],
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
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
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
            name="HistoricalChangeDraftLine",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("what", models.CharField(max_length=200)),
                ("price", models.DecimalField(decimal_places=2, max_digits=14)),
                ("taxed", models.DecimalField(decimal_places=2, max_digits=14)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
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
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
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
            name="HistoricalTextLeftOut",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("key", models.CharField(max_length=60)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
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
            name="NoticePack",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
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
            },
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
            },
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
            },
        ),
        migrations.CreateModel(
            name="TextLeftOut",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("key", models.CharField(max_length=60)),
            ],
            options={
                "ordering": ["order", "pk"],
            },
        ),
        migrations.RemoveConstraint(
            model_name="paper",
            name="paper_kind_is_known",
        ),
        migrations.RemoveConstraint(
            model_name="quotetext",
            name="quote_text_block_is_known",
        ),
        migrations.AddField(
            model_name="historicalpricing",
            name="notice_language",
            field=models.CharField(blank=True, max_length=40),
        ),
        migrations.AddField(
            model_name="historicalpricing",
            name="notice_place",
            field=models.CharField(blank=True, help_text="Empty: no notice is chosen.", max_length=100),
        ),
        migrations.AddField(
            model_name="pricing",
            name="notice_language",
            field=models.CharField(blank=True, max_length=40),
        ),
        migrations.AddField(
            model_name="pricing",
            name="notice_place",
            field=models.CharField(blank=True, help_text="Empty: no notice is chosen.", max_length=100),
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
                ],
                max_length=12,
            ),
        ),
        migrations.AlterField(
            model_name="quotetext",
            name="block",
            field=models.CharField(
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
        migrations.AddConstraint(
            model_name="pricing",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("notice_language", ""), ("notice_place", "")),
                    models.Q(
                        models.Q(("notice_place", ""), _negated=True), models.Q(("notice_language", ""), _negated=True)
                    ),
                    _connector="OR",
                ),
                name="pricing_notice_is_whole",
            ),
        ),
        migrations.AddConstraint(
            model_name="quotetext",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    (
                        "block__in",
                        ["inclusions", "exclusions", "access", "assumptions", "cautions", "warranty", "terms"],
                    )
                ),
                name="quote_text_block_is_known",
            ),
        ),
        migrations.AddField(
            model_name="changedraft",
            name="job",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.CASCADE, related_name="change_drafts", to="jobs.job"
            ),
        ),
        migrations.AddField(
            model_name="changedraftline",
            name="draft",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.CASCADE, related_name="lines", to="quoting.changedraft"
            ),
        ),
        migrations.AddField(
            model_name="changenote",
            name="issued_by",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AddField(
            model_name="changenote",
            name="job",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT, related_name="change_notes", to="jobs.job"
            ),
        ),
        migrations.AddField(
            model_name="changenote",
            name="revision",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT, related_name="change_notes", to="quoting.quoterevision"
            ),
        ),
        migrations.AddField(
            model_name="changeanswer",
            name="note",
            field=models.OneToOneField(
                on_delete=django.db.models.deletion.PROTECT, related_name="answer", to="quoting.changenote"
            ),
        ),
        migrations.AddField(
            model_name="paper",
            name="change_note",
            field=models.OneToOneField(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="paper",
                to="quoting.changenote",
            ),
        ),
        migrations.AddConstraint(
            model_name="paper",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("kind__in", ["quote", "order_dates", "site_sheet", "full_size", "certificate", "change_note"])
                ),
                name="paper_kind_is_known",
            ),
        ),
        migrations.AddConstraint(
            model_name="paper",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("change_note__isnull", False), ("kind", "change_note")),
                    models.Q(models.Q(("kind", "change_note"), _negated=True), ("change_note__isnull", True)),
                    _connector="OR",
                ),
                name="paper_of_a_change_note_has_it",
            ),
        ),
        migrations.AddField(
            model_name="changenoteline",
            name="note",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT, related_name="lines", to="quoting.changenote"
            ),
        ),
        migrations.AddField(
            model_name="historicalchangedraft",
            name="history_user",
            field=models.ForeignKey(
                null=True, on_delete=django.db.models.deletion.SET_NULL, related_name="+", to=settings.AUTH_USER_MODEL
            ),
        ),
        migrations.AddField(
            model_name="historicalchangedraft",
            name="job",
            field=models.ForeignKey(
                blank=True,
                db_constraint=False,
                null=True,
                on_delete=django.db.models.deletion.DO_NOTHING,
                related_name="+",
                to="jobs.job",
            ),
        ),
        migrations.AddField(
            model_name="historicalchangedraftline",
            name="draft",
            field=models.ForeignKey(
                blank=True,
                db_constraint=False,
                null=True,
                on_delete=django.db.models.deletion.DO_NOTHING,
                related_name="+",
                to="quoting.changedraft",
            ),
        ),
        migrations.AddField(
            model_name="historicalchangedraftline",
            name="history_user",
            field=models.ForeignKey(
                null=True, on_delete=django.db.models.deletion.SET_NULL, related_name="+", to=settings.AUTH_USER_MODEL
            ),
        ),
        migrations.AddField(
            model_name="historicalnoticepack",
            name="history_user",
            field=models.ForeignKey(
                null=True, on_delete=django.db.models.deletion.SET_NULL, related_name="+", to=settings.AUTH_USER_MODEL
            ),
        ),
        migrations.AddField(
            model_name="historicalnoticeplace",
            name="history_user",
            field=models.ForeignKey(
                null=True, on_delete=django.db.models.deletion.SET_NULL, related_name="+", to=settings.AUTH_USER_MODEL
            ),
        ),
        migrations.AddField(
            model_name="historicalstandardtext",
            name="history_user",
            field=models.ForeignKey(
                null=True, on_delete=django.db.models.deletion.SET_NULL, related_name="+", to=settings.AUTH_USER_MODEL
            ),
        ),
        migrations.AddField(
            model_name="historicaltextleftout",
            name="history_user",
            field=models.ForeignKey(
                null=True, on_delete=django.db.models.deletion.SET_NULL, related_name="+", to=settings.AUTH_USER_MODEL
            ),
        ),
        migrations.AddField(
            model_name="historicaltextleftout",
            name="pricing",
            field=models.ForeignKey(
                blank=True,
                db_constraint=False,
                null=True,
                on_delete=django.db.models.deletion.DO_NOTHING,
                related_name="+",
                to="quoting.pricing",
            ),
        ),
        migrations.AddConstraint(
            model_name="noticeplace",
            constraint=models.CheckConstraint(
                condition=models.Q(("name", ""), _negated=True), name="notice_place_name_stated"
            ),
        ),
        migrations.AddConstraint(
            model_name="noticeplace",
            constraint=models.CheckConstraint(
                condition=models.Q(("requires_notice__in", [True, False])),
                name="notice_place_requires_notice_is_yes_or_no",
            ),
        ),
        migrations.AddField(
            model_name="noticepack",
            name="place",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT, related_name="notices", to="quoting.noticeplace"
            ),
        ),
        migrations.AddField(
            model_name="historicalnoticepack",
            name="place",
            field=models.ForeignKey(
                blank=True,
                db_constraint=False,
                null=True,
                on_delete=django.db.models.deletion.DO_NOTHING,
                related_name="+",
                to="quoting.noticeplace",
            ),
        ),
        migrations.AddConstraint(
            model_name="standardtext",
            constraint=models.UniqueConstraint(fields=("key", "starts_on"), name="standard_text_once_a_key_and_day"),
        ),
        migrations.AddConstraint(
            model_name="standardtext",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    (
                        "block__in",
                        ["inclusions", "exclusions", "access", "assumptions", "cautions", "warranty", "terms"],
                    )
                ),
                name="standard_text_block_is_known",
            ),
        ),
        migrations.AddConstraint(
            model_name="standardtext",
            constraint=models.CheckConstraint(
                condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="standard_text_order_in_bounds"
            ),
        ),
        migrations.AddConstraint(
            model_name="standardtext",
            constraint=models.CheckConstraint(
                condition=models.Q(("key", ""), ("text", ""), _connector="OR", _negated=True),
                name="standard_text_key_text_stated",
            ),
        ),
        migrations.AddConstraint(
            model_name="standardtext",
            constraint=models.CheckConstraint(
                condition=models.Q(("ends_on__isnull", True), ("ends_on__gte", models.F("starts_on")), _connector="OR"),
                name="standard_text_ends_after_it_starts",
            ),
        ),
        migrations.AddField(
            model_name="textleftout",
            name="pricing",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.CASCADE, related_name="left_out", to="quoting.pricing"
            ),
        ),
        migrations.AddConstraint(
            model_name="changedraft",
            constraint=models.CheckConstraint(
                condition=models.Q(("version__gte", 1), ("version__lte", 1000000000)),
                name="change_draft_version_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="changedraft",
            constraint=models.CheckConstraint(
                condition=models.Q(("kind__in", ["lines", "walls", "allowance", "substitution"])),
                name="change_draft_kind_is_known",
            ),
        ),
        migrations.AddConstraint(
            model_name="changedraft",
            constraint=models.CheckConstraint(
                condition=models.Q(("title", ""), ("reason", ""), _connector="OR", _negated=True),
                name="change_draft_title_reason_stated",
            ),
        ),
        migrations.AddConstraint(
            model_name="changedraft",
            constraint=models.CheckConstraint(
                condition=models.Q(("made_by_name", ""), _negated=True), name="change_draft_made_by_name_stated"
            ),
        ),
        migrations.AddConstraint(
            model_name="changedraft",
            constraint=models.CheckConstraint(
                condition=models.Q(("days_moved__gte", -500), ("days_moved__lte", 500)),
                name="change_draft_days_moved_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="changedraft",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("kind", "substitution"), _negated=True),
                    models.Q(models.Q(("original", ""), _negated=True), models.Q(("replacement", ""), _negated=True)),
                    _connector="OR",
                ),
                name="change_draft_substitution_is_whole",
            ),
        ),
        migrations.AddConstraint(
            model_name="changedraftline",
            constraint=models.CheckConstraint(
                condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="change_draft_line_order_in_bounds"
            ),
        ),
        migrations.AddConstraint(
            model_name="changedraftline",
            constraint=models.CheckConstraint(
                condition=models.Q(("what", ""), _negated=True), name="change_draft_line_what_stated"
            ),
        ),
        migrations.AddConstraint(
            model_name="changedraftline",
            constraint=models.CheckConstraint(
                condition=models.Q(("price__gte", Decimal("-9999999999.99")), ("price__lte", Decimal("9999999999.99"))),
                name="change_draft_line_price_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="changedraftline",
            constraint=models.CheckConstraint(
                condition=models.Q(("taxed__gte", Decimal("-9999999999.99")), ("taxed__lte", Decimal("9999999999.99"))),
                name="change_draft_line_taxed_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="changenote",
            constraint=models.UniqueConstraint(fields=("job", "number"), name="change_note_number_once_a_job"),
        ),
        migrations.AddConstraint(
            model_name="changenote",
            constraint=models.CheckConstraint(
                condition=models.Q(("number__gte", 1), ("number__lte", 10000)), name="change_note_number_in_bounds"
            ),
        ),
        migrations.AddConstraint(
            model_name="changenote",
            constraint=models.CheckConstraint(
                condition=models.Q(("kind__in", ["lines", "walls", "allowance", "substitution"])),
                name="change_note_kind_is_known",
            ),
        ),
        migrations.AddConstraint(
            model_name="changenote",
            constraint=models.CheckConstraint(
                condition=models.Q(("state__in", ["issued", "signed", "declined", "withdrawn"])),
                name="change_note_state_is_known",
            ),
        ),
        migrations.AddConstraint(
            model_name="changenote",
            constraint=models.CheckConstraint(
                condition=models.Q(("request_key", ""), ("title", ""), _connector="OR", _negated=True),
                name="change_note_request_key_title_stated",
            ),
        ),
        migrations.AddConstraint(
            model_name="changenote",
            constraint=models.CheckConstraint(
                condition=models.Q(("reason", ""), ("snapshot", ""), _connector="OR", _negated=True),
                name="change_note_reason_snapshot_stated",
            ),
        ),
        migrations.AddConstraint(
            model_name="changenote",
            constraint=models.CheckConstraint(
                condition=models.Q(("issued_by_name", ""), _negated=True), name="change_note_issued_by_name_stated"
            ),
        ),
        migrations.AddConstraint(
            model_name="changenote",
            constraint=models.CheckConstraint(
                condition=models.Q(("days_moved__gte", -500), ("days_moved__lte", 500)),
                name="change_note_days_moved_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="changenote",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("price__gte", Decimal("-19999999999.98")), ("price__lte", Decimal("19999999999.98"))
                ),
                name="change_note_price_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="changenote",
            constraint=models.CheckConstraint(
                condition=models.Q(("tax__gte", Decimal("-19999999999.98")), ("tax__lte", Decimal("19999999999.98"))),
                name="change_note_tax_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="changenote",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("total__gte", Decimal("-19999999999.98")), ("total__lte", Decimal("19999999999.98"))
                ),
                name="change_note_total_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="changenote",
            constraint=models.CheckConstraint(
                condition=models.Q(("currency__regex", "^[A-Z]{3}$")), name="change_note_currency_is_a_code"
            ),
        ),
        migrations.AddConstraint(
            model_name="changenote",
            constraint=models.CheckConstraint(
                condition=models.Q(("snapshot_sha256__regex", "^[0-9a-f]{64}$")), name="change_note_hash_is_sha256"
            ),
        ),
        migrations.AddConstraint(
            model_name="changenote",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    (
                        "total__gt",
                        django.db.models.expressions.CombinedExpression(
                            django.db.models.expressions.CombinedExpression(models.F("price"), "+", models.F("tax")),
                            "-",
                            models.Value(Decimal("0.005")),
                        ),
                    ),
                    (
                        "total__lt",
                        django.db.models.expressions.CombinedExpression(
                            django.db.models.expressions.CombinedExpression(models.F("price"), "+", models.F("tax")),
                            "+",
                            models.Value(Decimal("0.005")),
                        ),
                    ),
                ),
                name="change_note_total_is_price_and_tax",
            ),
        ),
        migrations.AddConstraint(
            model_name="changeanswer",
            constraint=models.CheckConstraint(
                condition=models.Q(("answer__in", ["signed", "declined"])), name="change_answer_answer_is_known"
            ),
        ),
        migrations.AddConstraint(
            model_name="changeanswer",
            constraint=models.CheckConstraint(
                condition=models.Q(("way__in", ["page", "paper"])), name="change_answer_way_is_known"
            ),
        ),
        migrations.AddConstraint(
            model_name="changeanswer",
            constraint=models.CheckConstraint(
                condition=models.Q(("typed_name", ""), _negated=True), name="change_answer_typed_name_stated"
            ),
        ),
        migrations.AddConstraint(
            model_name="changeanswer",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("paper_sha256__regex", "^[0-9a-f]{64}$"),
                    models.Q(("answer", "declined"), ("paper_sha256", "")),
                    _connector="OR",
                ),
                name="change_answer_names_the_paper_signed",
            ),
        ),
        migrations.AddConstraint(
            model_name="changeanswer",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("entered_by_name", ""), ("way", "page")),
                    models.Q(("way", "paper"), models.Q(("entered_by_name", ""), _negated=True)),
                    _connector="OR",
                ),
                name="change_answer_on_paper_was_entered_by_someone",
            ),
        ),
        migrations.AddConstraint(
            model_name="changenoteline",
            constraint=models.UniqueConstraint(fields=("note", "order"), name="change_note_line_once_a_place"),
        ),
        migrations.AddConstraint(
            model_name="changenoteline",
            constraint=models.CheckConstraint(
                condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="change_note_line_order_in_bounds"
            ),
        ),
        migrations.AddConstraint(
            model_name="changenoteline",
            constraint=models.CheckConstraint(
                condition=models.Q(("what", ""), _negated=True), name="change_note_line_what_stated"
            ),
        ),
        migrations.AddConstraint(
            model_name="changenoteline",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("price__gte", Decimal("-19999999999.98")), ("price__lte", Decimal("19999999999.98"))
                ),
                name="change_note_line_price_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="changenoteline",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("taxed__gte", Decimal("-19999999999.98")), ("taxed__lte", Decimal("19999999999.98"))
                ),
                name="change_note_line_taxed_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="noticepack",
            constraint=models.UniqueConstraint(
                fields=("place", "language", "starts_on"), name="notice_once_a_place_and_day"
            ),
        ),
        migrations.AddConstraint(
            model_name="noticepack",
            constraint=models.UniqueConstraint(
                fields=("place", "language", "version"), name="notice_version_once_a_place"
            ),
        ),
        migrations.AddConstraint(
            model_name="noticepack",
            constraint=models.CheckConstraint(
                condition=models.Q(("language", ""), ("version", ""), _connector="OR", _negated=True),
                name="notice_pack_language_version_stated",
            ),
        ),
        migrations.AddConstraint(
            model_name="noticepack",
            constraint=models.CheckConstraint(
                condition=models.Q(("title", ""), ("text", ""), _connector="OR", _negated=True),
                name="notice_pack_title_text_stated",
            ),
        ),
        migrations.AddConstraint(
            model_name="noticepack",
            constraint=models.CheckConstraint(
                condition=models.Q(("ends_on__isnull", True), ("ends_on__gte", models.F("starts_on")), _connector="OR"),
                name="notice_pack_ends_after_it_starts",
            ),
        ),
        migrations.AddConstraint(
            model_name="textleftout",
            constraint=models.UniqueConstraint(fields=("pricing", "key"), name="text_left_out_once"),
        ),
        migrations.AddConstraint(
            model_name="textleftout",
            constraint=models.CheckConstraint(
                condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="text_left_out_order_in_bounds"
            ),
        ),
        migrations.AddConstraint(
            model_name="textleftout",
            constraint=models.CheckConstraint(
                condition=models.Q(("key", ""), _negated=True), name="text_left_out_key_stated"
            ),
        ),
    ]
