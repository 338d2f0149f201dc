"""The sentences of the firm's usual pricing become standing sentences, and each job keeps the quote it had."""

from django.db import migrations

# Long before any quote: a sentence that was there holds for every day.
FIRST_DAY = "2000-01-01"


def usual_to_standing(apps, schema_editor):
    Pricing, Text = (apps.get_model("quoting", name) for name in ("Pricing", "QuoteText"))
    Standing, LeftOut = (apps.get_model("quoting", name) for name in ("StandardText", "TextLeftOut"))
    usual = Pricing.objects.filter(job=None).first()
    if usual is None:
        return
    keys, places = {}, {}
    for text in Text.objects.filter(pricing=usual).order_by("block", "order", "pk"):
        if (text.block, text.text) in keys:
            continue
        place = places[text.block] = places.get(text.block, 0) + 1
        row = Standing.objects.create(
            key=f"{text.block}-{place}", block=text.block, order=place - 1, text=text.text, starts_on=FIRST_DAY
        )
        keys[text.block, text.text] = row.key
    for pricing in Pricing.objects.exclude(pk=usual.pk):
        said = set(Text.objects.filter(pricing=pricing).values_list("block", "text"))
        gone = [key for text, key in keys.items() if text not in said]
        LeftOut.objects.bulk_create(LeftOut(pricing=pricing, order=n, key=key) for n, key in enumerate(gone))
    Text.objects.filter(pricing=usual).delete()


def standing_to_usual(apps, schema_editor):
    Pricing, Text = (apps.get_model("quoting", name) for name in ("Pricing", "QuoteText"))
    usual = Pricing.objects.filter(job=None).first()
    if usual is None:
        return
    blocks = ("inclusions", "exclusions", "assumptions", "cautions", "terms")
    for row in apps.get_model("quoting", "StandardText").objects.filter(block__in=blocks):
        Text.objects.create(pricing=usual, block=row.block, order=row.order, text=row.text)


class Migration(migrations.Migration):
    dependencies = [("quoting", "0008_texts_notices_changes")]

    operations = [migrations.RunPython(usual_to_standing, standing_to_usual)]
