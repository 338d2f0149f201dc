"""What the owner wants to be warned of in the money of a job."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from catalog.core.ground.plain_text import plain
from catalog.pages.firm_first import firm_first
from jobs.deliveries.pages.acting import form_page
from quoting.job_money.models import MoneyLimits
from quoting.job_money.pages.forms import LimitsForm
from quoting.job_money.services.limits import money_limits, set_limits
from quoting.platform.pages.document_fields import percent_entry
from quoting.platform.pages.stored_values import Stored, hold


@firm_first
def money_limits_page(request: HttpRequest) -> HttpResponse:
    if request.method == "POST":
        hold(MoneyLimits.objects.all())
    row = money_limits()
    values = {
        "days_without_bill": str(row.days_without_bill),
        "under_billed": percent_entry(row.share),
        "points_a_month": plain(row.points),
    }
    form = LimitsForm(request.POST or None, stored=Stored(values, MoneyLimits.objects.first(), request.path))

    def act(entries: dict[str, Any]) -> str:
        set_limits(entries)
        return "Saved. Warnings go by it from now on."

    says = ("What is over these is warned of. The least margin stands in Usual prices.",)
    to = reverse("firm")
    return form_page(
        request, form, act, to, heading="Warnings of a job's money", says=says, button="Save", back_label="Firm"
    )
