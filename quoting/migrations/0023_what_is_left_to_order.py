from django.db import migrations


def as_lives_say(apps, schema_editor):
    """The life of each job names what of it is left to order; all else of it that is wanted stands on an order."""
    needs = apps.get_model("jobs", "StoredNeed").objects.exclude(quantity=0)
    lives = apps.get_model("quoting", "KeptLife").objects.exclude(facts={})
    for job_id, facts in lives.values_list("job_id", "facts").iterator():
        left = [item["material"] for item in facts.get("to_order", ())]
        needs.filter(job=job_id).exclude(material__in=left).update(to_order=False)


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0025_kept_for_lists"),
        ("quoting", "0022_what_is_next_in_calendars"),
    ]

    operations = [migrations.RunPython(as_lives_say, migrations.RunPython.noop, elidable=True)]
