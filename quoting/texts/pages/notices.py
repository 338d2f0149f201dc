"""Notices by place, language and version, as the firm enters them on its adviser's word."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.entry_form import EntryForm, day, entry_page
from quoting.platform.pages.entry_form import text as line
from quoting.platform.pages.stored_values import Stored, hold
from quoting.texts.models import NoticePack
from quoting.texts.services import firm_texts as service

SAYS = (
    "Which notice a place asks for, and in which words, is for the firm's own adviser to say: none is given here.",
    "A quote keeps the version in force on the day it is issued.",
)


class NoticePackForm(EntryForm):
    place = line("Place", "As the firm calls it; a new one is added to the places.", longest=100)
    language = line("Language", "Its tag, such as en or fr-CA.", longest=40)
    version = line("Version", "Your name for this wording.", longest=60)
    title = line("Heading", longest=200)
    text = line("Notice", "An empty line parts paragraphs.", rows=12, longest=20_000)
    source = line("Who gave the wording, and when", longest=2000)
    starts_on = day("In force from")
    ends_on = day("To, the last day", "Empty while it holds on.")


def notice_add(request: HttpRequest) -> HttpResponse:
    initial = {"language": "en", "starts_on": day_at_the_firm(clock.now())}
    return _save(request, NoticePackForm(request.POST or None, initial=initial), "A notice")


def notice(request: HttpRequest, notice_id: int) -> HttpResponse:
    """A correction when the first day stays, a new version when it is another."""
    hold(NoticePack.objects.filter(pk=notice_id))
    row = get_object_or_404(NoticePack.objects.select_related("place"), pk=notice_id)
    names = ("language", "version", "title", "text", "source", "starts_on", "ends_on")
    document = {"place": row.place.name, **{name: getattr(row, name) for name in names}}
    form = NoticePackForm(request.POST or None, stored=Stored(document, row, request.path))
    removal = {
        "remove": reverse("notice_remove", args=[row.pk]),
        "remove_says": "Quotes issued already keep it. Those issued from now on do not carry this version.",
    }
    return _save(request, form, str(row), removal)


def notice_remove(request: HttpRequest, notice_id: int) -> HttpResponse:
    if not service.remove_notice(notice_id):
        raise Http404("There is no such notice.")
    messages.success(request, "The notice is taken away. Quotes issued already keep it.")
    return redirect("firm_texts")


def notice_place_set(request: HttpRequest) -> HttpResponse:
    document = {"name": request.POST.get("name", ""), "requires_notice": bool(request.POST.get("requires_notice"))}
    try:
        row = service.set_notice_place(document)
    except DocumentError as error:
        messages.error(request, f"Place {error.complaints[0].reason}.")
    else:
        message = "no quote goes out without its notice" if row.requires_notice else "a notice is not required"
        messages.success(request, f"{row}: {message}.")
    return redirect("firm_texts")


def notice_place_remove(request: HttpRequest, place_id: int) -> HttpResponse:
    try:
        if not service.remove_notice_place(place_id):
            raise Http404("There is no such place.")
    except DocumentError as error:
        messages.error(request, f"{error.complaints[0].reason}.")
    else:
        messages.success(request, "The place is taken away.")
    return redirect("firm_texts")


def _save(
    request: HttpRequest, form: NoticePackForm, heading: str, removal: dict[str, str] | None = None
) -> HttpResponse:
    if request.method == "POST" and form.is_valid():
        try:
            service.set_notice(form.entries())
        except DocumentError as error:
            form.complain(error)
        else:
            messages.success(request, "The notice is kept.")
            return redirect("firm_texts")
    back = {"back": reverse("firm_texts"), "back_label": "The firm's texts"}
    return entry_page(request, form, heading=heading, says=SAYS, **back, **(removal or {}))
