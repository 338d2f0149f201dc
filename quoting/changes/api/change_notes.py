"""One change note: as it was put to the client, its answer as the office received it, and taking it back."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.document_reader import Reader
from catalog.core.ground.plain_text import money, plain
from jobs.jobs.services.jobs import job_of
from quoting.changes.api.changes import of_note
from quoting.changes.models import ChangeAnswer, ChangeNote, ChangeNoteCost, ChangeNoteLine
from quoting.changes.services.change_notes import ANSWERS, answer_change, withdraw_change
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, document_of, sees_margins
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.models.columns import normalized
from quoting.quotes.services.given_answers import Given


class OneNote(ApiView):
    @describe("read_change_note", "A change note with its lines and its answer.", gives="FrozenChangeNote")
    def get(self, request: Request, key: str, note: int) -> Response:
        return Response(whole(note_of(key, note), with_cost=sees_margins(request)))


class AnswerNote(ApiView):
    @describe(
        "answer_change_note",
        "Enter what the client signed on paper. The same answer entered twice is one.",
        takes="NewNoteAnswer",
        gives="FrozenChangeNote",
        status=201,
    )
    def post(self, request: Request, key: str, note: int) -> Response:
        reader, row, now = Reader(document_of(request)), note_of(key, note), clock.now()
        answer, name = reader.choice("answer", tuple(ANSWERS)), reader.text("name", longest=200)
        reason = reader.text("reason", "")
        reader.finish()
        given = Given(answer, name, reason=reason, entered_by_name=request.user.full_name)
        answer_change(row, given, now=now, today=day_at_the_firm(now))
        return Response(whole(note_of(key, note), with_cost=sees_margins(request)), status=201)


class WithdrawNote(ApiView):
    @describe(
        "withdraw_change_note",
        "Withdraw a change note that waits for a signature, for a reason. It stays to be read.",
        takes="Withdrawal",
        gives="FrozenChangeNote",
    )
    def post(self, request: Request, key: str, note: int) -> Response:
        reader = Reader(document_of(request))
        reason = reader.text("reason")
        reader.finish()
        withdraw_change(note_of(key, note).pk, now=clock.now(), by_name=request.user.full_name, reason=reason)
        return Response(whole(note_of(key, note), with_cost=sees_margins(request)))


def note_of(key: str, number: int) -> ChangeNote:
    rows = ChangeNote.objects.select_related("job", "revision__quote")
    return rows.get(job=job_of(key), number=number)


def whole(note: ChangeNote, *, with_cost: bool) -> Document:
    answer = ChangeAnswer.objects.filter(note=note).first()
    return {
        **of_note(note),
        "quote": note.revision.quote.number,
        "revision": note.revision.number,
        "reason": note.reason,
        "original": note.original,
        "replacement": note.replacement,
        "state_reason": note.state_reason,
        "sha256": note.snapshot_sha256,
        "lines": [_line(line, with_cost=with_cost) for line in note.lines.all()],
        **({"costs": [of_cost(cost) for cost in note.costs.all()]} if with_cost else {}),
        "answer": None if answer is None else of_answer(answer),
    }


def _line(line: ChangeNoteLine, *, with_cost: bool) -> Document:
    document = {"what": line.what, "price": money(line.price), "taxed": money(line.taxed)}
    return document | {"cost": money(line.cost)} if with_cost else document


def of_cost(row: ChangeNoteCost) -> Document:
    amounts = {"quantity": plain(normalized(row.quantity)), "unit_cost": plain(normalized(row.unit_cost))}
    return {"category": row.category, "item": row.item, "what": row.what, **amounts}


def of_answer(answer: ChangeAnswer) -> Document:
    return {
        "answer": answer.answer,
        "way": answer.way,
        "name": answer.typed_name,
        "reason": answer.reason,
        "at": answer.answered_at.isoformat(),
        "on": answer.answered_on.isoformat(),
        "paper_sha256": answer.paper_sha256 or None,
    }
