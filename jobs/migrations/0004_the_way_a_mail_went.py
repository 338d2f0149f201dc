from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0003_order_days_counted_anew"),
    ]

    operations = [
        migrations.AddField(
            model_name="ordermail",
            name="went_by",
            field=models.CharField(
                blank=True,
                choices=[
                    ("server", "Handed to the mail server"),
                    ("folder", "Kept in the mail folder"),
                    ("log", "Written to the log"),
                ],
                default="",
                help_text="How it went when it was sent; empty before that, and for mails of before this was noted.",
                max_length=6,
            ),
        ),
        migrations.AddConstraint(
            model_name="ordermail",
            constraint=models.CheckConstraint(
                condition=models.Q(("went_by__in", ["", "server", "folder", "log"])), name="order_mail_went_by_is_known"
            ),
        ),
    ]
