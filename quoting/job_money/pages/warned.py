"""Where a warning of the money of a job leads: to its rows, or to where they are entered."""

from urllib.parse import quote

from django.http import HttpRequest
from django.urls import reverse

from jobs.jobs.models import Job
from quoting.core.money.cost_warnings import CostWarning
from quoting.core.money.job_costs import JobCosts
from quoting.platform.people.access import is_allowed, role_of

OF_THE_FIRM = {"no_bill": "bill_list", "gain_without_bills": "bill_list"}
OF_THE_JOB = {
    "overdue": "since_signed",
    "under_billed": "since_signed",
    "unsigned": "change_list",
    "no_hours": "job_hours",
}


def warned_address(request: HttpRequest, job: Job, costs: JobCosts, warning: CostWarning) -> str:
    """Empty where there is none, or where whoever reads may not go."""
    name = OF_THE_FIRM.get(warning.kind) or OF_THE_JOB.get(warning.kind, "")
    if name:
        about = [] if warning.kind in OF_THE_FIRM else [job.pk]
        return reverse(name, args=about) if is_allowed(role_of(request.user), name, "GET") else ""
    item = next((row for row in costs.items if warning.item and row.item == warning.item), None)
    return f"{reverse('money_item', args=[job.pk, item.category])}?item={quote(item.item, safe='')}" if item else ""
