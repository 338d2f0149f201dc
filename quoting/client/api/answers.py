"""What the client answered and asked, and that an acceptance was taken back, as the office enters it."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from catalog.core.ground.refusal import Refused
from jobs.jobs.services.jobs import job_of
from quoting.client.api.shapes.agreeing import Questions, QuestionShown
from quoting.client.models import ClientQuestion
from quoting.client.services.entered import enter_answer, enter_take_back
from quoting.client.services.questions import close_question, questions_of
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of
from quoting.platform.api.declared import shown
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import signature_of
from quoting.quotes.api.shapes.quote import AnswerShown
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.answers import answer_of
from quoting.quotes.services.revisions import revision_of


class RevisionAnswer(ApiView):
    @describe("read_answer", "What the client answered.", gives="Answer", stands=True)
    def get(self, request: Request, number: str, revision: int) -> Response:
        return answered(request, revision_of(number, revision))

    @describe(
        "enter_answer",
        "Enter what the client signed on paper. Safe to repeat.",
        takes="NewAnswer",
        gives="Answer",
        status=201,
    )
    def post(self, request: Request, number: str, revision: int) -> Response:
        row = revision_of(number, revision)
        enter_answer(row, document_of(request), request.user.full_name, clock.now())
        return answered(request, row, 201)


class TakeBackAcceptance(ApiView):
    @describe(
        "take_back_acceptance",
        "Enter that the client cancelled within the cancellation window. Change notes that wait are withdrawn with "
        "it. Safe to repeat.",
        takes="NewTakeBack",
        gives="Answer",
        status=201,
    )
    def post(self, request: Request, number: str, revision: int) -> Response:
        row = revision_of(number, revision)
        enter_take_back(row, document_of(request), request.user.full_name, clock.now())
        return answered(request, row, 201)


class JobQuestions(ApiView):
    @describe("list_questions", "What the client of a job asked, the latest first.", gives="Questions")
    def get(self, request: Request, key: str) -> Response:
        return Response(write(questions_of(job_of(key)), Questions))


class AnsweredQuestion(ApiView):
    @describe("close_question", "Say that a question is answered. Safe to repeat.", gives="Question")
    def post(self, request: Request, question_id: int) -> Response:
        row, now = ClientQuestion.objects.select_related("revision__quote").get(pk=question_id), clock.now()
        close_question(row, signature_of(request.user, now), now)
        row.refresh_from_db()
        return Response(write(row, QuestionShown))


def answered(request: Request, row: QuoteRevision, status: int = 200) -> Response:
    answer = answer_of(row)
    if answer is None:
        raise Refused(f"{row} is not answered yet.")
    return Response(shown(request, answer, AnswerShown), status=status)
