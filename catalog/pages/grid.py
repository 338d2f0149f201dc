"""The catalog as a grid: what is missing, and every cell to be typed in, filled down and pasted."""

from collections.abc import Collection

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.models import Material
from catalog.pages.firm_first import firm_first
from catalog.pages.grid_rows import MOST_ROWS, WORDS, CellForm, Grid
from catalog.pages.words import bare_unit_of
from catalog.services.grid import TypedRow, store_cells
from quoting.platform.pages.entry_form import VERSION, sentence
from quoting.platform.pages.error_summary import NotSaved, WrongField
from quoting.platform.pages.stored_values import hold

GONE = "A row you typed in has changed since: look at it again, and save the rest."


@firm_first
def catalog(request: HttpRequest) -> HttpResponse:
    if request.method != "POST":
        return _page(request, Grid(request.GET))
    sent = [name.removesuffix(f"-{VERSION}") for name in request.POST if name.endswith(f"-{VERSION}")]
    ids = (key.partition("-")[0] for key in sent)
    posted = frozenset(int(pk) for pk in ids if pk.isascii() and pk.isdigit() and len(pk) < 10)
    hold(Material.objects.filter(pk__in=posted))
    grid = Grid(request.GET, posted)
    lines = {line.key: line for line in grid.every_line if line.key in sent}
    forms = {key: CellForm(request.POST, key, line.row, line.values) for key, line in lines.items()}
    forms = {key: form for key, form in forms.items() if form.base_fields.keys() & form.fields.keys()}
    for key, form in forms.items():
        lines[key].form = form
    if len(sent) > len(lines):
        return _page(request, grid, [WrongField(GONE)], status=409)
    # Every form is asked, so that every fault is shown.
    valid = [form.is_valid() for form in forms.values()]
    if all(valid):
        rows = [TypedRow(key, lines[key].row, form.cells()) for key, form in forms.items()]
        for key, cell, problem in store_cells(rows, grid.today, bare_unit_of(grid.book.firm)):
            forms[key].fields.setdefault(cell, forms[key].base_fields[cell])
            forms[key].add_error(cell, sentence(str(forms[key].fields[cell].label), problem))
    wrong = [
        WrongField(f"{lines[key].name}: {error}", f"id_{key}-{name}")
        for key, form in forms.items()
        for name, errors in form.errors.items()
        for error in errors
        if name in form.fields
    ]
    if wrong:
        return _page(request, grid, wrong, status=409 if any(form.is_late for form in forms.values()) else 422)
    cells, materials = sum(len(form.cells()) for form in forms.values()), len({key.partition("-")[0] for key in forms})
    said = f"Saved: {cells} cell{'s' * (cells != 1)} of {materials} material{'s' * (materials != 1)}."
    messages.success(request, said if cells else "Nothing was changed.")
    return redirect(request.get_full_path())


def _page(request: HttpRequest, grid: Grid, wrong: Collection[WrongField] = (), status: int = 200) -> HttpResponse:
    suppliers = ("supplier", "from", {"": "every supplier"} | grid.names)
    words = [*WORDS[:2], suppliers, *WORDS[2:]]
    context = {
        "grid": grid,
        "filters": grid.filters,
        "words": [(name, before, among.items(), grid.filters[name]) for name, before, among in words],
        "columns": [str(entry.label) for entry in CellForm.base_fields.values()],
        "counts": grid.counts(),
        "pages": -(-len(grid.every_line) // MOST_ROWS),
        "not_saved": NotSaved(tuple(wrong)) if wrong else None,
        "currency": grid.book.firm.currency,
    }
    return render(request, "catalog/grid.html", context, status=status)
