"""What clients ask, as the office reads and closes it."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from jobs.jobs.pages.requests import job_or_404
from quoting.client.models import ClientQuestion
from quoting.client.services.questions import close_question, questions_of
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.pages.step import step


def questions(request: HttpRequest, job_id: int) -> HttpResponse:
    job = job_or_404(job_id)
    return render(request, "client/questions.html", {"job": job, "questions": questions_of(job)})


def question_close(request: HttpRequest, question_id: int) -> HttpResponse:
    row, now = get_object_or_404(ClientQuestion.objects.select_related("revision__quote"), pk=question_id), clock.now()

    def act() -> str:
        close_question(row, signature_of(request.user, now), now)
        return "Answered."

    return step(request, act, reverse("questions", args=[row.revision.quote.job_id]))
