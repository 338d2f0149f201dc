from decimal import Decimal

import django.db.models.deletion
import django.db.models.functions.text
import simple_history.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("catalog", "0001_catalog"),
        ("quoting", "0001_people"),
    ]

    operations = [
        migrations.CreateModel(
            name="Client",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=200)),
                ("address", models.TextField(blank=True)),
                ("email", models.CharField(blank=True, max_length=254)),
                ("phone", models.CharField(blank=True, max_length=60)),
                (
                    "tax_exempt_certificate",
                    models.TextField(blank=True, help_text="Its number; nothing when the client pays tax.", null=True),
                ),
            ],
            options={
                "ordering": ["name", "pk"],
                "constraints": [
                    models.CheckConstraint(condition=models.Q(("name", ""), _negated=True), name="client_name_stated")
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalJob",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("key", models.CharField(db_index=True, max_length=40)),
                ("title", models.CharField(max_length=200)),
                ("site_address", models.TextField(blank=True)),
                ("start_on", models.DateField(blank=True, help_text="First working day on site.", null=True)),
                ("crew", models.PositiveSmallIntegerField(default=2)),
                ("note", models.TextField(blank=True)),
                (
                    "closed_on",
                    models.DateField(blank=True, help_text="The day it was closed; open until then.", null=True),
                ),
                (
                    "version",
                    models.PositiveIntegerField(default=1, help_text="Rises with every change of the job itself."),
                ),
                ("created_at", models.DateTimeField()),
                (
                    "client",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.client",
                    ),
                ),
                (
                    "created_by",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
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
                "verbose_name": "historical job",
                "verbose_name_plural": "historical jobs",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Job",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("key", models.CharField(max_length=40, unique=True)),
                ("title", models.CharField(max_length=200)),
                (
                    "client",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="jobs", to="jobs.client"
                    ),
                ),
                ("site_address", models.TextField(blank=True)),
                ("start_on", models.DateField(blank=True, help_text="First working day on site.", null=True)),
                ("crew", models.PositiveSmallIntegerField(default=2)),
                ("note", models.TextField(blank=True)),
                (
                    "closed_on",
                    models.DateField(blank=True, help_text="The day it was closed; open until then.", null=True),
                ),
                (
                    "version",
                    models.PositiveIntegerField(default=1, help_text="Rises with every change of the job itself."),
                ),
                (
                    "created_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                ("created_at", models.DateTimeField()),
            ],
            options={
                "ordering": ["-created_at", "-pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("key", ""), ("title", ""), _connector="OR", _negated=True),
                        name="job_key_title_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("crew__gte", 1), ("crew__lte", 50)), name="job_crew_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("version__gte", 1), ("version__lte", 1000000000)),
                        name="job_version_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalJobClosure",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("first_day", models.DateField()),
                ("last_day", models.DateField()),
                ("reason", models.TextField(blank=True)),
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
                "verbose_name": "historical job closure",
                "verbose_name_plural": "historical job closures",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="JobClosure",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="closures", to="jobs.job"
                    ),
                ),
                ("first_day", models.DateField()),
                ("last_day", models.DateField()),
                ("reason", models.TextField(blank=True)),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("last_day__gte", models.F("first_day"))),
                        name="job_closure_ends_after_it_begins",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalItemDates",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("need_by", models.DateField(blank=True, null=True)),
                ("cushion_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("sign_off_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
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
                "verbose_name": "historical item dates",
                "verbose_name_plural": "historical item dates",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="ItemDates",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="item_dates", to="jobs.job"
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
                ("need_by", models.DateField(blank=True, null=True)),
                ("cushion_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("sign_off_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
            ],
            options={
                "verbose_name_plural": "item dates",
                "ordering": ["pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("job", "material"), name="item_dates_once_a_material"),
                    models.CheckConstraint(
                        condition=models.Q(("cushion_workdays__gte", 0), ("cushion_workdays__lte", 250)),
                        name="item_dates_cushion_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("sign_off_workdays__gte", 0), ("sign_off_workdays__lte", 250)),
                        name="item_dates_sign_off_workdays_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalActivityChange",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("key", models.CharField(max_length=60)),
                ("duration_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("not_before", models.DateField(blank=True, null=True)),
                ("left_out", models.BooleanField(default=False)),
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
                "verbose_name": "historical activity change",
                "verbose_name_plural": "historical activity changes",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="ActivityChange",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="activity_changes", to="jobs.job"
                    ),
                ),
                ("key", models.CharField(max_length=60)),
                ("duration_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("not_before", models.DateField(blank=True, null=True)),
                ("left_out", models.BooleanField(default=False)),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("job", "key"), name="activity_change_once_a_job"),
                    models.CheckConstraint(
                        condition=models.Q(("key", ""), _negated=True), name="activity_change_key_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("duration_workdays__gte", 0), ("duration_workdays__lte", 500)),
                        name="activity_change_duration_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("left_out__in", [True, False])),
                        name="activity_change_left_out_is_yes_or_no",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalWall",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("key", models.CharField(max_length=40)),
                ("name", models.CharField(max_length=200)),
                ("order", models.PositiveSmallIntegerField(default=0)),
                ("version", models.PositiveIntegerField(default=1, help_text="Rises with every change of the wall.")),
                (
                    "measured_on",
                    models.CharField(
                        choices=[
                            ("left_finished", "left finished"),
                            ("left_framing", "left framing"),
                            ("centre", "centre"),
                            ("right_framing", "right framing"),
                            ("right_finished", "right finished"),
                            ("concave_finished", "concave finished"),
                            ("concave_framing", "concave framing"),
                            ("convex_framing", "convex framing"),
                            ("convex_finished", "convex finished"),
                        ],
                        max_length=20,
                    ),
                ),
                ("stud_depth_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("stud_spacing_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("insulated", models.BooleanField(default=False)),
                ("left_level", models.PositiveSmallIntegerField()),
                ("right_level", models.PositiveSmallIntegerField()),
                ("left_painted", models.BooleanField(default=True)),
                ("right_painted", models.BooleanField(default=True)),
                (
                    "top",
                    models.CharField(
                        choices=[("ceiling", "ceiling"), ("free", "free")], default="ceiling", max_length=7
                    ),
                ),
                (
                    "start_end",
                    models.CharField(choices=[("free", "free"), ("meets", "meets")], default="free", max_length=5),
                ),
                (
                    "end_end",
                    models.CharField(choices=[("free", "free"), ("meets", "meets")], default="free", max_length=5),
                ),
                (
                    "end_studs",
                    models.PositiveSmallIntegerField(default=1, help_text="Studs set together at a free end."),
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
                    "track",
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
                    "stud",
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
                "verbose_name": "historical wall",
                "verbose_name_plural": "historical walls",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Wall",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name="walls", to="jobs.job"),
                ),
                ("key", models.CharField(max_length=40)),
                ("name", models.CharField(max_length=200)),
                ("order", models.PositiveSmallIntegerField(default=0)),
                ("version", models.PositiveIntegerField(default=1, help_text="Rises with every change of the wall.")),
                (
                    "measured_on",
                    models.CharField(
                        choices=[
                            ("left_finished", "left finished"),
                            ("left_framing", "left framing"),
                            ("centre", "centre"),
                            ("right_framing", "right framing"),
                            ("right_finished", "right finished"),
                            ("concave_finished", "concave finished"),
                            ("concave_framing", "concave framing"),
                            ("convex_framing", "convex framing"),
                            ("convex_finished", "convex finished"),
                        ],
                        max_length=20,
                    ),
                ),
                (
                    "track",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="catalog.material",
                        to_field="code",
                    ),
                ),
                (
                    "stud",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="catalog.material",
                        to_field="code",
                    ),
                ),
                ("stud_depth_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("stud_spacing_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("insulated", models.BooleanField(default=False)),
                ("left_level", models.PositiveSmallIntegerField()),
                ("right_level", models.PositiveSmallIntegerField()),
                ("left_painted", models.BooleanField(default=True)),
                ("right_painted", models.BooleanField(default=True)),
                (
                    "top",
                    models.CharField(
                        choices=[("ceiling", "ceiling"), ("free", "free")], default="ceiling", max_length=7
                    ),
                ),
                (
                    "start_end",
                    models.CharField(choices=[("free", "free"), ("meets", "meets")], default="free", max_length=5),
                ),
                (
                    "end_end",
                    models.CharField(choices=[("free", "free"), ("meets", "meets")], default="free", max_length=5),
                ),
                (
                    "end_studs",
                    models.PositiveSmallIntegerField(default=1, help_text="Studs set together at a free end."),
                ),
            ],
            options={
                "ordering": ["order", "pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("job", "key"), name="wall_key_once_a_job"),
                    models.CheckConstraint(
                        condition=models.Q(("key", ""), ("name", ""), _connector="OR", _negated=True),
                        name="wall_key_name_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="wall_order_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("version__gte", 1), ("version__lte", 1000000000)),
                        name="wall_version_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "measured_on__in",
                                [
                                    "left_finished",
                                    "left_framing",
                                    "centre",
                                    "right_framing",
                                    "right_finished",
                                    "concave_finished",
                                    "concave_framing",
                                    "convex_framing",
                                    "convex_finished",
                                ],
                            )
                        ),
                        name="wall_measured_on_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("stud_depth_mm__gte", 1), ("stud_depth_mm__lte", 1000)),
                        name="wall_stud_depth_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("stud_spacing_mm__gte", 25), ("stud_spacing_mm__lte", 1000)),
                        name="wall_stud_spacing_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("left_level__in", [0, 1, 2, 3, 4, 5])), name="wall_left_level_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("right_level__in", [0, 1, 2, 3, 4, 5])), name="wall_right_level_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("insulated__in", [True, False])), name="wall_insulated_is_yes_or_no"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("left_painted__in", [True, False])), name="wall_left_painted_is_yes_or_no"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("right_painted__in", [True, False])), name="wall_right_painted_is_yes_or_no"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("top__in", ["ceiling", "free"])), name="wall_top_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("start_end__in", ["free", "meets"])), name="wall_start_end_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("end_end__in", ["free", "meets"])), name="wall_end_end_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("end_studs__gte", 1), ("end_studs__lte", 6)),
                        name="wall_end_studs_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalHeightStation",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                (
                    "along_mm",
                    models.DecimalField(
                        decimal_places=6, help_text="Along the centreline from the start.", max_digits=14
                    ),
                ),
                ("height_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                (
                    "wall",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
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
                "verbose_name": "historical height station",
                "verbose_name_plural": "historical height stations",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HeightStation",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "wall",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="heights", to="jobs.wall"
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                (
                    "along_mm",
                    models.DecimalField(
                        decimal_places=6, help_text="Along the centreline from the start.", max_digits=14
                    ),
                ),
                ("height_mm", models.DecimalField(decimal_places=6, max_digits=14)),
            ],
            options={
                "ordering": ["order", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)),
                        name="height_station_order_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("along_mm__gte", 0), ("along_mm__lte", 10000000)),
                        name="height_station_along_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("height_mm__gt", 0), ("height_mm__lte", 30000)),
                        name="height_station_height_mm_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalLayer",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("face", models.CharField(choices=[("left", "left"), ("right", "right")], max_length=5)),
                ("order", models.PositiveSmallIntegerField()),
                (
                    "direction",
                    models.CharField(choices=[("lengthwise", "Lengthwise"), ("widthwise", "Widthwise")], max_length=10),
                ),
                ("moisture", models.CharField(choices=[("dry", "Dry"), ("damp", "Damp")], max_length=4)),
                (
                    "wall",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.wall",
                    ),
                ),
                (
                    "board",
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
                "verbose_name": "historical layer",
                "verbose_name_plural": "historical layers",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Layer",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "wall",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="layers", to="jobs.wall"
                    ),
                ),
                ("face", models.CharField(choices=[("left", "left"), ("right", "right")], max_length=5)),
                ("order", models.PositiveSmallIntegerField()),
                (
                    "board",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="catalog.material",
                        to_field="code",
                    ),
                ),
                (
                    "direction",
                    models.CharField(choices=[("lengthwise", "Lengthwise"), ("widthwise", "Widthwise")], max_length=10),
                ),
                ("moisture", models.CharField(choices=[("dry", "Dry"), ("damp", "Damp")], max_length=4)),
            ],
            options={
                "ordering": ["face", "order", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("face__in", ["left", "right"])), name="layer_face_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="layer_order_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("direction__in", ["lengthwise", "widthwise"])),
                        name="layer_direction_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("moisture__in", ["dry", "damp"])), name="layer_moisture_is_known"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalArcLean",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("piece", models.PositiveSmallIntegerField(help_text="Which piece of the wall, from 0.")),
                ("order", models.PositiveSmallIntegerField()),
                (
                    "along_mm",
                    models.DecimalField(decimal_places=6, help_text="Along the arc from its start.", max_digits=14),
                ),
                (
                    "outwards_mm",
                    models.DecimalField(
                        decimal_places=6, help_text="Away from the centre; negative towards it.", max_digits=14
                    ),
                ),
                (
                    "height_mm",
                    models.DecimalField(
                        decimal_places=6, help_text="Above the floor, where it was read.", max_digits=14
                    ),
                ),
                (
                    "wall",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
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
                "verbose_name": "historical arc lean",
                "verbose_name_plural": "historical arc leans",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="ArcLean",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "wall",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="leans", to="jobs.wall"
                    ),
                ),
                ("piece", models.PositiveSmallIntegerField(help_text="Which piece of the wall, from 0.")),
                ("order", models.PositiveSmallIntegerField()),
                (
                    "along_mm",
                    models.DecimalField(decimal_places=6, help_text="Along the arc from its start.", max_digits=14),
                ),
                (
                    "outwards_mm",
                    models.DecimalField(
                        decimal_places=6, help_text="Away from the centre; negative towards it.", max_digits=14
                    ),
                ),
                (
                    "height_mm",
                    models.DecimalField(
                        decimal_places=6, help_text="Above the floor, where it was read.", max_digits=14
                    ),
                ),
            ],
            options={
                "ordering": ["piece", "order", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("piece__gte", 0), ("piece__lte", 5000)), name="arc_lean_piece_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="arc_lean_order_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("along_mm__gte", 0), ("along_mm__lte", 10000000)),
                        name="arc_lean_along_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("outwards_mm__gte", -30000), ("outwards_mm__lte", 30000)),
                        name="arc_lean_outwards_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("height_mm__gt", 0), ("height_mm__lte", 30000)),
                        name="arc_lean_height_mm_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalDimensionMark",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                (
                    "dimension",
                    models.CharField(
                        help_text="Its place in the wall's document, such as pieces[0].rise.", max_length=60
                    ),
                ),
                (
                    "how",
                    models.CharField(
                        choices=[("measured", "measured"), ("assumed", "assumed"), ("confirmed", "confirmed")],
                        max_length=9,
                    ),
                ),
                ("by", models.CharField(max_length=200)),
                ("on", models.DateField()),
                (
                    "wall",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
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
                "verbose_name": "historical dimension mark",
                "verbose_name_plural": "historical dimension marks",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="DimensionMark",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "wall",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="marks", to="jobs.wall"
                    ),
                ),
                (
                    "dimension",
                    models.CharField(
                        help_text="Its place in the wall's document, such as pieces[0].rise.", max_length=60
                    ),
                ),
                (
                    "how",
                    models.CharField(
                        choices=[("measured", "measured"), ("assumed", "assumed"), ("confirmed", "confirmed")],
                        max_length=9,
                    ),
                ),
                ("by", models.CharField(max_length=200)),
                ("on", models.DateField()),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("wall", "dimension"), name="dimension_mark_once_a_wall"),
                    models.CheckConstraint(
                        condition=models.Q(("dimension", ""), ("by", ""), _connector="OR", _negated=True),
                        name="dimension_mark_dimension_by_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("how__in", ["measured", "assumed", "confirmed"])),
                        name="dimension_mark_how_is_known",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalOpening",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("name", models.CharField(max_length=100)),
                ("centre_at_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("width_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("height_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("sill_mm", models.DecimalField(decimal_places=6, default=0, max_digits=14)),
                ("frame", models.CharField(choices=[("flat", "Flat frame"), ("radial", "Cut radially")], max_length=6)),
                (
                    "measured_on",
                    models.CharField(
                        blank=True,
                        choices=[
                            ("left_finished", "left finished"),
                            ("left_framing", "left framing"),
                            ("centre", "centre"),
                            ("right_framing", "right framing"),
                            ("right_finished", "right finished"),
                            ("concave_finished", "concave finished"),
                            ("concave_framing", "concave framing"),
                            ("convex_framing", "convex framing"),
                            ("convex_finished", "convex finished"),
                        ],
                        max_length=20,
                    ),
                ),
                (
                    "arch_rise_mm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        help_text="Of the crown over the spring line.",
                        max_digits=14,
                        null=True,
                    ),
                ),
                ("casing_reveal_mm", models.DecimalField(decimal_places=6, default=0, max_digits=14)),
                (
                    "casing_faces",
                    models.CharField(
                        choices=[("both", "both"), ("left", "left"), ("right", "right")], default="both", max_length=5
                    ),
                ),
                (
                    "wall",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.wall",
                    ),
                ),
                (
                    "casing_legs",
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
                    "casing_head",
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
                "verbose_name": "historical opening",
                "verbose_name_plural": "historical openings",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Opening",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "wall",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="openings", to="jobs.wall"
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                ("name", models.CharField(max_length=100)),
                ("centre_at_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("width_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("height_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("sill_mm", models.DecimalField(decimal_places=6, default=0, max_digits=14)),
                ("frame", models.CharField(choices=[("flat", "Flat frame"), ("radial", "Cut radially")], max_length=6)),
                (
                    "measured_on",
                    models.CharField(
                        blank=True,
                        choices=[
                            ("left_finished", "left finished"),
                            ("left_framing", "left framing"),
                            ("centre", "centre"),
                            ("right_framing", "right framing"),
                            ("right_finished", "right finished"),
                            ("concave_finished", "concave finished"),
                            ("concave_framing", "concave framing"),
                            ("convex_framing", "convex framing"),
                            ("convex_finished", "convex finished"),
                        ],
                        max_length=20,
                    ),
                ),
                (
                    "arch_rise_mm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        help_text="Of the crown over the spring line.",
                        max_digits=14,
                        null=True,
                    ),
                ),
                (
                    "casing_legs",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="catalog.material",
                        to_field="code",
                    ),
                ),
                (
                    "casing_head",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="catalog.material",
                        to_field="code",
                    ),
                ),
                ("casing_reveal_mm", models.DecimalField(decimal_places=6, default=0, max_digits=14)),
                (
                    "casing_faces",
                    models.CharField(
                        choices=[("both", "both"), ("left", "left"), ("right", "right")], default="both", max_length=5
                    ),
                ),
            ],
            options={
                "ordering": ["order", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="opening_order_in_bounds"
                    ),
                    models.CheckConstraint(condition=models.Q(("name", ""), _negated=True), name="opening_name_stated"),
                    models.CheckConstraint(
                        condition=models.Q(("centre_at_mm__gt", 0), ("centre_at_mm__lte", 10000000)),
                        name="opening_centre_at_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("width_mm__gt", 0), ("width_mm__lte", 10000000)),
                        name="opening_width_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("height_mm__gt", 0), ("height_mm__lte", 10000000)),
                        name="opening_height_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("sill_mm__gte", 0), ("sill_mm__lte", 10000000)),
                        name="opening_sill_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("frame__in", ["flat", "radial"])), name="opening_frame_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "measured_on__in",
                                [
                                    "",
                                    "left_finished",
                                    "left_framing",
                                    "centre",
                                    "right_framing",
                                    "right_finished",
                                    "concave_finished",
                                    "concave_framing",
                                    "convex_framing",
                                    "convex_finished",
                                ],
                            )
                        ),
                        name="opening_measured_on_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("arch_rise_mm__gt", 0), ("arch_rise_mm__lte", 10000000)),
                        name="opening_arch_rise_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("casing_reveal_mm__gte", 0), ("casing_reveal_mm__lte", 1000)),
                        name="opening_casing_reveal_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("casing_faces__in", ["both", "left", "right"])),
                        name="opening_casing_faces_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("casing_head", None), ("casing_legs__isnull", False), _connector="OR"),
                        name="opening_casing_has_legs",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalOverride",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("key", models.CharField(max_length=200)),
                ("reason", models.TextField()),
                ("by", models.CharField(max_length=200)),
                ("on", models.DateField()),
                ("value", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("original", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
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
                    "wall",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
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
                "verbose_name": "historical override",
                "verbose_name_plural": "historical overrides",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Override",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="overrides", to="jobs.job"
                    ),
                ),
                (
                    "wall",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="overrides",
                        to="jobs.wall",
                    ),
                ),
                ("key", models.CharField(max_length=200)),
                ("reason", models.TextField()),
                ("by", models.CharField(max_length=200)),
                ("on", models.DateField()),
                ("value", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("original", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("wall", None)), fields=("job", "key"), name="override_once_a_job_and_key"
                    ),
                    models.UniqueConstraint(fields=("wall", "key"), name="override_once_a_wall_and_key"),
                    models.CheckConstraint(
                        condition=models.Q(("key", ""), ("reason", ""), ("by", ""), _connector="OR", _negated=True),
                        name="override_key_reason_by_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("value__gte", 0), ("value__lte", 10000000)), name="override_value_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("original__gte", 0), ("original__lte", 10000000)),
                        name="override_original_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalWallPhoto",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("kind", models.CharField(choices=[("photo", "Photo"), ("sketch", "Sketch")], max_length=6)),
                ("caption", models.CharField(max_length=200)),
                (
                    "dimension",
                    models.CharField(blank=True, help_text="Its place in the wall's document.", max_length=60),
                ),
                ("in_quote", models.BooleanField(default=False, help_text="Shown to the client in the quote.")),
                ("file_name", models.CharField(max_length=100)),
                ("sha256", models.CharField(max_length=64)),
                ("size_bytes", models.PositiveIntegerField()),
                ("width_px", models.PositiveIntegerField()),
                ("height_px", models.PositiveIntegerField()),
                ("added_by", models.CharField(max_length=200)),
                ("added_at", models.DateTimeField()),
                ("taken_down_by", models.CharField(blank=True, max_length=200)),
                ("taken_down_at", models.DateTimeField(blank=True, null=True)),
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
                    "wall",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
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
                "verbose_name": "historical photo of a wall",
                "verbose_name_plural": "historical photos of walls",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="WallPhoto",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="photos", to="jobs.job"
                    ),
                ),
                (
                    "wall",
                    models.ForeignKey(
                        null=True, on_delete=django.db.models.deletion.SET_NULL, related_name="photos", to="jobs.wall"
                    ),
                ),
                ("kind", models.CharField(choices=[("photo", "Photo"), ("sketch", "Sketch")], max_length=6)),
                ("caption", models.CharField(max_length=200)),
                (
                    "dimension",
                    models.CharField(blank=True, help_text="Its place in the wall's document.", max_length=60),
                ),
                ("in_quote", models.BooleanField(default=False, help_text="Shown to the client in the quote.")),
                ("file_name", models.CharField(max_length=100)),
                ("sha256", models.CharField(max_length=64)),
                ("size_bytes", models.PositiveIntegerField()),
                ("width_px", models.PositiveIntegerField()),
                ("height_px", models.PositiveIntegerField()),
                ("added_by", models.CharField(max_length=200)),
                ("added_at", models.DateTimeField()),
                ("taken_down_by", models.CharField(blank=True, max_length=200)),
                ("taken_down_at", models.DateTimeField(blank=True, null=True)),
            ],
            options={
                "verbose_name": "photo of a wall",
                "verbose_name_plural": "photos of walls",
                "ordering": ["pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("kind__in", ["photo", "sketch"])), name="wall_photo_kind_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("caption", ""), ("file_name", ""), ("added_by", ""), _connector="OR", _negated=True
                        ),
                        name="wall_photo_caption_file_name_added_by_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("in_quote__in", [True, False])), name="wall_photo_in_quote_is_yes_or_no"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("sha256__regex", "^[0-9a-f]{64}$")), name="wall_photo_hash_is_sha256"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("size_bytes__gte", 1), ("size_bytes__lte", 100000000)),
                        name="wall_photo_size_bytes_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("width_px__gte", 1), ("width_px__lte", 20000)),
                        name="wall_photo_width_px_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("height_px__gte", 1), ("height_px__lte", 20000)),
                        name="wall_photo_height_px_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("taken_down_at", None), ("taken_down_by", "")),
                            models.Q(
                                models.Q(("taken_down_at", None), _negated=True),
                                models.Q(("taken_down_by", ""), _negated=True),
                            ),
                            _connector="OR",
                        ),
                        name="wall_photo_taken_down_by_somebody",
                    ),
                    models.UniqueConstraint(
                        condition=models.Q(("taken_down_at", None)),
                        fields=("wall", "sha256"),
                        name="wall_photo_once_a_wall",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalWallPiece",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                (
                    "shape",
                    models.CharField(
                        choices=[("arc", "Arc"), ("straight", "Straight"), ("template", "To a template")], max_length=8
                    ),
                ),
                (
                    "given_by",
                    models.CharField(
                        choices=[
                            ("length", "length"),
                            ("radius_angle", "radius, angle"),
                            ("radius_arc", "radius, arc"),
                            ("chord_rise", "chord, rise"),
                            ("radius_chord", "radius, chord"),
                            ("arc_chord", "arc, chord"),
                            ("points", "points"),
                            ("template", "template"),
                        ],
                        max_length=12,
                    ),
                ),
                ("turn", models.CharField(blank=True, choices=[("left", "Left"), ("right", "Right")], max_length=5)),
                (
                    "measured_on",
                    models.CharField(
                        blank=True,
                        choices=[
                            ("left_finished", "left finished"),
                            ("left_framing", "left framing"),
                            ("centre", "centre"),
                            ("right_framing", "right framing"),
                            ("right_finished", "right finished"),
                            ("concave_finished", "concave finished"),
                            ("concave_framing", "concave framing"),
                            ("convex_framing", "convex framing"),
                            ("convex_finished", "convex finished"),
                        ],
                        max_length=20,
                    ),
                ),
                ("length_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("radius_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("angle_deg", models.DecimalField(blank=True, decimal_places=9, max_digits=12, null=True)),
                ("arc_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("chord_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("rise_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("major", models.BooleanField(blank=True, help_text="The arc of more than half a circle.", null=True)),
                ("x1_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("y1_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("x2_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("y2_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("x3_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("y3_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                (
                    "turned_deg",
                    models.DecimalField(
                        blank=True,
                        decimal_places=9,
                        help_text="From the start to the end, left positive.",
                        max_digits=12,
                        null=True,
                    ),
                ),
                (
                    "template",
                    models.TextField(blank=True, help_text="Name of the held template it is built to.", null=True),
                ),
                ("kink_deg", models.DecimalField(decimal_places=9, default=Decimal("0"), max_digits=12)),
                (
                    "wall",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
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
                "verbose_name": "historical wall piece",
                "verbose_name_plural": "historical wall pieces",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="WallPiece",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "wall",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="pieces", to="jobs.wall"
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                (
                    "shape",
                    models.CharField(
                        choices=[("arc", "Arc"), ("straight", "Straight"), ("template", "To a template")], max_length=8
                    ),
                ),
                (
                    "given_by",
                    models.CharField(
                        choices=[
                            ("length", "length"),
                            ("radius_angle", "radius, angle"),
                            ("radius_arc", "radius, arc"),
                            ("chord_rise", "chord, rise"),
                            ("radius_chord", "radius, chord"),
                            ("arc_chord", "arc, chord"),
                            ("points", "points"),
                            ("template", "template"),
                        ],
                        max_length=12,
                    ),
                ),
                ("turn", models.CharField(blank=True, choices=[("left", "Left"), ("right", "Right")], max_length=5)),
                (
                    "measured_on",
                    models.CharField(
                        blank=True,
                        choices=[
                            ("left_finished", "left finished"),
                            ("left_framing", "left framing"),
                            ("centre", "centre"),
                            ("right_framing", "right framing"),
                            ("right_finished", "right finished"),
                            ("concave_finished", "concave finished"),
                            ("concave_framing", "concave framing"),
                            ("convex_framing", "convex framing"),
                            ("convex_finished", "convex finished"),
                        ],
                        max_length=20,
                    ),
                ),
                ("length_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("radius_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("angle_deg", models.DecimalField(blank=True, decimal_places=9, max_digits=12, null=True)),
                ("arc_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("chord_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("rise_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("major", models.BooleanField(blank=True, help_text="The arc of more than half a circle.", null=True)),
                ("x1_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("y1_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("x2_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("y2_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("x3_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("y3_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                (
                    "turned_deg",
                    models.DecimalField(
                        blank=True,
                        decimal_places=9,
                        help_text="From the start to the end, left positive.",
                        max_digits=12,
                        null=True,
                    ),
                ),
                (
                    "template",
                    models.TextField(blank=True, help_text="Name of the held template it is built to.", null=True),
                ),
                ("kink_deg", models.DecimalField(decimal_places=9, default=Decimal("0"), max_digits=12)),
            ],
            options={
                "ordering": ["order", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="wall_piece_order_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "given_by__in",
                                [
                                    "length",
                                    "radius_angle",
                                    "radius_arc",
                                    "chord_rise",
                                    "radius_chord",
                                    "arc_chord",
                                    "points",
                                    "template",
                                ],
                            )
                        ),
                        name="wall_piece_given_by_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("turn__in", ["", "left", "right"])), name="wall_piece_turn_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "measured_on__in",
                                [
                                    "",
                                    "left_finished",
                                    "left_framing",
                                    "centre",
                                    "right_framing",
                                    "right_finished",
                                    "concave_finished",
                                    "concave_framing",
                                    "convex_framing",
                                    "convex_finished",
                                ],
                            )
                        ),
                        name="wall_piece_measured_on_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("given_by", "length"), ("measured_on", ""), ("shape", "straight"), ("turn", "")),
                            models.Q(("given_by", "template"), ("shape", "template"), ("turn", "")),
                            models.Q(
                                ("shape", "arc"), models.Q(("given_by__in", ["length", "template"]), _negated=True)
                            ),
                            _connector="OR",
                        ),
                        name="wall_piece_shape_and_figures_agree",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("angle_deg__isnull", True),
                                ("arc_mm__isnull", True),
                                ("chord_mm__isnull", True),
                                ("given_by", "length"),
                                ("length_mm__isnull", False),
                                ("major__isnull", True),
                                ("radius_mm__isnull", True),
                                ("rise_mm__isnull", True),
                                ("turned_deg__isnull", True),
                                ("x1_mm__isnull", True),
                                ("x2_mm__isnull", True),
                                ("x3_mm__isnull", True),
                                ("y1_mm__isnull", True),
                                ("y2_mm__isnull", True),
                                ("y3_mm__isnull", True),
                            ),
                            models.Q(
                                ("angle_deg__isnull", False),
                                ("arc_mm__isnull", True),
                                ("chord_mm__isnull", True),
                                ("given_by", "radius_angle"),
                                ("length_mm__isnull", True),
                                ("major__isnull", True),
                                ("radius_mm__isnull", False),
                                ("rise_mm__isnull", True),
                                ("turned_deg__isnull", True),
                                ("x1_mm__isnull", True),
                                ("x2_mm__isnull", True),
                                ("x3_mm__isnull", True),
                                ("y1_mm__isnull", True),
                                ("y2_mm__isnull", True),
                                ("y3_mm__isnull", True),
                            ),
                            models.Q(
                                ("angle_deg__isnull", True),
                                ("arc_mm__isnull", False),
                                ("chord_mm__isnull", True),
                                ("given_by", "radius_arc"),
                                ("length_mm__isnull", True),
                                ("major__isnull", True),
                                ("radius_mm__isnull", False),
                                ("rise_mm__isnull", True),
                                ("turned_deg__isnull", True),
                                ("x1_mm__isnull", True),
                                ("x2_mm__isnull", True),
                                ("x3_mm__isnull", True),
                                ("y1_mm__isnull", True),
                                ("y2_mm__isnull", True),
                                ("y3_mm__isnull", True),
                            ),
                            models.Q(
                                ("angle_deg__isnull", True),
                                ("arc_mm__isnull", True),
                                ("chord_mm__isnull", False),
                                ("given_by", "chord_rise"),
                                ("length_mm__isnull", True),
                                ("major__isnull", True),
                                ("radius_mm__isnull", True),
                                ("rise_mm__isnull", False),
                                ("turned_deg__isnull", True),
                                ("x1_mm__isnull", True),
                                ("x2_mm__isnull", True),
                                ("x3_mm__isnull", True),
                                ("y1_mm__isnull", True),
                                ("y2_mm__isnull", True),
                                ("y3_mm__isnull", True),
                            ),
                            models.Q(
                                ("angle_deg__isnull", True),
                                ("arc_mm__isnull", True),
                                ("chord_mm__isnull", False),
                                ("given_by", "radius_chord"),
                                ("length_mm__isnull", True),
                                ("major__isnull", False),
                                ("radius_mm__isnull", False),
                                ("rise_mm__isnull", True),
                                ("turned_deg__isnull", True),
                                ("x1_mm__isnull", True),
                                ("x2_mm__isnull", True),
                                ("x3_mm__isnull", True),
                                ("y1_mm__isnull", True),
                                ("y2_mm__isnull", True),
                                ("y3_mm__isnull", True),
                            ),
                            models.Q(
                                ("angle_deg__isnull", True),
                                ("arc_mm__isnull", False),
                                ("chord_mm__isnull", False),
                                ("given_by", "arc_chord"),
                                ("length_mm__isnull", True),
                                ("major__isnull", True),
                                ("radius_mm__isnull", True),
                                ("rise_mm__isnull", True),
                                ("turned_deg__isnull", True),
                                ("x1_mm__isnull", True),
                                ("x2_mm__isnull", True),
                                ("x3_mm__isnull", True),
                                ("y1_mm__isnull", True),
                                ("y2_mm__isnull", True),
                                ("y3_mm__isnull", True),
                            ),
                            models.Q(
                                ("angle_deg__isnull", True),
                                ("arc_mm__isnull", True),
                                ("chord_mm__isnull", True),
                                ("given_by", "points"),
                                ("length_mm__isnull", True),
                                ("major__isnull", True),
                                ("radius_mm__isnull", True),
                                ("rise_mm__isnull", True),
                                ("turned_deg__isnull", True),
                                ("x1_mm__isnull", False),
                                ("x2_mm__isnull", False),
                                ("x3_mm__isnull", False),
                                ("y1_mm__isnull", False),
                                ("y2_mm__isnull", False),
                                ("y3_mm__isnull", False),
                            ),
                            models.Q(
                                ("angle_deg__isnull", True),
                                ("arc_mm__isnull", True),
                                ("chord_mm__isnull", False),
                                ("given_by", "template"),
                                ("length_mm__isnull", False),
                                ("major__isnull", True),
                                ("radius_mm__isnull", True),
                                ("rise_mm__isnull", True),
                                ("turned_deg__isnull", False),
                                ("x1_mm__isnull", True),
                                ("x2_mm__isnull", True),
                                ("x3_mm__isnull", True),
                                ("y1_mm__isnull", True),
                                ("y2_mm__isnull", True),
                                ("y3_mm__isnull", True),
                            ),
                            _connector="OR",
                        ),
                        name="wall_piece_only_its_own_figures",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("length_mm__gt", 0), ("length_mm__lte", 10000000)),
                        name="wall_piece_length_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("radius_mm__gt", 0), ("radius_mm__lte", 10000000)),
                        name="wall_piece_radius_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("arc_mm__gt", 0), ("arc_mm__lte", 10000000)),
                        name="wall_piece_arc_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("chord_mm__gt", 0), ("chord_mm__lte", 10000000)),
                        name="wall_piece_chord_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("rise_mm__gt", 0), ("rise_mm__lte", 10000000)),
                        name="wall_piece_rise_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("x1_mm__gte", -10000000), ("x1_mm__lte", 10000000)),
                        name="wall_piece_x1_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("y1_mm__gte", -10000000), ("y1_mm__lte", 10000000)),
                        name="wall_piece_y1_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("x2_mm__gte", -10000000), ("x2_mm__lte", 10000000)),
                        name="wall_piece_x2_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("y2_mm__gte", -10000000), ("y2_mm__lte", 10000000)),
                        name="wall_piece_y2_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("x3_mm__gte", -10000000), ("x3_mm__lte", 10000000)),
                        name="wall_piece_x3_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("y3_mm__gte", -10000000), ("y3_mm__lte", 10000000)),
                        name="wall_piece_y3_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("angle_deg__gt", 0), ("angle_deg__lte", 360)),
                        name="wall_piece_angle_deg_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("kink_deg__gte", -180), ("kink_deg__lte", 180)),
                        name="wall_piece_kink_deg_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("turned_deg__gte", -360), ("turned_deg__lte", 360)),
                        name="wall_piece_turned_deg_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("major__in", [True, False])), name="wall_piece_major_is_yes_or_no"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="FoundPlan",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="found_plans", to="jobs.job"
                    ),
                ),
                ("what", models.CharField(choices=[("boards", "Boards"), ("sticks", "Sticks")], max_length=6)),
                ("mark", models.CharField(max_length=64)),
                ("document", models.JSONField()),
                ("seconds", models.PositiveIntegerField(help_text="How long it was looked for.")),
                ("found_at", models.DateTimeField()),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("job", "what", "mark"), name="found_plan_once_a_mark"),
                    models.CheckConstraint(
                        condition=models.Q(("what__in", ["boards", "sticks"])), name="found_plan_is_of_something"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("mark", ""), _negated=True), name="foundplan_mark_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("seconds__gte", 0), ("seconds__lte", 86400)),
                        name="foundplan_seconds_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalChosenPlan",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("what", models.CharField(choices=[("boards", "Boards"), ("sticks", "Sticks")], max_length=6)),
                ("document", models.JSONField()),
                ("by", models.CharField(max_length=200)),
                ("on", models.DateField()),
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
                "verbose_name": "historical chosen plan",
                "verbose_name_plural": "historical chosen plans",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="ChosenPlan",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name="plans", to="jobs.job"),
                ),
                ("what", models.CharField(choices=[("boards", "Boards"), ("sticks", "Sticks")], max_length=6)),
                ("document", models.JSONField()),
                ("by", models.CharField(max_length=200)),
                ("on", models.DateField()),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("job", "what"), name="chosen_plan_once_a_job"),
                    models.CheckConstraint(
                        condition=models.Q(("what__in", ["boards", "sticks"])), name="chosen_plan_is_of_something"
                    ),
                    models.CheckConstraint(condition=models.Q(("by", ""), _negated=True), name="chosenplan_by_stated"),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalStickOnHand",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("length_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("count", models.PositiveSmallIntegerField()),
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
                "verbose_name": "historical stick on hand",
                "verbose_name_plural": "historical stick on hands",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="StickOnHand",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="on_hand", to="jobs.job"
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
                ("length_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("count", models.PositiveSmallIntegerField()),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("length_mm__gte", 1), ("length_mm__lte", 10000000)),
                        name="stickonhand_length_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("count__gte", 1), ("count__lte", 1000)), name="stickonhand_count_in_bounds"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalArcReading",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("piece", models.PositiveSmallIntegerField(help_text="Which piece of the wall, from 0.")),
                ("order", models.PositiveSmallIntegerField()),
                (
                    "way",
                    models.CharField(
                        choices=[("chord_rise", "chord rise"), ("on_blocks", "on blocks"), ("end_gaps", "end gaps")],
                        max_length=10,
                    ),
                ),
                ("chord_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("rise_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("apart_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("block_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("gap_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("straightedge_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("first_gap_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("last_gap_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                (
                    "accuracy_mm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        help_text="Nothing where it is that of the wall's tape.",
                        max_digits=14,
                        null=True,
                    ),
                ),
                ("span_accuracy_mm", models.DecimalField(decimal_places=6, default=0, max_digits=14)),
                (
                    "at_height_mm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        help_text="Above the floor, for that height alone.",
                        max_digits=14,
                        null=True,
                    ),
                ),
                (
                    "wall",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
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
                "verbose_name": "historical arc reading",
                "verbose_name_plural": "historical arc readings",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="ArcReading",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "wall",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="readings", to="jobs.wall"
                    ),
                ),
                ("piece", models.PositiveSmallIntegerField(help_text="Which piece of the wall, from 0.")),
                ("order", models.PositiveSmallIntegerField()),
                (
                    "way",
                    models.CharField(
                        choices=[("chord_rise", "chord rise"), ("on_blocks", "on blocks"), ("end_gaps", "end gaps")],
                        max_length=10,
                    ),
                ),
                ("chord_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("rise_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("apart_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("block_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("gap_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("straightedge_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("first_gap_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("last_gap_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                (
                    "accuracy_mm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        help_text="Nothing where it is that of the wall's tape.",
                        max_digits=14,
                        null=True,
                    ),
                ),
                ("span_accuracy_mm", models.DecimalField(decimal_places=6, default=0, max_digits=14)),
                (
                    "at_height_mm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        help_text="Above the floor, for that height alone.",
                        max_digits=14,
                        null=True,
                    ),
                ),
            ],
            options={
                "ordering": ["piece", "order", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("piece__gte", 0), ("piece__lte", 5000)), name="arc_reading_piece_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="arc_reading_order_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("way__in", ["chord_rise", "on_blocks", "end_gaps"])),
                        name="arc_reading_way_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("apart_mm__isnull", True),
                                ("block_mm__isnull", True),
                                ("chord_mm__isnull", False),
                                ("first_gap_mm__isnull", True),
                                ("gap_mm__isnull", True),
                                ("last_gap_mm__isnull", True),
                                ("rise_mm__isnull", False),
                                ("straightedge_mm__isnull", True),
                                ("way", "chord_rise"),
                            ),
                            models.Q(
                                ("apart_mm__isnull", False),
                                ("block_mm__isnull", False),
                                ("chord_mm__isnull", True),
                                ("first_gap_mm__isnull", True),
                                ("gap_mm__isnull", False),
                                ("last_gap_mm__isnull", True),
                                ("rise_mm__isnull", True),
                                ("straightedge_mm__isnull", True),
                                ("way", "on_blocks"),
                            ),
                            models.Q(
                                ("apart_mm__isnull", True),
                                ("block_mm__isnull", True),
                                ("chord_mm__isnull", True),
                                ("first_gap_mm__isnull", False),
                                ("gap_mm__isnull", True),
                                ("last_gap_mm__isnull", False),
                                ("rise_mm__isnull", True),
                                ("straightedge_mm__isnull", False),
                                ("way", "end_gaps"),
                            ),
                            _connector="OR",
                        ),
                        name="arc_reading_only_its_own_figures",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("apart_mm__gt", 0), ("apart_mm__lte", 10000000)),
                        name="arc_reading_apart_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("block_mm__gt", 0), ("block_mm__lte", 10000000)),
                        name="arc_reading_block_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("chord_mm__gt", 0), ("chord_mm__lte", 10000000)),
                        name="arc_reading_chord_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("rise_mm__gt", 0), ("rise_mm__lte", 10000000)),
                        name="arc_reading_rise_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("straightedge_mm__gt", 0), ("straightedge_mm__lte", 10000000)),
                        name="arc_reading_straightedge_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("gap_mm__gte", 0), ("gap_mm__lte", 10000000)),
                        name="arc_reading_gap_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("first_gap_mm__gte", 0), ("first_gap_mm__lte", 10000000)),
                        name="arc_reading_first_gap_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("last_gap_mm__gte", 0), ("last_gap_mm__lte", 10000000)),
                        name="arc_reading_last_gap_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("accuracy_mm__gte", 0), ("accuracy_mm__lte", 10000000)),
                        name="arc_reading_accuracy_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("span_accuracy_mm__gte", 0), ("span_accuracy_mm__lte", 10000000)),
                        name="arc_reading_span_accuracy_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("at_height_mm__gte", 0), ("at_height_mm__lte", 30000)),
                        name="arc_reading_at_height_mm_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalSiteSurvey",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                (
                    "tape_accuracy_mm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        help_text="Either way; nothing where it is the firm's.",
                        max_digits=14,
                        null=True,
                    ),
                ),
                (
                    "tolerance_mm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        help_text="How far the wall may be from any offset.",
                        max_digits=14,
                        null=True,
                    ),
                ),
                ("start_along_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("start_offset_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("heading_deg", models.DecimalField(blank=True, decimal_places=9, max_digits=12, null=True)),
                (
                    "wall",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
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
                "verbose_name": "historical site survey",
                "verbose_name_plural": "historical site surveys",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="SiteSurvey",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "wall",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="site_surveys", to="jobs.wall"
                    ),
                ),
                (
                    "tape_accuracy_mm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        help_text="Either way; nothing where it is the firm's.",
                        max_digits=14,
                        null=True,
                    ),
                ),
                (
                    "tolerance_mm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        help_text="How far the wall may be from any offset.",
                        max_digits=14,
                        null=True,
                    ),
                ),
                ("start_along_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("start_offset_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("heading_deg", models.DecimalField(blank=True, decimal_places=9, max_digits=12, null=True)),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("wall",), name="site_survey_once_a_wall"),
                    models.CheckConstraint(
                        condition=models.Q(("tape_accuracy_mm__gt", 0), ("tape_accuracy_mm__lte", 100)),
                        name="site_survey_tape_accuracy_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("tolerance_mm__gt", 0), ("tolerance_mm__lte", 10000000)),
                        name="site_survey_tolerance_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("start_along_mm__gte", -10000000), ("start_along_mm__lte", 10000000)),
                        name="site_survey_start_along_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("start_offset_mm__gte", -10000000), ("start_offset_mm__lte", 10000000)),
                        name="site_survey_start_offset_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("heading_deg__gte", -180), ("heading_deg__lte", 180)),
                        name="site_survey_heading_deg_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("heading_deg__isnull", True),
                                ("start_along_mm__isnull", True),
                                ("start_offset_mm__isnull", True),
                                ("tolerance_mm__isnull", True),
                            ),
                            models.Q(
                                ("heading_deg__isnull", False),
                                ("start_along_mm__isnull", False),
                                ("start_offset_mm__isnull", False),
                                ("tolerance_mm__isnull", False),
                            ),
                            _connector="OR",
                        ),
                        name="site_survey_fit_whole_or_none",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalBaselineOffset",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                (
                    "along_mm",
                    models.DecimalField(
                        decimal_places=6, help_text="Along the baseline from its start.", max_digits=14
                    ),
                ),
                ("offset_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                (
                    "wall",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
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
                "verbose_name": "historical baseline offset",
                "verbose_name_plural": "historical baseline offsets",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="BaselineOffset",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "wall",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="baseline_offsets", to="jobs.wall"
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                (
                    "along_mm",
                    models.DecimalField(
                        decimal_places=6, help_text="Along the baseline from its start.", max_digits=14
                    ),
                ),
                ("offset_mm", models.DecimalField(decimal_places=6, max_digits=14)),
            ],
            options={
                "ordering": ["order", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)),
                        name="baseline_offset_order_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("along_mm__gte", -10000000), ("along_mm__lte", 10000000)),
                        name="baseline_offset_along_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("offset_mm__gte", -10000000), ("offset_mm__lte", 10000000)),
                        name="baseline_offset_offset_mm_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalHeldTemplate",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("name", models.CharField(help_text="What is written on it.", max_length=100)),
                ("shape", models.CharField(help_text="The shape it holds.", max_length=500)),
                ("wall_key", models.CharField(max_length=40)),
                ("line", models.CharField(blank=True, help_text="The run of trim it is for.", max_length=100)),
                ("piece", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("traced_by", models.CharField(max_length=200)),
                ("traced_on", models.DateField()),
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
                "verbose_name": "historical held template",
                "verbose_name_plural": "historical held templates",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="HeldTemplate",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="templates", to="jobs.job"
                    ),
                ),
                ("name", models.CharField(help_text="What is written on it.", max_length=100)),
                ("shape", models.CharField(help_text="The shape it holds.", max_length=500)),
                ("wall_key", models.CharField(max_length=40)),
                ("line", models.CharField(blank=True, help_text="The run of trim it is for.", max_length=100)),
                ("piece", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("traced_by", models.CharField(max_length=200)),
                ("traced_on", models.DateField()),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.UniqueConstraint(
                        models.F("job"), django.db.models.functions.text.Lower("name"), name="template_name_once_a_job"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("name", ""),
                            ("shape", ""),
                            ("wall_key", ""),
                            ("traced_by", ""),
                            _connector="OR",
                            _negated=True,
                        ),
                        name="held_template_name_shape_wall_key_traced_by_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("piece__gte", 1), ("piece__lte", 200)), name="held_template_piece_in_bounds"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalTemplateMove",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("held", "held"),
                            ("sent", "sent to the maker"),
                            ("returned", "back from the maker"),
                            ("lost", "lost"),
                        ],
                        max_length=8,
                    ),
                ),
                ("on", models.DateField()),
                ("by", models.CharField(max_length=200)),
                ("kept_at", models.CharField(blank=True, max_length=200)),
                (
                    "template",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.heldtemplate",
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
                "verbose_name": "historical template move",
                "verbose_name_plural": "historical template moves",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="TemplateMove",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "template",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="moves", to="jobs.heldtemplate"
                    ),
                ),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("held", "held"),
                            ("sent", "sent to the maker"),
                            ("returned", "back from the maker"),
                            ("lost", "lost"),
                        ],
                        max_length=8,
                    ),
                ),
                ("on", models.DateField()),
                ("by", models.CharField(max_length=200)),
                ("kept_at", models.CharField(blank=True, max_length=200)),
            ],
            options={
                "ordering": ["on", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("state__in", ["held", "sent", "returned", "lost"])),
                        name="template_move_state_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("by", ""), _negated=True), name="template_move_by_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("state", "lost"), models.Q(("kept_at", ""), _negated=True), _connector="OR"
                        ),
                        name="template_move_says_where",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalTrimRun",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField()),
                ("name", models.CharField(max_length=100)),
                ("face", models.CharField(choices=[("left", "left"), ("right", "right")], max_length=5)),
                (
                    "position",
                    models.CharField(
                        choices=[
                            ("base", "base"),
                            ("shoe", "shoe"),
                            ("chair", "chair"),
                            ("crown", "crown"),
                            ("cap", "cap"),
                            ("reveal", "reveal"),
                            ("top", "top"),
                        ],
                        max_length=8,
                    ),
                ),
                (
                    "form",
                    models.CharField(
                        choices=[
                            ("stock", "stock"),
                            ("bendable", "bendable"),
                            ("pre_curved", "pre-curved"),
                            ("template", "template"),
                        ],
                        max_length=12,
                    ),
                ),
                (
                    "grade",
                    models.CharField(
                        blank=True, choices=[("paint", "Paint grade"), ("stain", "Stain grade")], max_length=5
                    ),
                ),
                ("application", models.TextField(blank=True)),
                (
                    "foot_mm",
                    models.DecimalField(
                        blank=True, decimal_places=6, help_text="Underside above the floor.", max_digits=14, null=True
                    ),
                ),
                ("returns_mm", models.DecimalField(decimal_places=6, default=0, max_digits=14)),
                ("splices_allowed", models.BooleanField(blank=True, null=True)),
                ("template", models.TextField(blank=True, null=True)),
                ("needs_backing", models.BooleanField(default=False)),
                ("need_by", models.DateField(blank=True, null=True)),
                (
                    "bend",
                    models.CharField(
                        blank=True, choices=[("easy", "Flat against the wall"), ("hard", "On edge")], max_length=4
                    ),
                ),
                (
                    "wall",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="jobs.wall",
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
                "verbose_name": "historical trim run",
                "verbose_name_plural": "historical trim runs",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="TrimRun",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "wall",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="trims", to="jobs.wall"
                    ),
                ),
                ("order", models.PositiveSmallIntegerField()),
                ("name", models.CharField(max_length=100)),
                ("face", models.CharField(choices=[("left", "left"), ("right", "right")], max_length=5)),
                (
                    "position",
                    models.CharField(
                        choices=[
                            ("base", "base"),
                            ("shoe", "shoe"),
                            ("chair", "chair"),
                            ("crown", "crown"),
                            ("cap", "cap"),
                            ("reveal", "reveal"),
                            ("top", "top"),
                        ],
                        max_length=8,
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
                    "form",
                    models.CharField(
                        choices=[
                            ("stock", "stock"),
                            ("bendable", "bendable"),
                            ("pre_curved", "pre-curved"),
                            ("template", "template"),
                        ],
                        max_length=12,
                    ),
                ),
                (
                    "grade",
                    models.CharField(
                        blank=True, choices=[("paint", "Paint grade"), ("stain", "Stain grade")], max_length=5
                    ),
                ),
                ("application", models.TextField(blank=True)),
                (
                    "foot_mm",
                    models.DecimalField(
                        blank=True, decimal_places=6, help_text="Underside above the floor.", max_digits=14, null=True
                    ),
                ),
                ("returns_mm", models.DecimalField(decimal_places=6, default=0, max_digits=14)),
                ("splices_allowed", models.BooleanField(blank=True, null=True)),
                ("template", models.TextField(blank=True, null=True)),
                ("needs_backing", models.BooleanField(default=False)),
                ("need_by", models.DateField(blank=True, null=True)),
                (
                    "bend",
                    models.CharField(
                        blank=True, choices=[("easy", "Flat against the wall"), ("hard", "On edge")], max_length=4
                    ),
                ),
            ],
            options={
                "ordering": ["order", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="trim_run_order_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("name", ""), _negated=True), name="trim_run_name_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("face__in", ["left", "right"])), name="trim_run_face_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("position__in", ["base", "shoe", "chair", "crown", "cap", "reveal", "top"])
                        ),
                        name="trim_run_position_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("form__in", ["stock", "bendable", "pre_curved", "template"])),
                        name="trim_run_form_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("grade__in", ["", "paint", "stain"])), name="trim_run_grade_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("bend__in", ["", "easy", "hard"])), name="trim_run_bend_is_known"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("foot_mm__gte", 0), ("foot_mm__lte", 10000000)),
                        name="trim_run_foot_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("returns_mm__gte", 0), ("returns_mm__lte", 10000000)),
                        name="trim_run_returns_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("splices_allowed__in", [True, False])),
                        name="trim_run_splices_allowed_is_yes_or_no",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("needs_backing__in", [True, False])),
                        name="trim_run_needs_backing_is_yes_or_no",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="WallKitEntry",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "wall",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="kit_entries", to="jobs.wall"
                    ),
                ),
                (
                    "role",
                    models.CharField(
                        choices=[
                            ("framing_screw", "Screws, stud to track"),
                            ("track_fastener", "Fasteners, track to floor and ceiling"),
                            ("board_screw", "Screws, board to stud"),
                            ("tape", "Joint tape"),
                            ("compound", "Joint compound"),
                            ("bead", "Bead at jambs, heads and free ends"),
                            ("bead_fastener", "Fasteners for bead"),
                            ("flexible_bead", "Flexible bead at arches and curved free tops"),
                            ("arch_track", "Track round arched heads"),
                            ("primer", "Primer"),
                            ("paint", "Paint"),
                            ("insulation", "Cavity insulation"),
                            ("backing", "Backing for trim"),
                        ],
                        max_length=30,
                    ),
                ),
                ("order", models.PositiveSmallIntegerField(default=0)),
                (
                    "material",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="catalog.material",
                        to_field="code",
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "wall kit entries",
                "ordering": ["role", "order"],
                "constraints": [
                    models.UniqueConstraint(fields=("wall", "role", "order"), name="wall_kit_entry_place_once"),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "role__in",
                                [
                                    "framing_screw",
                                    "track_fastener",
                                    "board_screw",
                                    "tape",
                                    "compound",
                                    "bead",
                                    "bead_fastener",
                                    "flexible_bead",
                                    "arch_track",
                                    "primer",
                                    "paint",
                                    "insulation",
                                    "backing",
                                ],
                            )
                        ),
                        name="wall_kit_entry_role_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)),
                        name="wall_kit_entry_order_in_bounds",
                    ),
                ],
            },
        ),
    ]
