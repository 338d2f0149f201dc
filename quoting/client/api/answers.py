"""What the client answered to a revision, and that an acceptance was taken back, as the office enters them."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import Refused
from quoting.client.services.acceptance_withdrawal import Notice, take_back
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm
from quoting.quotes.api.quotes import of_answer
from quoting.quotes.models import AnswerKind, QuoteRevision, TakeBackWay
from quoting.quotes.services.acceptance import answer_revision, check_signed_on
from quoting.quotes.services.answers import answer_of
from quoting.quotes.services.given_answers import Given
from quoting.quotes.services.revisions import revision_of

BY_THE_OFFICE = [way for way in TakeBackWay.values if way != TakeBackWay.PAGE]


class RevisionAnswer(ApiView):
    @describe("read_answer", "What the client answered.", gives="Answer", stands=True)
    def get(self, request: Request, number: str, revision: int) -> Response:
        return answered(revision_of(number, revision))

    @describe(
        "enter_answer",
        "Enter what the client signed on paper. The same answer entered twice is one.",
        takes="NewAnswer",
        gives="Answer",
        status=201,
    )
    def post(self, request: Request, number: str, revision: int) -> Response:
        reader, row, today = Reader(document_of(request)), revision_of(number, revision), day_at_the_firm(clock.now())
        kind = AnswerKind(reader.choice("answer", AnswerKind.values))
        name, signed_on = reader.text("name", longest=200), reader.day("signed_on")
        options, reason = reader.texts("options"), reader.text("reason", "")
        reader.finish()
        check_signed_on(row, signed_on, today)
        given = Given(kind, name, options, reason, entered_by_name=request.user.full_name)
        answer_revision(row, given, now=clock.now(), today=signed_on)
        return answered(row, 201)


class TakeBackAcceptance(ApiView):
    @describe(
        "take_back_acceptance",
        "Enter that the client took the acceptance back within its cancellation window. Change notes that wait are "
        "withdrawn with it. The same notice entered twice is one.",
        takes="NewTakeBack",
        gives="Answer",
        status=201,
    )
    def post(self, request: Request, number: str, revision: int) -> Response:
        reader, row, now = Reader(document_of(request)), revision_of(number, revision), clock.now()
        name, given_on = reader.text("name", longest=200), reader.day("given_on")
        way, reason = TakeBackWay(reader.choice("way", BY_THE_OFFICE)), reader.text("reason")
        reader.finish()
        notice = Notice(name, given_on, way, reason, entered_by_name=request.user.full_name)
        take_back(row, notice, now=now, today=day_at_the_firm(now))
        return answered(row, 201)


def answered(row: QuoteRevision, status: int = 200) -> Response:
    answer = answer_of(row)
    if answer is None:
        raise Refused(f"{row} is not answered yet.")
    return Response(of_answer(answer, row.currency), status=status)
