"""The firm itself: its particulars, and the kit a wall is built with where it does not say."""

from collections.abc import Callable
from http import HTTPStatus

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from catalog.core.materials.specs import ROLES, ROLES_OF_SEVERAL
from catalog.models import Firm
from catalog.pages.firm_forms import FirmForm, KitForm, firm_entry
from catalog.services import firm as service
from catalog.services.book import kit_of
from quoting.platform.pages.entry_form import EntryForm, entry_page, saved_words
from quoting.platform.pages.stored_values import Stored, hold


def firm(request: HttpRequest) -> HttpResponse:
    row = Firm.objects.first()
    return render(request, "catalog/firm.html", {"row": row}) if row else redirect("firm_change")


def firm_change(request: HttpRequest) -> HttpResponse:
    hold(Firm.objects.all())
    row = Firm.objects.first()
    stored = Stored(firm_entry(row), row, request.path) if row else None
    form = FirmForm(request.POST or None, initial=firm_entry(row), stored=stored)
    says = () if row else ("Every date, figure and paper needs to know these. All of it can be changed later.",)
    heading = "Change the firm's particulars" if row else "Enter the firm"
    saved = save_of_the_firm(
        request, form, lambda: service.save_firm(form.changes()), heading=heading, says=says, to="firm" if row else ""
    )
    # A new firm goes on to its next step.
    return saved if row or saved.status_code != HTTPStatus.FOUND else redirect("today")


def firm_kit(request: HttpRequest) -> HttpResponse:
    hold(Firm.objects.all())
    kit = kit_of()
    stored = {role: list(kit[role]) if role in ROLES_OF_SEVERAL else kit[role][0] for role in kit}
    form = KitForm(
        request.POST or None, initial=stored, stored=Stored(dict.fromkeys(ROLES) | stored, None, request.path)
    )
    return save_of_the_firm(
        request,
        form,
        lambda: service.set_kit(form.entries()),
        heading="The kit",
        template="catalog/kit.html",
        to="firm_kit",
    )


def save_of_the_firm(
    request: HttpRequest, form: EntryForm, save: Callable[[], object], *, to: str, **context: object
) -> HttpResponse:
    """Saved and back to the page named, or shown with what is wrong. to: empty where there is no way back."""
    if form.saves(save):
        messages.success(request, saved_words("the firm", form))
        return redirect(to or "firm")
    back = {"back": reverse(to), "back_label": "Back"} if to else {}
    return entry_page(request, form, **{**back, **context})  # type: ignore[arg-type]
