"""The firm's standing sentences: in force, to come, ended; a new wording from a day on; an end."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError, Reader
from quoting.core.quotes.firm_texts import BLOCKS, HEADINGS
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.entry_form import EntryForm, day, entry_page, pick
from quoting.platform.pages.entry_form import text as line
from quoting.platform.pages.stored_values import Stored, hold
from quoting.platform.people import access
from quoting.platform.screen_days import day_words
from quoting.texts.models import NoticePack, NoticePlace, StandardText
from quoting.texts.models.firm_texts import BLOCK_CHOICES
from quoting.texts.services import firm_texts as service

FROM_HINT = "Quotes issued on this day or later say it; those issued before keep what they said."


class SentenceForm(EntryForm):
    block = pick("Where it stands", BLOCK_CHOICES)
    text = line("Sentence", rows=3)
    starts_on = day("In force from", FROM_HINT)
    ends_on = day("To, the last day", "Empty while it holds on.")


class WordingForm(EntryForm):
    text = line("Sentence", rows=3)
    starts_on = day("In force from", FROM_HINT)
    ends_on = day("To, the last day", "Empty while it holds on.")


def firm_texts(request: HttpRequest) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    rows = list(StandardText.objects.all())
    in_force = {(text.key, text.starts_on) for text in service.firm_texts_of().in_force(today)}
    standing = [row for row in rows if (row.key, row.starts_on) in in_force]
    context = {
        "today": today,
        "blocks": [(block, HEADINGS[block], [row for row in standing if row.block == block]) for block in BLOCKS],
        "to_come": [row for row in rows if row.starts_on > today],
        "past": [row for row in rows if row.starts_on <= today and row not in standing],
        "notices": NoticePack.objects.select_related("place"),
        "places": NoticePlace.objects.all(),
        "editable": access.is_allowed(access.role_of(request.user), "standard_text_add", "POST"),
    }
    return render(request, "texts/texts.html", context)


def standard_text_add(request: HttpRequest) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    initial = {"block": request.GET.get("block", "inclusions"), "starts_on": today}
    form = SentenceForm(request.POST or None, initial=initial)
    return _save(request, form, {}, "A standing sentence")


def standard_text(request: HttpRequest, key: str) -> HttpResponse:
    hold(StandardText.objects.filter(key=key))
    row = StandardText.objects.filter(key=key).order_by("-starts_on").first()
    if row is None:
        raise Http404("The firm has no such sentence.")
    today = day_at_the_firm(clock.now())
    initial = {"text": row.text, "starts_on": max(today, row.starts_on)}
    text = {name: getattr(row, name) for name in WordingForm.base_fields}
    form = WordingForm(request.POST or None, initial=initial, stored=Stored(text, row, request.path))
    says = (f"{row.get_block_display()}. A wording that starts later takes its place from that day on.",)
    return _save(request, form, {"key": key, "block": row.block}, "A new wording", says)


def standard_text_end(request: HttpRequest, key: str) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    try:
        reader = Reader({"last_day": request.POST.get("last_day") or today.isoformat()})
        last_day = reader.day("last_day")
    except DocumentError as error:
        messages.error(request, str(error.complaints[0].reason))
        return redirect("firm_texts")
    if not service.end_standard_text(key, last_day):
        raise Http404("No wording of this sentence is in force on that day.")
    messages.success(request, f"The sentence ends with {day_words(last_day)}. Quotes issued already keep it.")
    return redirect("firm_texts")


def standard_text_remove(request: HttpRequest, text_id: int) -> HttpResponse:
    if not service.remove_standard_text(text_id):
        raise Http404("There is no such wording.")
    messages.success(request, "The wording is taken away. Quotes issued already keep it.")
    return redirect("firm_texts")


def _save(
    request: HttpRequest, form: EntryForm, fixed: dict[str, Any], heading: str, says: tuple[str, ...] = ()
) -> HttpResponse:
    if request.method == "POST" and form.is_valid():
        try:
            service.set_standard_text(form.entries() | fixed)
        except DocumentError as error:
            form.complain(error)
        else:
            messages.success(request, "The sentence is kept.")
            return redirect("firm_texts")
    back = {"back": reverse("firm_texts"), "back_label": "The firm's texts"}
    return entry_page(request, form, heading=heading, says=says, **back)
