"""What a client asks: on their page, and as the office reads and closes it."""

from datetime import date, datetime

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.csrf import csrf_exempt

from jobs.jobs.pages.requests import job_or_404
from quoting.client.models import ClientLink, ClientQuestion
from quoting.client.pages.gate import by_link
from quoting.client.pages.page import acted
from quoting.client.services.questions import ask, close_question, questions_of
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.pages.step import step
from quoting.platform.people.rate_limits import address_of


def questions(request: HttpRequest, job_id: int) -> HttpResponse:
    job = job_or_404(job_id)
    return render(request, "client/questions.html", {"job": job, "questions": questions_of(job)})


def question_close(request: HttpRequest, question_id: int) -> HttpResponse:
    row, now = get_object_or_404(ClientQuestion.objects.select_related("revision__quote"), pk=question_id), clock.now()

    def act() -> str:
        close_question(row, signature_of(request.user, now), now)
        return "Answered."

    return step(request, act, reverse("questions", args=[row.revision.quote.job_id]))


# As with the answer, whoever can post here holds the secret in the address (see quoting/client/pages/page.py).
@csrf_exempt
@by_link
def client_ask(request: HttpRequest, link: ClientLink, secret: str) -> HttpResponse:
    def act(now: datetime, today: date) -> None:
        text = request.POST.get("text", "").strip()
        ask(link.revision, {"text": text} if text else {}, today, address_of(request), now)

    return acted(request, link, secret, act, "question")
