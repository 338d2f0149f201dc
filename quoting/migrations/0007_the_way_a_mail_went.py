from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("quoting", "0006_sent_forms"),
    ]

    operations = [
        migrations.AddField(
            model_name="alertmail",
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
        migrations.AddField(
            model_name="quotemail",
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
        migrations.AddField(
            model_name="weeklymail",
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
            model_name="alertmail",
            constraint=models.CheckConstraint(
                condition=models.Q(("went_by__in", ["", "server", "folder", "log"])), name="alert_mail_went_by_is_known"
            ),
        ),
        migrations.AddConstraint(
            model_name="quotemail",
            constraint=models.CheckConstraint(
                condition=models.Q(("went_by__in", ["", "server", "folder", "log"])), name="quote_mail_went_by_is_known"
            ),
        ),
        migrations.AddConstraint(
            model_name="weeklymail",
            constraint=models.CheckConstraint(
                condition=models.Q(("went_by__in", ["", "server", "folder", "log"])),
                name="weekly_mail_went_by_is_known",
            ),
        ),
    ]
