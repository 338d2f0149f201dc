from django.db import migrations, models
from django.db.models import F
from django.db.models.functions import Now


def tell_calendars(apps, schema_editor):
    """Events of signed jobs stay as they are; of the others calendars are told that they have changed."""
    events = apps.get_model("quoting", "FeedEvent").objects
    accepted = apps.get_model("quoting", "QuoteRevision").objects.filter(state="accepted")
    of_signed = events.filter(job__in=accepted.values("quote__job"))
    of_signed.update(signed=True)
    events.filter(signed=False, cancelled=False).update(sequence=F("sequence") + 1, modified_at=Now())


class Migration(migrations.Migration):
    dependencies = [
        ("quoting", "0007_the_way_a_mail_went"),
    ]

    operations = [
        migrations.AddField(
            model_name="feedevent",
            name="signed",
            field=models.BooleanField(
                default=False, help_text="Whether its job was signed when it was last given out."
            ),
        ),
        migrations.AddConstraint(
            model_name="feedevent",
            constraint=models.CheckConstraint(
                condition=models.Q(("signed__in", [True, False])), name="feed_event_signed_is_yes_or_no"
            ),
        ),
        migrations.RunPython(tell_calendars, migrations.RunPython.noop),
    ]
