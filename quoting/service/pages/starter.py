"""Starting from the starter list, after a look at what it is."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.models import Firm
from quoting.service.services.starter import start_from_starter


def catalog_start(request: HttpRequest) -> HttpResponse:
    if not Firm.objects.exists():
        return redirect("firm_change")
    if request.method != "POST":
        return render(request, "catalog/start.html")
    added = start_from_starter()
    known = "The starter list was here already; nothing was added."
    messages.success(request, f"{added} materials are in the catalog. Enter your own prices." if added else known)
    return redirect("today")
