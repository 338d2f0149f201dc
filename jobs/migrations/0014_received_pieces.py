import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0013_stock"),
    ]

    operations = [
        migrations.CreateModel(
            name="ReceivedPiece",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("number", models.PositiveSmallIntegerField()),
                (
                    "state",
                    models.CharField(
                        choices=[("good", "good"), ("damaged", "damaged"), ("wrong", "wrong")], max_length=7
                    ),
                ),
                (
                    "receipt",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="pieces", to="jobs.receiptline"
                    ),
                ),
            ],
            options={
                "ordering": ["receipt", "number"],
                "constraints": [
                    models.UniqueConstraint(fields=("receipt", "number"), name="received_piece_once_a_receipt"),
                    models.CheckConstraint(
                        condition=models.Q(("number__gte", 1), ("number__lte", 10000)),
                        name="received_piece_number_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("state__in", ["good", "damaged", "wrong"])),
                        name="received_piece_state_is_known",
                    ),
                ],
            },
        ),
    ]
