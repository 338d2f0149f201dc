"""The firm's stock: what lies on the shelf and what is set aside for which job."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.models import Material, Pack
from catalog.pages.firm_first import firm_first
from catalog.services.book import firm_of
from jobs.jobs.models import Job
from jobs.stock.models import Stock
from jobs.stock.services.stock import enter_stock, put_back, set_aside, take_out, whole
from quoting.platform.pages.entry_form import EntryForm, pick, text
from quoting.platform.pages.step import step


class StockForm(EntryForm):
    material = pick("Material", (), nothing="Choose one")
    pack = pick("Whole", (), "Or the length of an off-cut.", nothing="no, an off-cut")
    length = text("Length of the off-cut", longest=40)
    count = text("How many", longest=10)
    unit_cost = text("A job is charged, for one", "Left empty: nothing.", longest=20)
    note = text("Where it lies", longest=200)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        materials = Material.objects.filter(active=True).order_by("name").values_list("code", "name")
        packs = Pack.objects.filter(material__active=True).order_by("material__name", "order")
        self.fields["material"].choices += list(materials)  # type: ignore[attr-defined]
        self.fields["pack"].choices += [  # type: ignore[attr-defined]
            (row.code, f"{row.material.name}: {row.label}") for row in packs.select_related("material")
        ]


@firm_first
def stock(request: HttpRequest) -> HttpResponse:
    form = StockForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        try:
            row = enter_stock(form.entries(), "in" if firm_of().display_units == "imperial" else "mm")
        except DocumentError as error:
            form.complain(error)
        except Refused as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, f"On the shelf: {row.count} of {row.material.name}.")
            return redirect("stock")
    rows = list(Stock.objects.select_related("material", "job").order_by("material__name", "job__key", "pk"))
    packs = {(row.material.code, row.code): row.label for row in Pack.objects.select_related("material")}
    context = {
        "form": form,
        "rows": [(row, packs.get((row.material_id, row.pack), row.pack)) for row in rows],
        "jobs": Job.objects.filter(closed_on=None).order_by("key"),
        "firm": firm_of(),
    }
    return render(request, "stock/stock.html", context, status=form.status())


def stock_act(request: HttpRequest, stock_id: int) -> HttpResponse:
    posted, count = request.POST, whole(request.POST.get("count", "").strip())
    to = (
        reverse("job_plans", args=[whole(posted["from_job"])])
        if whole(posted.get("from_job", ""))
        else reverse("stock")
    )

    def act() -> str:
        if "back" in posted:
            put_back(stock_id, count)
            return "Back on the shelf."
        if "out" in posted:
            take_out(stock_id, count)
            return "Taken out of the stock."
        job = Job.objects.filter(pk=whole(posted.get("job", ""))).first()
        if job is None:
            raise Refused("Choose the job it is set aside for.")
        set_aside(stock_id, job, count, by=request.user.full_name)
        return f"Set aside for {job}."

    return step(request, act, to)
