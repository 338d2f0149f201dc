"""How long an acceptance may be taken back, and the holidays left out of the count: entered on a lawyer's word."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.core.ground.document_reader import DocumentError
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.entry_form import EntryForm, day, pick, text
from quoting.quotes.models import CancellationTerm, Holiday
from quoting.quotes.models.cancellation import COUNTING_CHOICES, MAX_NOTICE
from quoting.quotes.services import cancellation


class TermForm(EntryForm):
    days = text("Days", "0 states that there is no window.", longest=3)
    counting = pick("Which days count", COUNTING_CHOICES)
    starts_on = day("In force from")
    notice = text(
        "How the client gives notice",
        "A sentence for the quote, such as: Write to the address at the head of this paper. Empty: the quote says "
        "to tell you in writing.",
        longest=MAX_NOTICE,
        rows=2,
    )
    source = text("On whose word", "Such as: our lawyer, letter of 3 May.", longest=200)

    def entries(self) -> dict[str, object]:
        document = super().entries()
        typed = str(document.get("days", ""))
        return document | ({"days": int(typed)} if typed.isascii() and typed.isdigit() else {})


class HolidayForm(EntryForm):
    day = day("Day")
    name = text("Holiday", longest=100)


def cancellation_terms(request: HttpRequest) -> HttpResponse:
    return _page(request, _term_form(), HolidayForm(prefix="holiday"))


def cancellation_term_set(request: HttpRequest) -> HttpResponse:
    form = _term_form(request)
    if form.is_valid():
        try:
            cancellation.set_term(form.entries())
        except DocumentError as error:
            form.complain(error)
        else:
            messages.success(request, "The window is entered. Quotes already issued keep theirs.")
            return redirect("cancellation_terms")
    return _page(request, form, HolidayForm(prefix="holiday"), status=422)


def holiday_set(request: HttpRequest) -> HttpResponse:
    form = HolidayForm(request.POST, prefix="holiday")
    if form.is_valid():
        try:
            cancellation.set_holiday(form.entries())
        except DocumentError as error:
            form.complain(error)
        else:
            messages.success(request, "The holiday is entered.")
            return redirect("cancellation_terms")
    return _page(request, _term_form(), form, status=422)


def cancellation_term_remove(request: HttpRequest, term_id: int) -> HttpResponse:
    return _removed(request, cancellation.remove_term(term_id))


def holiday_remove(request: HttpRequest, holiday_id: int) -> HttpResponse:
    return _removed(request, cancellation.remove_holiday(holiday_id))


def _removed(request: HttpRequest, result: bool) -> HttpResponse:
    if not result:
        raise Http404("There is no such entry.")
    messages.success(request, "Taken away. What was accepted already keeps its day.")
    return redirect("cancellation_terms")


def _term_form(request: HttpRequest | None = None) -> TermForm:
    return TermForm(request.POST if request else None, {"starts_on": day_at_the_firm(clock.now())}, prefix="term")


def _page(request: HttpRequest, term_form: TermForm, holiday_form: HolidayForm, status: int = 200) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    window = cancellation.window_of(cancellation.rule_in_force(today), today)
    context = {
        "today": today,
        "window": window,
        "terms": CancellationTerm.objects.all(),
        "in_force": CancellationTerm.objects.filter(starts_on__lte=today).first(),
        "holidays": Holiday.objects.all(),
        "term_form": term_form,
        "holiday_form": holiday_form,
    }
    return render(request, "quotes/cancellation.html", context, status=status)
