import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("quoting", "0004_taking_back_alerts_and_order_sheets"),
    ]

    operations = [
        migrations.CreateModel(
            name="GuessCount",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("digest", models.CharField(editable=False, max_length=64)),
                ("ends_at", models.DateTimeField()),
                ("count", models.PositiveIntegerField(default=0)),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(fields=("digest", "ends_at"), name="guess_count_once_a_limit"),
                    models.CheckConstraint(
                        condition=models.Q(("digest__regex", "^[0-9a-f]{64}$")), name="guess_count_digest_is_sha256"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("count__gte", 0), ("count__lte", 1000000)),
                        name="guess_count_count_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="KnownPlace",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("digest", models.CharField(editable=False, max_length=64)),
                ("used_at", models.DateTimeField()),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="known_places",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(fields=("person", "digest"), name="known_place_once_a_person"),
                    models.CheckConstraint(
                        condition=models.Q(("digest__regex", "^[0-9a-f]{64}$")), name="known_place_digest_is_sha256"
                    ),
                ],
            },
        ),
        migrations.AddField(
            model_name="person",
            name="times_logged_out",
            field=models.PositiveIntegerField(default=0, editable=False, verbose_name="times logged out everywhere"),
        ),
        migrations.AddConstraint(
            model_name="person",
            constraint=models.CheckConstraint(
                condition=models.Q(("times_logged_out__gte", 0), ("times_logged_out__lte", 1000000000)),
                name="person_times_logged_out_in_bounds",
            ),
        ),
    ]
