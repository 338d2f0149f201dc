"""Notices by place, language and version, as the firm enters them on its adviser's word."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from quoting.core.quotes import firm_texts as core
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.declared_fields import form_of
from quoting.platform.pages.entry_form import EntryForm, entry_page
from quoting.platform.pages.stored_values import Stored, hold
from quoting.platform.people import access
from quoting.texts.models import NoticePack, NoticePlace
from quoting.texts.services import firm_texts as service

OF_A_VERSION = ("language", "version", "title", "text", "source", "starts_on", "ends_on")
NoticeForm = form_of(core.NoticePack, "place", *OF_A_VERSION)
KEEPS = "Quotes issued already keep it. Those issued from now on do not carry this version."


def notices(request: HttpRequest) -> HttpResponse:
    context = {
        "notices": NoticePack.objects.select_related("place"),
        "places": NoticePlace.objects.all(),
        "editable": access.is_allowed(access.role_of(request.user), "notice_add", "POST"),
    }
    return render(request, "texts/notices.html", context)


def notice_add(request: HttpRequest) -> HttpResponse:
    initial = {"language": "en", "starts_on": day_at_the_firm(clock.now())}
    return _save(request, NoticeForm(request.POST or None, initial=initial), heading="A notice")


def notice(request: HttpRequest, notice_id: int) -> HttpResponse:
    """A correction when the first day stays, a new version when it is another."""
    hold(NoticePack.objects.filter(pk=notice_id))
    row = get_object_or_404(NoticePack.objects.select_related("place"), pk=notice_id)
    document = {"place": row.place.name, **{name: getattr(row, name) for name in OF_A_VERSION}}
    form = NoticeForm(request.POST or None, stored=Stored(document, row, request.path))
    return _save(request, form, heading=str(row), remove=reverse("notice_remove", args=[row.pk]), remove_says=KEEPS)


def notice_remove(request: HttpRequest, notice_id: int) -> HttpResponse:
    if not service.remove_notice(notice_id):
        raise Http404("There is no such notice.")
    messages.success(request, "Notice deleted. Quotes already issued keep it.")
    return redirect("notices")


def notice_place_set(request: HttpRequest) -> HttpResponse:
    document = {"name": request.POST.get("name", ""), "requires_notice": bool(request.POST.get("requires_notice"))}
    try:
        row = service.set_notice_place(document)
    except DocumentError as error:
        messages.error(request, f"Place {error.complaints[0].reason}.")
    else:
        message = "no quote goes out without its notice" if row.requires_notice else "a notice is not required"
        messages.success(request, f"{row}: {message}.")
    return redirect("notices")


def notice_place_remove(request: HttpRequest, place_id: int) -> HttpResponse:
    try:
        if not service.remove_notice_place(place_id):
            raise Http404("There is no such place.")
    except DocumentError as error:
        messages.error(request, f"{error.complaints[0].reason}.")
    else:
        messages.success(request, "Place deleted.")
    return redirect("notices")


def _save(request: HttpRequest, form: EntryForm, **context: str) -> HttpResponse:
    if form.saves(lambda: service.set_notice(form.entries())):
        messages.success(request, "The notice is saved.")
        return redirect("notices")
    says = ("Which notice a place asks for, and in which words, is for your own adviser to say.",)
    return entry_page(request, form, says=says, back=reverse("notices"), back_label="Notices", **context)
