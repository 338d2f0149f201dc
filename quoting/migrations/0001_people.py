import django.utils.timezone
from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("auth", "0012_alter_user_first_name_max_length"),
    ]

    operations = [
        migrations.CreateModel(
            name="Person",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("password", models.CharField(max_length=128, verbose_name="password")),
                ("last_login", models.DateTimeField(blank=True, null=True, verbose_name="last login")),
                (
                    "login_name",
                    models.SlugField(
                        error_messages={"unique": "Someone already logs in with this name; choose another."},
                        help_text="Letters, digits, hyphens and underscores.",
                        max_length=60,
                        unique=True,
                        verbose_name="log-in name",
                    ),
                ),
                ("full_name", models.CharField(max_length=120)),
                (
                    "role",
                    models.CharField(
                        choices=[
                            ("estimator", "Estimator"),
                            ("office", "Office"),
                            ("lead", "Lead carpenter"),
                            ("owner", "Owner"),
                        ],
                        max_length=12,
                    ),
                ),
                ("is_active", models.BooleanField(default=True, verbose_name="may log in")),
                ("joined_at", models.DateTimeField(default=django.utils.timezone.now, editable=False)),
            ],
            options={
                "verbose_name_plural": "people",
                "ordering": ["full_name", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("role__in", ["estimator", "office", "lead", "owner"])),
                        name="person_role_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("login_name", ""), _negated=True), name="person_has_a_login_name"
                    ),
                ],
            },
        ),
    ]
