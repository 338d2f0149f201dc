"""The firm's workers, how their minutes count, and entries a rate entered late would change. The owner's."""

import uuid
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from jobs.core.costs.hours import ROUNDINGS
from jobs.hours.models import HoursRule, Worker
from jobs.hours.pages.entry_rows import entry_row
from jobs.hours.services.counting import hours_rule, rounding, set_rounding
from jobs.hours.services.rates import rate_names
from jobs.hours.services.refreezing import freeze_anew, late_rates, mark_over
from jobs.hours.services.workers import NewWorker, change_worker, enter_worker
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.pages.declared_fields import form_field
from quoting.platform.pages.entry_form import EntryForm, day, entry_page, pick, saved_words
from quoting.platform.pages.kept_form import key_sent
from quoting.platform.pages.step import step
from quoting.platform.pages.stored_values import Stored, hold
from quoting.platform.people.models import Person

MAX_RATES = 200
NO_LOG_IN = "No log-in"


class WorkerForm(EntryForm):
    name = form_field(NewWorker, "name")
    rate_name = pick("Labour rate", ())
    first_day = day("First day")
    last_day = day("Last day", "Empty while they work here.")
    login_name = pick("Log-in", (), nothing=NO_LOG_IN)

    def __init__(self, *given: Any, worker: Worker | None = None, **more: Any) -> None:
        super().__init__(*given, **more)
        rates = rate_names(day_at_the_firm(clock.now()))
        if worker is not None and worker.rate_name not in rates:
            rates.append(worker.rate_name)
        people = Person.objects.filter(is_active=True, worker=None) | Person.objects.filter(worker=worker or 0)
        self.fields["rate_name"].choices = [(rate, rate) for rate in rates]
        self.fields["login_name"].choices = [("", NO_LOG_IN), *people.values_list("login_name", "full_name")]


class RoundingForm(EntryForm):
    rounding = pick("Minutes count", [(str(step), words) for step, words in ROUNDINGS.items()])


def workers(request: HttpRequest) -> HttpResponse:
    """The list, and whoever is new."""
    now = clock.now()
    today, form = day_at_the_firm(now), WorkerForm(request.POST or None, {})
    if request.method == "POST" and form.is_valid():
        document = form.entries() | {"request_key": key_sent(request) or uuid.uuid4().hex}
        try:
            row, _ = enter_worker(document, signature_of(request.user, now), now=now)
            messages.success(request, f"Entered: {row.name}.")
            return redirect("workers")
        except DocumentError as error:
            form.complain(error)
        except Refused as refusal:
            form.add_error(None, str(refusal))
    listed = late_rates()
    rows = list(Worker.objects.select_related("person"))
    context = {
        "working": [row for row in rows if row.last_day is None or row.last_day >= today],
        "left": [row for row in rows if row.last_day is not None and row.last_day < today],
        "form": form,
        "key": key_sent(request) or uuid.uuid4().hex,
        "rounding": RoundingForm(stored=_rounding_stored()),
        "late": [(rate, entry_row(rate.entry, {}, with_money=True)) for rate in listed[:MAX_RATES]],
        "late_mark": mark_over(listed),
        "more_late": max(0, len(listed) - MAX_RATES),
    }
    return render(request, "hours/workers.html", context, status=form.status())


def worker(request: HttpRequest, worker_id: int) -> HttpResponse:
    hold(Worker.objects.filter(pk=worker_id))
    row = get_object_or_404(Worker.objects.select_related("person"), pk=worker_id)
    form, status = WorkerForm(request.POST or None, stored=_stored(row), worker=row), 200
    if request.method == "POST" and form.is_valid():
        try:
            changed = change_worker(row, form.entries(), signature_of(request.user, clock.now()))
            messages.success(request, saved_words(changed.name, form))
            return redirect("workers")
        except DocumentError as error:
            form.complain(error)
        except Refused as refusal:
            form.add_error(None, str(refusal))
            status = 409
    says = ["Hours keep the rate they were entered by."]
    response = entry_page(request, form, heading=row.name, says=says, back=reverse("workers"), back_label="Workers")
    response.status_code = status if status != 200 else response.status_code
    return response


def hours_rounding(request: HttpRequest) -> HttpResponse:
    hold(HoursRule.objects.all())
    form = RoundingForm(request.POST, stored=_rounding_stored())

    def act() -> str:
        if not form.is_valid():
            raise Refused(*(message for those in form.errors.values() for message in those))
        words = str(set_rounding(form.entries()))
        return f"Minutes count: {words[:1].lower()}{words[1:]}."

    return step(request, act, reverse("workers"))


def late_rates_frozen(request: HttpRequest) -> HttpResponse:
    def act() -> str:
        chosen = [entry for entry in request.POST.getlist("entry") if entry.isascii() and entry.isdigit()]
        count = freeze_anew({"entries": chosen, "seen": request.POST.get("seen", "")})
        return f"{count} entr{'y has' if count == 1 else 'ies have'} the rate of the day now."

    return step(request, act, reverse("workers"))


def _stored(row: Worker) -> Stored:
    values = {
        "name": row.name,
        "rate_name": row.rate_name,
        "first_day": row.first_day.isoformat(),
        "last_day": row.last_day.isoformat() if row.last_day else "",
        "login_name": row.person.login_name if row.person else "",
    }
    return Stored(values, row)


def _rounding_stored() -> Stored:
    return Stored({"rounding": str(rounding())}, hours_rule() if HoursRule.objects.exists() else None, "hours_rounding")
