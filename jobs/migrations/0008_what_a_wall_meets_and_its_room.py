import django.db.models.deletion
import simple_history.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("catalog", "0006_sources_and_framing_standards"),
        ("jobs", "0007_more_than_wanted"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="HistoricalRoomTie",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("first", models.CharField(max_length=100)),
                ("second", models.CharField(max_length=100)),
                (
                    "apart_mm",
                    models.DecimalField(decimal_places=6, help_text="Between the two fixed points.", max_digits=14),
                ),
                ("first_to_start_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("second_to_start_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("first_to_point_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("second_to_point_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                (
                    "joint",
                    models.PositiveSmallIntegerField(
                        blank=True, help_text="The second point; nothing for the end.", null=True
                    ),
                ),
                ("side", models.CharField(choices=[("left", "left"), ("right", "right")], max_length=5)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
                ),
            ],
            options={
                "verbose_name": "historical room tie",
                "verbose_name_plural": "historical room ties",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="RoomTie",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("first", models.CharField(max_length=100)),
                ("second", models.CharField(max_length=100)),
                (
                    "apart_mm",
                    models.DecimalField(decimal_places=6, help_text="Between the two fixed points.", max_digits=14),
                ),
                ("first_to_start_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("second_to_start_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("first_to_point_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("second_to_point_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                (
                    "joint",
                    models.PositiveSmallIntegerField(
                        blank=True, help_text="The second point; nothing for the end.", null=True
                    ),
                ),
                ("side", models.CharField(choices=[("left", "left"), ("right", "right")], max_length=5)),
            ],
        ),
        migrations.RemoveConstraint(
            model_name="wall",
            name="wall_top_is_known",
        ),
        migrations.RemoveConstraint(
            model_name="wall",
            name="wall_start_end_is_known",
        ),
        migrations.RemoveConstraint(
            model_name="wall",
            name="wall_end_end_is_known",
        ),
        migrations.AlterField(
            model_name="historicalwall",
            name="end_end",
            field=models.CharField(
                choices=[("free", "free"), ("meets", "meets"), ("column", "column")], default="free", max_length=6
            ),
        ),
        migrations.AlterField(
            model_name="historicalwall",
            name="start_end",
            field=models.CharField(
                choices=[("free", "free"), ("meets", "meets"), ("column", "column")], default="free", max_length=6
            ),
        ),
        migrations.AlterField(
            model_name="historicalwall",
            name="top",
            field=models.CharField(
                choices=[("ceiling", "ceiling"), ("deck", "deck"), ("free", "free")], default="ceiling", max_length=7
            ),
        ),
        migrations.AlterField(
            model_name="wall",
            name="end_end",
            field=models.CharField(
                choices=[("free", "free"), ("meets", "meets"), ("column", "column")], default="free", max_length=6
            ),
        ),
        migrations.AlterField(
            model_name="wall",
            name="start_end",
            field=models.CharField(
                choices=[("free", "free"), ("meets", "meets"), ("column", "column")], default="free", max_length=6
            ),
        ),
        migrations.AlterField(
            model_name="wall",
            name="top",
            field=models.CharField(
                choices=[("ceiling", "ceiling"), ("deck", "deck"), ("free", "free")], default="ceiling", max_length=7
            ),
        ),
        migrations.AddConstraint(
            model_name="wall",
            constraint=models.CheckConstraint(
                condition=models.Q(("top__in", ["ceiling", "deck", "free"])), name="wall_top_is_known"
            ),
        ),
        migrations.AddConstraint(
            model_name="wall",
            constraint=models.CheckConstraint(
                condition=models.Q(("start_end__in", ["free", "meets", "column"])), name="wall_start_end_is_known"
            ),
        ),
        migrations.AddConstraint(
            model_name="wall",
            constraint=models.CheckConstraint(
                condition=models.Q(("end_end__in", ["free", "meets", "column"])), name="wall_end_end_is_known"
            ),
        ),
        migrations.AddField(
            model_name="historicalroomtie",
            name="history_user",
            field=models.ForeignKey(
                null=True, on_delete=django.db.models.deletion.SET_NULL, related_name="+", to=settings.AUTH_USER_MODEL
            ),
        ),
        migrations.AddField(
            model_name="historicalroomtie",
            name="wall",
            field=models.ForeignKey(
                blank=True,
                db_constraint=False,
                null=True,
                on_delete=django.db.models.deletion.DO_NOTHING,
                related_name="+",
                to="jobs.wall",
            ),
        ),
        migrations.AddField(
            model_name="roomtie",
            name="wall",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.CASCADE, related_name="room_ties", to="jobs.wall"
            ),
        ),
        migrations.AddConstraint(
            model_name="roomtie",
            constraint=models.UniqueConstraint(fields=("wall",), name="room_tie_once_a_wall"),
        ),
        migrations.AddConstraint(
            model_name="roomtie",
            constraint=models.CheckConstraint(
                condition=models.Q(("first", ""), ("second", ""), _connector="OR", _negated=True),
                name="room_tie_first_second_stated",
            ),
        ),
        migrations.AddConstraint(
            model_name="roomtie",
            constraint=models.CheckConstraint(
                condition=models.Q(("apart_mm__gt", 0), ("apart_mm__lte", 10000000)), name="room_tie_apart_mm_in_bounds"
            ),
        ),
        migrations.AddConstraint(
            model_name="roomtie",
            constraint=models.CheckConstraint(
                condition=models.Q(("first_to_start_mm__gte", 0), ("first_to_start_mm__lte", 10000000)),
                name="room_tie_first_to_start_mm_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="roomtie",
            constraint=models.CheckConstraint(
                condition=models.Q(("second_to_start_mm__gte", 0), ("second_to_start_mm__lte", 10000000)),
                name="room_tie_second_to_start_mm_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="roomtie",
            constraint=models.CheckConstraint(
                condition=models.Q(("first_to_point_mm__gte", 0), ("first_to_point_mm__lte", 10000000)),
                name="room_tie_first_to_point_mm_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="roomtie",
            constraint=models.CheckConstraint(
                condition=models.Q(("second_to_point_mm__gte", 0), ("second_to_point_mm__lte", 10000000)),
                name="room_tie_second_to_point_mm_in_bounds",
            ),
        ),
        migrations.AddConstraint(
            model_name="roomtie",
            constraint=models.CheckConstraint(
                condition=models.Q(("joint__gte", 1), ("joint__lte", 199)), name="room_tie_joint_in_bounds"
            ),
        ),
        migrations.AddConstraint(
            model_name="roomtie",
            constraint=models.CheckConstraint(
                condition=models.Q(("side__in", ["left", "right"])), name="room_tie_side_is_known"
            ),
        ),
    ]
