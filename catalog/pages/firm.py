"""The firm itself: particulars, calendar, kit, standards with their sources."""

from collections.abc import Callable
from http import HTTPStatus

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.materials.specs import ROLES
from catalog.core.materials.standards import STANDARD_SPECS
from catalog.models import Closure, Firm, Material, Standard
from catalog.models.facts import SURENESS_LABELS
from catalog.pages.closures import ClosureForm
from catalog.pages.firm_forms import FirmForm, KitForm, firm_entry, spacing_rows, step_words
from catalog.pages.material_forms import FigureForm
from catalog.pages.material_parts import BECOMES_A_GAP
from catalog.pages.words import bare_unit_of, bare_unit_words, standard_rows, system_of
from catalog.services import firm as service
from catalog.services.book import kit_of, standards_of
from catalog.services.suppliers import add_closure, remove_closure
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.entry_form import EntryForm, entry_page, saved_words, sentence
from quoting.platform.pages.stored_values import Stored, hold


def firm(request: HttpRequest) -> HttpResponse:
    if not Firm.objects.exists():
        return redirect("firm_change")
    return _firm_page(request, ClosureForm())


def firm_change(request: HttpRequest) -> HttpResponse:
    hold(Firm.objects.all())
    row = Firm.objects.first()
    stored = Stored(firm_entry(row), row, request.path) if row else None
    form = FirmForm(request.POST or None, initial=firm_entry(row), stored=stored)
    says = () if row else ("Every date, figure and paper needs to know these. All of it can be changed later.",)
    heading = "Change the firm's particulars" if row else "Enter the firm"
    saved = _save(request, form, lambda: service.save_firm(form.changes()), heading, says, back=bool(row))
    # A new firm goes on to its next step, not to a page of standards that stand well as they are.
    return saved if row or saved.status_code != HTTPStatus.FOUND else redirect("today")


def firm_closure_add(request: HttpRequest) -> HttpResponse:
    form = ClosureForm(request.POST)
    if form.saves(lambda: add_closure(form.entries())):
        messages.success(request, "The closed days are entered; order dates follow them at once.")
        return redirect("firm")
    return _firm_page(request, form) if Firm.objects.exists() else redirect("firm_change")


def firm_closure_remove(request: HttpRequest, closure_id: int) -> HttpResponse:
    if not remove_closure(closure_id):
        raise Http404("The firm has no such closed days.")
    messages.success(request, "The closed days are taken away.")
    return redirect("firm")


def firm_kit(request: HttpRequest) -> HttpResponse:
    hold(Firm.objects.all())
    offered = KitForm.offered(kit_of())
    stored = Stored({role: offered.get(role) for role in ROLES}, address=request.path)
    form = KitForm(request.POST or None, initial=offered, stored=stored)
    says = ("What a wall is built with where the wall itself does not say. A role left empty is a gap in the takeoff.",)
    return _save(request, form, lambda: service.set_kit(form.entries()), "The firm's kit", says)


def standard_set(request: HttpRequest, name: str) -> HttpResponse:
    known = STANDARD_SPECS.get(name)
    if known is None:
        raise Http404("There is no standard of that name.")
    hold(Firm.objects.all())
    row, about = Standard.objects.filter(name=name).first(), Firm.objects.first()
    form = FigureForm.of(request, row, known.unit, about)

    def save() -> None:
        service.set_standard(name, form.entries(), bare_unit_of(about))

    removal = {"remove": reverse("standard_remove", args=[name]), "remove_says": BECOMES_A_GAP} if row else {}
    return _save(request, form, save, known.label, **removal)


def standard_remove(request: HttpRequest, name: str) -> HttpResponse:
    if name not in STANDARD_SPECS:
        raise Http404("There is no standard of that name.")
    if service.remove_standard(name):
        label = STANDARD_SPECS[name].label
        messages.success(request, f"{label}: no longer stated. A job that needs it will name it as missing.")
    return redirect("firm")


def spacing_steps(request: HttpRequest) -> HttpResponse:
    hold(Firm.objects.all())
    about = Firm.objects.first()
    if about is None:
        return redirect("firm_change")
    steps = standards_of().spacing_steps
    rows = spacing_rows(request.POST if request.method == "POST" else None, steps, about)
    stored = Stored({"spacing_steps": step_words(steps, about)}, address=request.path)
    whole = EntryForm(request.POST or None, stored=stored)
    others: list[str] = []
    if request.method == "POST" and rows.is_valid() and whole.is_valid():
        try:
            service.save_firm({"spacing_steps": rows.entries()}, bare_unit_of(about))
        except DocumentError as error:
            others = [sentence("", complaint) for complaint in error.complaints if not rows.takes(complaint)]
        else:
            messages.success(request, "The spacing table is saved.")
            return redirect("firm")
    context = {"rows": rows, "whole": whole, "others": others, "unit_words": bare_unit_words(about)}
    status = 422 if others or rows.has_errors else whole.status()
    return render(request, "catalog/spacing_steps.html", context, status=status)


def _save(
    request: HttpRequest,
    form: EntryForm,
    save: Callable[[], object],
    heading: str,
    says: tuple[str, ...] = (),
    *,
    back: bool = True,
    **context: str,
) -> HttpResponse:
    if form.saves(save):
        messages.success(request, saved_words("the firm", form))
        return redirect("firm")
    place = {"back": reverse("firm"), "back_label": "The firm"} if back else {}
    return entry_page(request, form, heading=heading, says=says, **place, **context)


def _firm_page(request: HttpRequest, form: ClosureForm) -> HttpResponse:
    row, today, standards = Firm.objects.get(), day_at_the_firm(clock.now()), standards_of()
    names = dict(Material.objects.filter(kit_entries__isnull=False).values_list("code", "name"))
    kit = kit_of()
    closures = Closure.objects.filter(supplier=None).order_by("first_day")
    context = {
        "row": row,
        "system": system_of(row),
        "form": form,
        "closures": [closure for closure in closures if closure.last_day >= today],
        "past_closures": [closure for closure in closures if closure.last_day < today],
        "kit": [(label, [names[code] for code in kit.get(role, ())]) for role, (_, label) in ROLES.items()],
        "standards": standard_rows(dict(standards.facts), system_of(row)),
        "steps": [(step, SURENESS_LABELS[step.sure]) for step in standards.spacing_steps],
    }
    return render(request, "catalog/firm.html", context, status=form.status())
