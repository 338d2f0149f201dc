"""The firm's own way of working: figures with their sources, and stud spacing by radius."""

from itertools import groupby

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.materials.standards import STANDARD_SPECS, SpacingStep, StandardSpec
from catalog.models import Firm, Standard
from catalog.pages.firm import save_of_the_firm
from catalog.pages.firm_first import firm_first
from catalog.pages.firm_forms import StepForm
from catalog.pages.material_forms import FigureForm
from catalog.pages.material_parts import BECOMES_A_GAP
from catalog.pages.words import FigureRow, bare_unit_of, bare_unit_words, length_entry, standard_rows, system_of
from catalog.services import firm as service
from catalog.services.book import standards_of
from quoting.platform.pages.entry_form import EntryForm, sentence
from quoting.platform.pages.entry_rows import EntryRows
from quoting.platform.pages.stored_values import Stored, hold

# Each group by the standard it begins with, in the order of STANDARD_SPECS.
GROUPS = {
    "straight_stud_spacing_mm": "Walls and framing",
    "base_layer_screw_spacing_mm": "Boards and finish",
    "layout_hours_per_m": "Hours of work",
    "delay_factor": "Crew and waiting",
    "buying_window_workdays": "Buying",
}
SHOW = {"": "all", "gap": "what is not stated", "starter": "remembered figures"}


@firm_first
def standards(request: HttpRequest) -> HttpResponse:
    rows = standard_rows(dict(standards_of().facts), system_of(Firm.objects.first()))
    shown = {"gap": [row for row in rows if row.value is None], "starter": [row for row in rows if row.unverified]}
    show = request.GET.get("show", "")
    show = show if show in SHOW else ""
    context = {
        "groups": _groups(rows) if not show else [],
        "rows": shown.get(show, []),
        "counts": {name: len(those) for name, those in shown.items()},
        "words": [("show", "Show", SHOW.items(), show)],
    }
    return render(request, "catalog/standards.html", context)


def _groups(rows: list[FigureRow]) -> list[tuple[str, list[FigureRow]]]:
    label = ""

    def group_of(row: FigureRow) -> str:
        nonlocal label
        label = GROUPS.get(row.name, label)
        return label

    return [(label, list(those)) for label, those in groupby(rows, group_of)]


def standard_set(request: HttpRequest, name: str) -> HttpResponse:
    known = _known(name)
    hold(Firm.objects.all())
    row, about = Standard.objects.filter(name=name).first(), Firm.objects.first()
    form = FigureForm.of(request, row, known.unit, about)
    removal = {"remove": reverse("standard_remove", args=[name]), "remove_says": BECOMES_A_GAP} if row else {}

    def save() -> None:
        service.set_standard(name, form.entries(), bare_unit_of(about))

    return save_of_the_firm(request, form, save, heading=known.label, to="standards", **removal)


def standard_remove(request: HttpRequest, name: str) -> HttpResponse:
    label = _known(name).label
    if service.remove_standard(name):
        messages.success(request, f"{label}: no longer stated. A job that needs it will name it as missing.")
    return redirect("standards")


def _known(name: str) -> StandardSpec:
    if name not in STANDARD_SPECS:
        raise Http404("There is no standard of that name.")
    return STANDARD_SPECS[name]


def spacing_steps(request: HttpRequest) -> HttpResponse:
    hold(Firm.objects.all())
    about = Firm.objects.first()
    if about is None:
        return redirect("firm_change")
    offered = [_offered(step, about) for step in standards_of().spacing_steps]
    rows = EntryRows(StepForm, "spacing_steps", request.POST if request.method == "POST" else None, offered, spare=0)
    stored = Stored({"spacing_steps": [", ".join(step.values()) for step in offered]}, address=request.path)
    whole, others = EntryForm(request.POST or None, stored=stored), list[str]()
    if request.method == "POST" and rows.is_valid() and whole.is_valid():
        try:
            service.save_firm({"spacing_steps": rows.entries()}, bare_unit_of(about))
        except DocumentError as error:
            others = [sentence("", complaint) for complaint in error.complaints if not rows.takes(complaint)]
        else:
            messages.success(request, "Spacing table saved.")
            return redirect("spacing_steps")
    context = {"rows": rows, "whole": whole, "others": others, "unit_words": bare_unit_words(about)}
    status = 422 if others or rows.has_errors else whole.status()
    return render(request, "catalog/spacing_steps.html", context, status=status)


def _offered(step: SpacingStep, firm: Firm) -> dict[str, str]:
    lengths = (length_entry(length, system_of(firm)) for length in (step.from_radius_mm, step.spacing_mm))
    return dict(zip(("from_radius", "spacing"), lengths, strict=True)) | {"source": step.source, "sure": step.sure}
