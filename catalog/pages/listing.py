"""The catalog at a glance: what each material costs, how long it takes, and what is missing."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from catalog.core.leads.lead_times import LeadTerm, term_in_force
from catalog.core.materials import specs
from catalog.core.materials.specs import KINDS, Price
from catalog.models import Firm, Material
from catalog.models.materials import SUPPLY_LABELS
from catalog.pages.words import lead_source_words, lead_words
from catalog.services.entries import list_materials
from catalog.services.missing import missing_of
from catalog.services.planned_leads import standing_plan
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm

# What a material lacks -> as `missing_of` says it, and as the page does.
LACKS = {"supplier": ("a supplier", "A supplier"), "lead": ("a lead time in force", "A lead time")}


@dataclass(frozen=True)
class PackLine:
    label: str
    price: Price | None


@dataclass(frozen=True)
class MaterialLine:
    row: Material
    packs: tuple[PackLine, ...]
    supply: str
    supplier: str
    lead: str
    lead_source: str
    missing: tuple[str, ...]


@dataclass(frozen=True)
class Section:
    label: str
    lines: tuple[MaterialLine, ...]


def catalog(request: HttpRequest) -> HttpResponse:
    kind = request.GET.get("kind", "")
    kind = kind if kind in KINDS else ""
    search, aside = request.GET.get("q", "")[:100], request.GET.get("aside") == "yes"
    today = day_at_the_firm(clock.now())
    lacks = request.GET.get("lacks", "")
    rows = list_materials(kind, active_only=not aside)
    lines = [material_line(row, today) for row in rows if answers(row, search)]
    lines = [line for line in lines if lacks not in LACKS or LACKS[lacks][0] in line.missing]
    context = {
        "sections": sections(lines),
        "kinds": KINDS.items(),
        "kind": kind,
        "q": search,
        "lacks": lacks,
        "every_lack": [(value, label) for value, (_, label) in LACKS.items()],
        "aside": aside,
        "today": today,
        "firm": Firm.objects.first(),
        "with_gaps": sum(1 for line in lines if line.missing),
        "count": len(lines),
    }
    template = "catalog/_materials.html" if request.headers.get("HX-Request") == "true" else "catalog/catalog.html"
    response = render(request, template, context)
    # A shared cache or the back button must not take the fragment for the page.
    response["Vary"] = "HX-Request"
    return response


def answers(row: Material, search: str) -> bool:
    message = " ".join((row.code, row.name, row.note, row.supplier.name if row.supplier else "")).lower()
    return all(word in message for word in search.lower().split())


def material_line(row: Material, today: date) -> MaterialLine:
    material = row.to_core()
    term = term_in_force(material.lead_terms, today)
    return MaterialLine(
        row,
        tuple(PackLine(pack.label, pack.price_on(today)) for pack in material.packs),
        SUPPLY_LABELS[material.supply],
        row.supplier.name if row.supplier else "",
        _lead(material, term, today) if term else "",
        lead_source_words(term) if term else "",
        missing_of(material, today),
    )


def _lead(material: specs.Material, term: LeadTerm, today: date) -> str:
    plan, stale = standing_plan(material, today)
    if plan is None:
        return lead_words(term)
    planned = "planned days to be accepted anew" if stale else f"planned with {plan.plan_workdays} in all"
    return f"{lead_words(term)}; {planned}"


def sections(lines: Iterable[MaterialLine]) -> list[Section]:
    by_kind: dict[str, list[MaterialLine]] = {label: [] for label in KINDS.values()}
    for line in sorted(lines, key=lambda entry: entry.row.own_kind):
        by_kind.setdefault(line.row.own_kind or KINDS[line.row.kind], []).append(line)
    return [Section(label, tuple(result)) for label, result in by_kind.items() if result]
