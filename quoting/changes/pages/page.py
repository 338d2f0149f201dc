"""Changes of a job: the contract sum with what waits beside it, the notes, and the drafts."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from catalog.pages.firm_first import firm_first
from jobs.jobs.pages.requests import job_or_404
from quoting.changes.services.change_drafts import allowances_of, drafts_of
from quoting.changes.services.contract_margins import margins_of
from quoting.changes.services.contracts import contract_of, earlier_notes
from quoting.platform.people.access import sees_margin
from quoting.quotes.services.answers import last_taken_back


@firm_first
def change_list(request: HttpRequest, job_id: int) -> HttpResponse:
    job = job_or_404(job_id)
    contract, drafts = contract_of(job), drafts_of(job)
    editable = sees_margin(request)
    context = {
        "job": job,
        "contract": contract,
        "margins": margins_of(contract) if contract and editable else None,
        "back": last_taken_back(job),
        "earlier": earlier_notes(job, contract),
        "drafts": [(draft, sum(line.price for line in draft.lines.all())) for draft in drafts],
        "allowances": allowances_of(contract.revision) if contract else (),
        "editable": editable,
    }
    return render(request, "changes/changes.html", context)
