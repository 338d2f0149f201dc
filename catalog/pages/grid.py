"""The catalog as a grid: what is missing, and every cell to be typed in, filled down and pasted."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render

from catalog.core.materials.specs import KINDS
from catalog.models import Material
from catalog.pages.firm_first import firm_first
from catalog.pages.grid_rows import LACKS, MOST_ROWS, CellForm, Filters, Grid, Line
from catalog.pages.words import bare_unit_of
from catalog.services.grid import TypedRow, store_cells
from quoting.platform.pages.entry_form import VERSION, sentence
from quoting.platform.pages.error_summary import NotSaved, WrongField
from quoting.platform.pages.stored_values import Stored, hold

GONE = "A row you typed in was changed meanwhile and is another now: look at it again, and save the rest."


@firm_first
def catalog(request: HttpRequest) -> HttpResponse:
    if request.method != "POST":
        return _page(request, Grid(Filters.of(request.GET)))
    sent = [name.removesuffix(f"-{VERSION}") for name in request.POST if name.endswith(f"-{VERSION}")]
    ids = (key.partition("-")[0] for key in sent)
    posted = frozenset(int(pk) for pk in ids if pk.isascii() and pk.isdigit() and len(pk) < 10)
    hold(Material.objects.filter(pk__in=posted))
    grid = Grid(Filters.of(request.GET), posted)
    lines = [line for line in grid.every_line if line.key in sent]
    typed = _typed(lines, request.POST)
    gone = len(sent) - len(lines)
    if not_saved := NotSaved((WrongField(GONE),)) if gone else _store(grid, typed):
        late = gone or any(line.form is not None and line.form.is_late for line in typed)
        return _page(request, grid, not_saved, status=409 if late else 422)
    cells = sum(len(line.form.cells()) for line in typed if line.form is not None)
    materials = len({line.row_id for line in typed})
    said = f"Saved: {cells} cell{'s' * (cells != 1)} of {materials} material{'s' * (materials != 1)}."
    messages.success(request, said if cells else "Nothing was changed.")
    return redirect(request.get_full_path())


def _typed(lines: list[Line], data: QueryDict) -> list[Line]:
    """The rows with a cell somebody typed in."""
    for line in lines:
        form = CellForm(data, line.key, Stored(line.values))
        line.form = form if form.base_fields.keys() & form.fields.keys() else None
    return [line for line in lines if line.form is not None]


def _store(grid: Grid, typed: list[Line]) -> NotSaved | None:
    valid = [line.form.is_valid() for line in typed if line.form is not None]
    if all(valid):
        rows = [TypedRow(line.key, line.row, line.form.cells()) for line in typed if line.form is not None]
        by_key = {line.key: line.form for line in typed}
        for key, cell, problem in store_cells(rows, grid.today, bare_unit_of(grid.book.firm)):
            form = by_key[key]
            assert form is not None
            form.fields.setdefault(cell, form.base_fields[cell])
            form.add_error(cell, sentence(str(form.fields[cell].label), problem))
    wrong = [
        WrongField(f"{line.name}: {error}", f"id_{line.key}-{name}" if name in line.form.fields else "")
        for line in typed
        if line.form is not None
        for name, errors in line.form.errors.items()
        if name != "__all__"
        for error in errors
    ]
    return NotSaved(tuple(wrong)) if wrong else None


def _page(request: HttpRequest, grid: Grid, not_saved: NotSaved | None = None, status: int = 200) -> HttpResponse:
    filters = grid.filters
    pages = -(-len(grid.every_line) // MOST_ROWS)
    words = [
        ("lacks", "Show materials", [("", "of any state"), *((name, shown) for name, (shown, _) in LACKS.items())]),
        ("kind", "of", [("", "every kind"), *((kind, label.lower()) for kind, label in KINDS.items())]),
        ("supplier", "from", [("", "every supplier"), *grid.names.items()]),
        ("aside", "", [("", "on offer"), ("yes", "and those set aside")]),
    ]
    context = {
        "grid": grid,
        "filters": filters,
        "words": [(name, before, among, getattr(filters, name)) for name, before, among in words],
        "columns": [str(entry.label) for entry in CellForm.base_fields.values()],
        "counts": grid.counts(),
        "pages": pages,
        "not_saved": not_saved,
        "currency": grid.book.firm.currency,
    }
    return render(request, "catalog/grid.html", context, status=status)
