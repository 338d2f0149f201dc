"""Days the firm is closed, and public holidays, by which clients' days to take an acceptance back are counted."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.models import Closure
from catalog.pages.closures import ClosureForm
from catalog.pages.firm_first import firm_first
from catalog.services.suppliers import add_closure, remove_closure
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.declared_fields import form_of
from quoting.platform.pages.entry_form import EntryForm
from quoting.platform.people import access
from quoting.quotes.models import Holiday
from quoting.quotes.services import cancellation

HolidayForm = form_of(cancellation.NewHoliday, "day", "name")


@firm_first
def holidays(request: HttpRequest) -> HttpResponse:
    return _page(request, ClosureForm(), HolidayForm(prefix="holiday"))


@firm_first
def firm_closure_add(request: HttpRequest) -> HttpResponse:
    form = ClosureForm(request.POST)
    if form.saves(lambda: add_closure(form.entries())):
        messages.success(request, "Closed days saved; order dates follow at once.")
        return redirect("holidays")
    return _page(request, form, HolidayForm(prefix="holiday"))


def firm_closure_remove(request: HttpRequest, closure_id: int) -> HttpResponse:
    return _removed(request, remove_closure(closure_id), "The closed days are removed.")


@firm_first
def holiday_set(request: HttpRequest) -> HttpResponse:
    form = HolidayForm(request.POST, prefix="holiday")
    if form.saves(lambda: cancellation.set_holiday(form.entries())):
        messages.success(request, "Holiday saved.")
        return redirect("holidays")
    return _page(request, ClosureForm(), form)


def holiday_remove(request: HttpRequest, holiday_id: int) -> HttpResponse:
    return _removed(request, cancellation.remove_holiday(holiday_id), "Removed. What was accepted keeps its day.")


def _removed(request: HttpRequest, was_there: bool, said: str) -> HttpResponse:
    if not was_there:
        raise Http404("There is no such day.")
    messages.success(request, said)
    return redirect("holidays")


def _page(request: HttpRequest, closure_form: EntryForm, holiday_form: EntryForm) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    closures = Closure.objects.filter(supplier=None).order_by("first_day")
    context = {
        "closures": [closure for closure in closures if closure.last_day >= today],
        "past": [closure for closure in closures if closure.last_day < today],
        "holidays": Holiday.objects.filter(day__gte=today),
        "past_holidays": Holiday.objects.filter(day__lt=today).count(),
        "form": closure_form,
        "holiday_form": holiday_form,
        "editable": access.is_allowed(access.role_of(request.user), "holiday_set", "POST"),
    }
    status = max(closure_form.status(), holiday_form.status())
    return render(request, "quotes/holidays.html", context, status=status)
