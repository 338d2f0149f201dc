from django.db import migrations, models


def work_jobs_up_again(apps, schema_editor):
    """Calendars hold what was ordered and came long ago; with each job worked up again, its events follow its orders."""
    jobs = apps.get_model("jobs", "WorkedJob").objects
    jobs.filter(catalog_changes__gt=0).update(catalog_changes=0, basis="")


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0005_job_items"),
        ("quoting", "0009_brought_in_with_a_file"),
    ]

    operations = [
        migrations.RemoveConstraint(
            model_name="feedevent",
            name="feed_event_kind_is_known",
        ),
        migrations.AddField(
            model_name="feedevent",
            name="members",
            field=models.JSONField(default=list),
        ),
        migrations.AlterField(
            model_name="feedevent",
            name="kind",
            field=models.CharField(
                choices=[
                    ("decide", "Decide"),
                    ("order", "Order"),
                    ("delivery", "Delivery expected"),
                    ("need", "On site"),
                    ("activity", "Activity"),
                ],
                max_length=8,
            ),
        ),
        migrations.AddConstraint(
            model_name="feedevent",
            constraint=models.CheckConstraint(
                condition=models.Q(("kind__in", ["decide", "order", "delivery", "need", "activity"])),
                name="feed_event_kind_is_known",
            ),
        ),
        migrations.RunPython(work_jobs_up_again, migrations.RunPython.noop),
    ]
