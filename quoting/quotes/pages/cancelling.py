"""How long a client may take an acceptance back."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.declared_fields import form_of
from quoting.quotes.models import CancellationTerm
from quoting.quotes.models.cancellation import COUNTING_CHOICES
from quoting.quotes.services import cancellation

ENTRIES = ("days", "counting", "starts_on", "notice", "source")
TermForm = form_of(cancellation.NewTerm, *ENTRIES, words={"counting": dict(COUNTING_CHOICES)})


def cancellation_terms(request: HttpRequest) -> HttpResponse:
    """A window entered, and those there are."""
    today = day_at_the_firm(clock.now())
    form = TermForm(request.POST or None, {"starts_on": today}, prefix="term")
    if form.saves(lambda: cancellation.set_term(form.entries())):
        messages.success(request, "Window saved. Quotes already issued keep theirs.")
        return redirect("cancellation_terms")
    context = {
        "window": cancellation.window_of(cancellation.rule_in_force(today), today),
        "terms": CancellationTerm.objects.all(),
        "in_force": CancellationTerm.objects.filter(starts_on__lte=today).first(),
        "form": form,
    }
    return render(request, "quotes/cancellation.html", context, status=form.status())


def cancellation_term_remove(request: HttpRequest, term_id: int) -> HttpResponse:
    if not cancellation.remove_term(term_id):
        raise Http404("There is no such entry.")
    messages.success(request, "Removed. What was accepted already keeps its day.")
    return redirect("cancellation_terms")
