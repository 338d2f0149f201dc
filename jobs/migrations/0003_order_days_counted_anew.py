from django.db import migrations


def count_order_days_anew(apps, schema_editor):
    """Rows hold order-by days counted back alone: dated by no catalog there is, they are counted again within a minute."""
    apps.get_model("jobs", "WorkedJob").objects.filter(catalog_changes__gt=0).update(catalog_changes=0)


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0002_needs_orders_and_deliveries"),
    ]

    operations = [
        migrations.RunPython(count_order_days_anew, migrations.RunPython.noop),
    ]
