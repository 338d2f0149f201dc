"""The firm's standing sentences: in force, to come, ended; a new wording from a day on; an end."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from quoting.core.quotes import firm_texts as core
from quoting.core.quotes.firm_texts import BLOCKS, HEADINGS
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.declared_fields import form_of
from quoting.platform.pages.entry_form import EntryForm, entry_page
from quoting.platform.pages.stored_values import Stored, hold
from quoting.platform.people import access
from quoting.platform.screen_days import day_words
from quoting.texts.models import StandardText
from quoting.texts.models.firm_texts import BLOCK_CHOICES
from quoting.texts.services import firm_texts as service

WORDING = ("text", "starts_on", "ends_on")
SentenceForm = form_of(core.StandardText, "block", *WORDING, words={"block": dict(BLOCK_CHOICES)})
WordingForm = form_of(core.StandardText, *WORDING)


def firm_texts(request: HttpRequest) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    rows = list(StandardText.objects.all())
    in_force = {(text.key, text.starts_on) for text in service.firm_texts_of().in_force(today)}
    standing = [row for row in rows if (row.key, row.starts_on) in in_force]
    blocks = [(block, HEADINGS[block], [row for row in standing if row.block == block]) for block in BLOCKS]
    context = {
        "blocks": [block for block in blocks if block[2]],
        "empty": [(block, heading) for block, heading, those in blocks if not those],
        "count": len(standing),
        "to_come": [row for row in rows if row.starts_on > today],
        "past": [row for row in rows if row.starts_on <= today and row not in standing],
        "editable": access.is_allowed(access.role_of(request.user), "standard_text_add", "POST"),
    }
    return render(request, "texts/texts.html", context)


def standard_text_add(request: HttpRequest) -> HttpResponse:
    initial = {"block": request.GET.get("block", "inclusions"), "starts_on": day_at_the_firm(clock.now())}
    return _save(request, SentenceForm(request.POST or None, initial=initial), {}, "A standing sentence")


def standard_text(request: HttpRequest, key: str) -> HttpResponse:
    hold(StandardText.objects.filter(key=key))
    row = StandardText.objects.filter(key=key).order_by("-starts_on").first()
    if row is None:
        raise Http404("The firm has no such sentence.")
    initial = {"text": row.text, "starts_on": max(day_at_the_firm(clock.now()), row.starts_on)}
    stored = Stored({name: getattr(row, name) for name in WORDING}, row, request.path)
    form = WordingForm(request.POST or None, initial=initial, stored=stored)
    says = (f"{row.get_block_display()}. A wording that starts later takes its place from that day on.",)
    return _save(request, form, {"key": key, "block": row.block}, "A new wording", says)


def standard_text_end(request: HttpRequest, key: str) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    if not service.end_standard_text(key, today):
        raise Http404("No wording of this sentence is in force today.")
    messages.success(request, f"The sentence ends with {day_words(today)}. Quotes issued already keep it.")
    return redirect("firm_texts")


def standard_text_remove(request: HttpRequest, text_id: int) -> HttpResponse:
    if not service.remove_standard_text(text_id):
        raise Http404("There is no such wording.")
    messages.success(request, "Wording deleted. Quotes already issued keep it.")
    return redirect("firm_texts")


def _save(
    request: HttpRequest, form: EntryForm, fixed: dict[str, Any], heading: str, says: tuple[str, ...] = ()
) -> HttpResponse:
    if form.saves(lambda: service.set_standard_text(form.entries() | fixed)):
        messages.success(request, "The sentence is saved.")
        return redirect("firm_texts")
    return entry_page(request, form, heading=heading, says=says, back=reverse("firm_texts"), back_label="Words")
