"""One change note: as it was put to the client, its answer as the office received it, and taking it back."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import Reader
from jobs.jobs.services.jobs import job_of
from quoting.changes.api.shapes.changes import FrozenChangeNote, NewNoteAnswer
from quoting.changes.models import ChangeNote
from quoting.changes.services.change_notes import answer_change, withdraw_change
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of
from quoting.platform.api.declared import shown
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm
from quoting.quotes.api.shapes.quote import Withdrawal
from quoting.quotes.services.given_answers import Given


class OneNote(ApiView):
    @describe("read_change_note", "A change note with its lines and its answer.", gives="FrozenChangeNote")
    def get(self, request: Request, key: str, note: int) -> Response:
        return Response(shown(request, note_of(key, note), FrozenChangeNote))


class AnswerNote(ApiView):
    @describe(
        "answer_change_note",
        "Enter what the client signed on paper. Safe to repeat.",
        takes="NewNoteAnswer",
        gives="FrozenChangeNote",
        status=201,
    )
    def post(self, request: Request, key: str, note: int) -> Response:
        sent, row, now = read(NewNoteAnswer, Reader(document_of(request))), note_of(key, note), clock.now()
        given = Given(sent.answer, sent.name, reason=sent.reason, entered_by_name=request.user.full_name)
        answer_change(row, given, now=now, today=day_at_the_firm(now))
        return Response(shown(request, note_of(key, note), FrozenChangeNote), status=201)


class WithdrawNote(ApiView):
    @describe(
        "withdraw_change_note",
        "Withdraw a change note that waits for a signature, for a reason. It stays to be read.",
        takes="Withdrawal",
        gives="FrozenChangeNote",
    )
    def post(self, request: Request, key: str, note: int) -> Response:
        reason = read(Withdrawal, Reader(document_of(request))).reason
        withdraw_change(note_of(key, note).pk, now=clock.now(), by_name=request.user.full_name, reason=reason)
        return Response(shown(request, note_of(key, note), FrozenChangeNote))


def note_of(key: str, number: int) -> ChangeNote:
    rows = ChangeNote.objects.select_related("job", "revision__quote")
    return rows.get(job=job_of(key), number=number)
