"""What clients asked on their pages."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from jobs.jobs.services.jobs import job_of
from quoting.client.api.shapes.agreeing import Questions, QuestionShown
from quoting.client.models import ClientQuestion
from quoting.client.services.questions import close_question, questions_of
from quoting.platform import clock
from quoting.platform.api.base import ApiView
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import signature_of


class JobQuestions(ApiView):
    @describe("list_questions", "What the client of a job asked, the latest first.", gives="Questions")
    def get(self, request: Request, key: str) -> Response:
        return Response(write(questions_of(job_of(key)), Questions))


class AnsweredQuestion(ApiView):
    @describe("close_question", "Say that a question is answered. Said twice it is said once.", gives="Question")
    def post(self, request: Request, question_id: int) -> Response:
        row, now = ClientQuestion.objects.select_related("revision__quote").get(pk=question_id), clock.now()
        close_question(row, signature_of(request.user, now), now)
        row.refresh_from_db()
        return Response(write(row, QuestionShown))
