"""A quote in the office's hands after it was issued: sent, signed on paper, lapsed and issued anew."""

import re
from datetime import timedelta

import pytest
from django.core import mail as post
from django.test import override_settings

from quoting.client.models import ClientLink, QuoteMail
from quoting.client.services.mails import mail_errand
from quoting.platform.errands.services.errands import run_errand
from quoting.pricing.services.pricing import save_pricing
from quoting.quotes.models import CancellationTerm, ClientAnswer, Holiday
from quoting.quotes.services.revisions import mark_lapsed
from tests.support.answered import with_paper
from tests.support.worked import NOW, PRICING, TODAY

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


@pytest.fixture
def page(revision, a_minute_later):
    with_paper(revision)
    return f"/jobs/{revision.quote.job_id}/price/revisions/1/"


@pytest.fixture
def office(client, make_person, page):
    client.force_login(make_person("office"))
    return client


def test_it_is_sent_once_and_the_page_says_so(office, page):
    key = re.search(r'name="request_key" value="(\w+)"', office.get(page).content.decode())[1]
    refused = office.post(f"{page}send/", {"to_address": "nobody", "request_key": key})
    assert refused.status_code == 422 and "is not a mail address" in refused.content.decode()
    for _ in range(2):
        assert office.post(f"{page}send/", {"to_address": "client@firm.example", "request_key": key}).status_code == 302
    run_errand(mail_errand(QuoteMail.objects.get()).pk, "w")
    assert "http://testserver/q/" in post.outbox[0].body and len(post.outbox) == 1
    assert "Sent to <strong>client@firm.example</strong>" in office.get(page).content.decode()


@pytest.mark.parametrize(
    ("backend", "says"),
    [
        ("quoting.platform.mail_folder", "kept in the mail folder"),
        ("django.core.mail.backends.console", "written to the log"),
    ],
)
def test_a_mail_that_reached_nobody_is_not_called_sent(office, page, tmp_path, backend, says):
    sending = {"to_address": "client@firm.example", "request_key": "once"}
    with override_settings(EMAIL_BACKEND=f"{backend}.EmailBackend", EMAIL_FILE_PATH=tmp_path):
        message = office.post(f"{page}send/", sending, follow=True).content.decode()
        run_errand(mail_errand(QuoteMail.objects.get()).pk, "w")
    assert "is not sent to client@firm.example" in message and "Mail is off" in message
    shown = office.get(page).content.decode()
    assert f"Not sent to client@firm.example: {says}" in shown and "Sent to" not in shown


def test_a_mail_of_before_the_way_was_noted_is_neither_sent_nor_kept(office, page):
    office.post(f"{page}send/", {"to_address": "client@firm.example", "request_key": "once"})
    run_errand(mail_errand(QuoteMail.objects.get()).pk, "w")
    QuoteMail.objects.update(went_by="")
    assert "nobody noted whether it left" in office.get(page).content.decode()


def test_a_link_is_shown_once_and_can_be_withdrawn(office, page):
    shown = office.post(f"{page}link/")
    address = re.search(r"http://testserver(/q/[\w-]{43}/)", shown.content.decode())[1]
    assert (shown["Cache-Control"], office.get(address).status_code) == ("no-store", 200)
    office.post(f"{page}link/withdraw/")
    assert office.get(address).status_code == 410
    assert ClientLink.objects.filter(withdrawn_at=None).count() == 0


def test_what_was_signed_on_paper_is_entered_with_its_day(office, page):
    early = office.post(f"{page}answer/", {"name": "Ada Client", "signed_on": "2026-11-24", "answer": "accepted"})
    assert early.status_code == 422 and "must be a day from the day it was quoted" in early.content.decode()
    office.post(f"{page}answer/", {"name": "Ada Client", "signed_on": "2026-11-25", "answer": "accepted"})
    answer = ClientAnswer.objects.get()
    assert (answer.way, answer.entered_by_name, answer.answered_on) == ("paper", "the-office", TODAY)
    assert "Ada Client" in office.get(page).content.decode()


def test_a_lapsed_quote_is_issued_anew_with_what_differs_shown(client, make_person, revision, page):
    client.force_login(make_person("estimator"))
    mark_lapsed(NOW, revision.valid_until + timedelta(days=1))
    changed = {"subcontract": [{"what": "Painting", "amount": "700.00"}], "inclusions": ["The screen, painted"]}
    save_pricing(revision.quote.job, PRICING | changed, seen_version=None, on_day=TODAY)
    assert "at today's prices" in client.get(page).content.decode().replace("&#x27;", "'")
    shown = client.get(f"/jobs/{revision.quote.job_id}/price/send/").content.decode()
    # By hand: 8,632.00 / 0.62 = 13,922.58, which is 80.64 more than 13,841.94.
    assert "+80.64" in shown and "The screen, painted" in shown and "Since Q-2026-0001 revision 1, lapsed" in shown
    assert "silica" not in shown.split("Since Q-2026")[1].split("To know")[0]


def test_windows_and_holidays_are_entered_on_somebodys_word(client, make_person, page):
    client.force_login(make_person("owner"))
    term = {"term-days": "3", "term-counting": "business", "term-starts_on": "2026-01-01", "term-source": "our lawyer"}
    wrong = client.post("/firm/cancellation/", term | {"term-days": "91"})
    assert wrong.status_code == 422 and "90" in wrong.content.decode()
    assert client.post("/firm/cancellation/", term).status_code == 302
    client.post("/firm/holidays/public/", {"holiday-day": "2027-05-31", "holiday-name": "Holiday"})
    assert "our lawyer" in client.get("/firm/cancellation/").content.decode()
    assert "Mon 31 May 2027" in client.get("/firm/holidays/").content.decode()
    client.post(f"/firm/cancellation/windows/{CancellationTerm.objects.get().pk}/remove/")
    client.post(f"/firm/holidays/public/{Holiday.objects.get().pk}/remove/")
    assert not CancellationTerm.objects.exists() and not Holiday.objects.exists()
