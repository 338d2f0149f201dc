"""What a client asks on their page: on Today, in the mail of alerts, and closed by the office."""

import pytest
from django.core import mail
from django.test import Client
from django.urls import reverse

from quoting.alerts.services.due_alerts import look_for_alerts
from quoting.alerts.services.mail_preferences import set_wish
from quoting.client.models import ClientQuestion
from quoting.client.pages.gate import ANSWERS, LOOKS
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import run_errand
from tests.support.answered import secret_to, with_paper
from tests.support.desk import as_
from tests.support.worked import NOW, issued, small_job

__all__ = ["as_"]
pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


@pytest.fixture
def page(frozen_clock):
    frozen_clock.move_to(NOW)
    for limit in (LOOKS, ANSWERS):
        limit.forget()
    return f"/q/{secret_to(with_paper(issued(small_job())), by_hand=True)}/"


def ask(page, text="Can the door be wider?"):
    return Client().post(f"{page}question/", {"text": text})


def test_a_question_stands_on_today_until_somebody_says_it_is_answered(as_, page):
    assert ask(page).status_code == 302
    office = as_("office")
    assert "Can the door be wider?" in office.get("/today/").content.decode()
    row = ClientQuestion.objects.get()
    assert (
        "Can the door be wider?" in office.get(reverse("questions", args=[row.revision.quote.job_id])).content.decode()
    )
    office.post(reverse("question_close", args=[row.pk]))
    row.refresh_from_db()
    assert row.answered_by_name == "the-office"
    assert "Can the door be wider?" not in office.get("/today/").content.decode()
    told = office.get(reverse("job_history", args=[row.revision.quote.job_id])).content.decode()
    assert "a question asked" in told and "a question answered" in told


def test_asked_twice_it_is_one_and_the_page_says_it_waits(page):
    assert [ask(page).status_code for _ in range(2)] == [302, 302]
    assert ClientQuestion.objects.count() == 1
    assert "You asked on Wed 25 Nov: “Can the door be wider?”" in Client().get(page).content.decode()


@pytest.mark.parametrize(("text", "why"), [(" ", "missing"), ("x" * 1001, "1000")])
def test_a_question_that_cannot_be_kept_says_why_and_keeps_what_was_typed(page, text, why):
    response = ask(page, text)
    assert response.status_code == 422 and why in response.content.decode()
    assert text.strip() in response.content.decode() and not ClientQuestion.objects.exists()


def test_whoever_wants_alerts_gets_it_by_mail_once(page, make_person):
    owner = make_person("owner")
    set_wish(owner, address="owner@firm.example", alerts=True, weekly_list=False, now=NOW)
    ask(page)
    for _ in range(2):
        look_for_alerts(NOW)
    for errand in Errand.objects.filter(kind="mail_alerts", state="waiting"):
        run_errand(errand.pk, "a test")
    assert [sent.subject for sent in mail.outbox] == ["To do: 1 question of clients"]
    assert "Tern Street Clinic, Corridor screen: Can the door be wider?" in mail.outbox[0].body


def test_by_the_api_it_is_read_and_closed(client, make_person, page):
    ask(page)
    client.force_login(make_person("office"))
    row = client.get("/api/jobs/J-0100/questions").json()["questions"][0]
    assert (row["text"], row["answered_at"]) == ("Can the door be wider?", None)
    assert client.post(f"/api/questions/{row['id']}/answered").json()["answered_by"] == "the-office"
