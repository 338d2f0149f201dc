"""The files of a month for the bookkeeper, and the accounts they name."""

from datetime import date
from decimal import Decimal

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.pages.firm_first import firm_first
from quoting.core.money.month import month_of, next_month
from quoting.month.models import Account, AccountCode
from quoting.month.pages.asked_month import month_key, month_or_404
from quoting.month.services.account_codes import MAX_CODE, codes, save_codes
from quoting.month.services.closing import last_closed
from quoting.month.services.hand_over import OF_THE_OFFICE, OF_THE_OWNER, Sheet
from quoting.month.services.sheets import Filled, filled
from quoting.month.services.snapshots import first_month
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.formatting import amount_words
from quoting.platform.pages.entry_form import EntryForm, entry_page, saved_words, text
from quoting.platform.pages.stored_values import Stored, hold
from quoting.platform.people import access

AFTER = "-after-close"
MAX_MONTHS = 6
SUM_WORDS = {
    "price": "price",
    "tax": "tax",
    "total": "with tax",
    "credited_price": "price of the deposit deducted",
    "credited_tax": "its tax",
    "held_price": "price held back",
    "held_tax": "its tax",
}
"""What a sum is of, where a sheet has several."""


@firm_first
def hand_over(request: HttpRequest, month: str = "") -> HttpResponse:
    today, closed = day_at_the_firm(clock.now()), last_closed()
    chosen = month_or_404(month) if month else (closed or month_of(today))
    sheets = [*OF_THE_OFFICE.values(), *(OF_THE_OWNER.values() if access.role_of(request.user) in access.OWNER else ())]
    files = [(sheet, filled(sheet, chosen, later), later) for sheet in sheets for later in (False, True)]
    context = {
        "month": chosen,
        "key": month_key(chosen),
        "is_closed": closed is not None and chosen <= closed,
        "months": [(day, month_key(day)) for day in _months(today)],
        "files": [
            (sheet.label, file_name(sheet, later), given, later, _sum_words(given))
            for sheet, given, later in files
            if given.rows
        ],
        "today": today,
    }
    return render(request, "month/hand_over.html", context)


def hand_over_file(request: HttpRequest, month: str, name: str) -> HttpResponse:
    return _file(OF_THE_OFFICE, month, name)


def labour_cost_file(request: HttpRequest, month: str, name: str) -> HttpResponse:
    return _file(OF_THE_OWNER, month, name)


def _file(sheets: dict[str, Sheet], month: str, name: str) -> HttpResponse:
    chosen, is_later = month_or_404(month), name.endswith(AFTER)
    sheet = sheets.get(name.removesuffix(AFTER))
    if sheet is None:
        raise Http404("There is no such file.")
    content = filled(sheet, chosen, is_later).content()
    response = HttpResponse(content, content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{month_key(chosen)}-{file_name(sheet, is_later)}.csv"'
    return response


def _sum_words(given: Filled) -> list[tuple[str, str]]:
    """Each sum with what it is of; one of nought is left out."""
    return [(SUM_WORDS.get(name, ""), _words(entry)) for name, entry in given.sums.items() if entry]


def _words(sum_of_a_column: Decimal | int) -> str:
    if isinstance(sum_of_a_column, Decimal):
        return amount_words(sum_of_a_column)
    return f"{sum_of_a_column // 60} h {sum_of_a_column % 60:02} min"


def file_name(sheet: Sheet, is_later: bool) -> str:
    return f"{sheet.name}{AFTER}" if is_later else sheet.name


def _months(today: date) -> list[date]:
    """From the first with a row to the running one, the latest few."""
    month, months = first_month() or month_of(today), []
    while month <= today:
        months.append(month)
        month = next_month(month)
    return months[-MAX_MONTHS:]


class AccountsForm(EntryForm):
    def __init__(self, *given: object, **options: object) -> None:
        super().__init__(*given, **options)  # type: ignore[arg-type]
        for kind, label in Account.choices:
            self.fields[kind] = text(label, longest=MAX_CODE)
            self.fields[kind].required = False


def accounts(request: HttpRequest) -> HttpResponse:
    hold(AccountCode.objects.all())
    form = AccountsForm(request.POST or None, stored=Stored(codes(), address=request.path))
    if request.method == "POST" and form.is_valid():
        try:
            save_codes({kind: form.cleaned_data.get(kind) or "" for kind in Account.values})
        except DocumentError as error:
            form.complain(error)
        else:
            messages.success(request, saved_words("the accounts", form))
            return redirect("hand_over")
    says = ("The account your bookkeeper books each on. An empty one stays empty in the files.",)
    about = {"heading": "Accounts", "says": says, "back": reverse("hand_over"), "back_label": "Bookkeeper"}
    return entry_page(request, form, **about)
