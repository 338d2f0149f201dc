"""Changes of what was agreed: the contract sum, drafts, and the notes made of them."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import Reader
from jobs.jobs.services.jobs import job_of
from quoting.changes.api.shapes import changes as shapes
from quoting.changes.models import ChangeDraft
from quoting.changes.services.change_drafts import drafts_of, save_draft
from quoting.changes.services.change_notes import issue_change, issued_before
from quoting.changes.services.contracts import contract_of, nothing_agreed
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of, tagged, version_seen
from quoting.platform.api.declared import shown
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm
from quoting.quotes.api.shapes.quote import QuoteIssue


class JobContract(ApiView):
    @describe(
        "read_contract",
        "What is agreed in money: the accepted quote and the change notes signed since, and what waits beside it.",
        gives="Contract",
        stands=True,
    )
    def get(self, request: Request, key: str) -> Response:
        job = job_of(key)
        contract = contract_of(job)
        if contract is None:
            raise nothing_agreed(job)
        return Response(shown(request, contract, shapes.ContractShown))


class ChangeDrafts(ApiView):
    @describe("list_change_drafts", "Changes of a job that are being priced.", gives="ChangeDrafts")
    def get(self, request: Request, key: str) -> Response:
        return Response(shown(request, drafts_of(job_of(key)), shapes.ChangeDrafts))

    @describe(
        "add_change_draft",
        "Price a change of the accepted quote. It counts for nothing before it is issued and signed.",
        takes="Change",
        gives="ChangeDraft",
        status=201,
        tagged=True,
    )
    def post(self, request: Request, key: str) -> Response:
        draft = save_draft(job_of(key), document_of(request), by=request.user, now=clock.now())
        return tagged(Response(shown(request, draft, shapes.ChangeDraftShown), status=201), draft.version)


class IssueChange(ApiView):
    @describe(
        "issue_change",
        "Freeze a draft as the job's next change note and ask for its paper. The same `request_key` issues once.",
        takes="QuoteIssue",
        gives="ChangeNote",
        status=201,
        guarded="the draft",
        again=True,
    )
    def post(self, request: Request, key: str, draft_id: int) -> Response:
        request_key = read(QuoteIssue, Reader(document_of(request))).request_key
        job, now, seen = job_of(key), clock.now(), version_seen(request)
        issued = issued_before(job, request_key)
        if issued is not None:
            return Response(shown(request, issued, shapes.ChangeNoteShown), status=200)
        draft = ChangeDraft.objects.get(job=job, pk=draft_id)
        note = issue_change(
            draft, request_key=request_key, seen_version=seen, by=request.user, now=now, today=day_at_the_firm(now)
        )
        return Response(shown(request, note, shapes.ChangeNoteShown), status=201)
