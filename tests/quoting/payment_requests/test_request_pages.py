"""Since signed: what the office and the owner see and do, and what nobody else sees."""

import re

import pytest
from django.core import mail
from django.urls import reverse

from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import KeyUsedBefore
from jobs.finish.models import FinishItem
from quoting.payment_requests.models import EventMark, JobRetention, PaymentRequest, RequestMail, RequestTerms
from quoting.payment_requests.services.issuing import credit_request
from quoting.payment_requests.services.mailing import begin_request_mail, mail_errand, send_request
from quoting.payment_requests.services.request_papers import paper_errand
from quoting.payment_requests.services.standing import requests_of
from quoting.platform.errands.services.errands import run_errand
from quoting.platform.mail_once import take_back_beginning
from tests.support.answered import secret_to
from tests.support.asked import OWNER, TERMS, ask, asked, hall, marked, office, signed_note
from tests.support.desk import as_, opened
from tests.support.worked import NOW, small_job

__all__ = ["as_"]
pytestmark = pytest.mark.usefixtures("db")
FIRST = ("deposit", "instalment 0")
KEY = "0123456789abcdef"


@pytest.fixture(autouse=True)
def day(frozen_clock):
    frozen_clock.move_to(NOW)


@pytest.fixture
def desk(as_):
    return as_("office")


def page(client, name, *args, query=""):
    response = client.get(reverse(name, args=args) + query)
    assert response.status_code == 200, name
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", response.content.decode()))


def sent(client, name, *args, query="", **typed):
    response = client.post(reverse(name, args=args) + query, typed, follow=True)
    return response.status_code, response.content.decode()


def test_the_page_says_what_is_due_and_what_can_be_asked_for_next(desk):
    job = hall()
    marked(job, "instalment 0")
    shown = page(desk, "since_signed", job.pk)
    assert "USD 5,325.90 can be asked for: Deposit." in shown and "Deposit, USD 5,325.90" in shown
    asked(job, "deposit")
    shown = page(desk, "since_signed", job.pk)
    assert "USD 5,325.90 is due by Wed 9 Dec. USD 2,263.51 can be asked for: Framing up." in shown


def test_what_is_overdue_stands_first(desk, frozen_clock):
    job = hall()
    asked(job, "deposit")
    frozen_clock.move_to(NOW.replace(month=12, day=10))
    assert "USD 5,325.90 is overdue since Wed 9 Dec." in page(desk, "since_signed", job.pk)


def test_a_job_nobody_signed_asks_for_nothing(desk):
    assert "nothing can be asked for" in page(desk, "since_signed", small_job("J-0200").pk)


def test_an_event_is_marked_a_request_issued_sent_and_credited_page_by_page(desk, settings, tmp_path):
    settings.MEDIA_ROOT, job = tmp_path, hall()
    query = "?part=instalment 0"
    sent(desk, "event_mark", job.pk, query=query, request_key=KEY, happened_on="2026-11-24")
    assert EventMark.objects.get().marked_by_name == "the-office"
    assert "To pay: USD 7,589.41 with tax." in page(desk, "request_issue", job.pk, query=query)
    for _ in range(2):
        sent(desk, "request_issue", job.pk, query=query, request_key=KEY, shown="7589.41", due="2026-12-01")
    row = PaymentRequest.objects.get()
    run_errand(paper_errand(row).pk, "a test")
    assert "USD 7,589.41 is due by Tue 1 Dec" in page(desk, "payment_request", job.pk, row.number)
    for _ in range(2):
        sent(desk, "request_send", job.pk, row.number, request_key=KEY, to_address="ada@client.invalid")
    assert RequestMail.objects.count() == 1
    _, shown = sent(desk, "request_credit", job.pk, row.number, request_key="another-key", reason="Wrong sum")
    assert "Request 1 is cancelled by credit 2" in shown


def test_the_last_request_names_what_is_open_on_the_finish_list_and_no_other_does(desk):
    job = hall()
    asked(job, "deposit", "instalment 0", "instalment 1")
    item = {"by_client": True, "raised_on": NOW.date(), "raised_by": "Ada Client"}
    FinishItem.objects.create(job=job, request_key="one", what="Dent beside the door", **item)
    for part, is_named in (("instalment 2", False), ("instalment 3", True)):
        marked(job, part)
        shown = page(desk, "request_issue", job.pk, query=f"?part={part}")
        assert ("Still open on the finish list: Dent beside the door." in shown) is is_named
        ask(job, part)


def test_a_sum_that_changed_since_it_was_shown_is_not_issued(desk):
    job = hall()
    marked(job, "instalment 0")
    signed_note(job)
    status, shown = sent(desk, "request_issue", job.pk, query="?part=instalment 0", request_key=KEY, shown="7589.41")
    assert status == 409 and "Nothing was issued" in shown and not PaymentRequest.objects.exists()


def test_the_mail_carries_the_paper_and_says_how_to_pay(desk, settings, tmp_path):
    settings.MEDIA_ROOT, job = tmp_path, hall()
    row = ask(job, "deposit")
    status, shown = sent(desk, "request_send", job.pk, 1, request_key=KEY, to_address="ada@client.invalid")
    assert status == 422 and "is not made yet" in shown
    run_errand(paper_errand(row).pk, "a test")
    sent(desk, "request_send", job.pk, 1, request_key=KEY, to_address="ada@client.invalid")
    run_errand(mail_errand(RequestMail.objects.get()).pk, "a test")
    left = mail.outbox[0]
    assert left.subject == "Payment request 1: Deposit, Corridor screen"
    assert "To pay: USD 5,325.90, by" in left.body and TERMS["how_to_pay"] in left.body
    assert [attachment[0] for attachment in left.attachments] == ["J-0100-request-1.pdf"]


def test_a_request_credited_before_its_mail_left_is_not_sent(desk, settings, tmp_path):
    settings.MEDIA_ROOT, job = tmp_path, hall()
    row = ask(job, "deposit")
    run_errand(paper_errand(row).pk, "a test")
    sent(desk, "request_send", job.pk, 1, request_key=KEY, to_address="ada@client.invalid")
    credit_request(row, {"request_key": "c", "reason": "Wrong"}, office(), now=NOW)
    run_errand(mail_errand(RequestMail.objects.get()).pk, "a test")
    assert not mail.outbox and "was credited by Request 2" in page(desk, "payment_request", job.pk, 1)


def test_the_owner_sets_how_clients_pay_and_what_is_held_back(as_):
    job, owner = hall(held=""), as_("owner")
    page(owner, "request_terms")
    hidden = opened(owner, reverse("request_terms"))
    sent(owner, "request_terms", **hidden, how_to_pay="By cheque.", days_to_pay="30")
    assert (RequestTerms.objects.get().days_to_pay, RequestTerms.objects.get().tax_number) == (30, "")
    hidden = opened(owner, reverse("job_retention", args=[job.pk]))
    sent(owner, "job_retention", job.pk, **hidden, share="5", event="A year is over", holds_tax="on")
    assert str(JobRetention.objects.get().to_core().share) == "0.05"
    assert "5 % until: A year is over." in page(owner, "since_signed", job.pk)


def test_a_payment_shows_which_requests_it_pays(desk):
    job = hall()
    asked(job, *FIRST)
    status, shown = sent(desk, "payments", job.pk, request_key=KEY, amount="6,000.00", received_on="2026-11-25")
    assert status == 200 and "request 1: 5,325.90, request 2: 674.10" in shown


def test_a_statement_lists_requests_and_payments_of_all_jobs_of_a_client(desk, settings, tmp_path):
    settings.MEDIA_ROOT, job = tmp_path, hall()
    asked(job, *FIRST)
    sent(desk, "payments", job.pk, request_key=KEY, amount="5325.90", received_on="2026-11-25")
    shown = page(desk, "client_statement", job.client_id)
    assert "USD 2,263.51 is open." in shown and "Held back: 399.44" in shown
    status, shown = sent(desk, "client_statement_paper", job.client_id)
    assert status == 200 and "The statement is being made" in shown


def test_the_client_sees_requests_of_their_own_quote_and_fetches_the_paper(client, settings, tmp_path):
    settings.MEDIA_ROOT, job = tmp_path, hall()
    row = ask(job, "deposit")
    run_errand(paper_errand(row).pk, "a test")
    secret = secret_to(requests_of(job).revision)
    shown = client.get(reverse("client_quote", args=[secret])).content.decode()
    assert "Request 1: Deposit" in shown and "5,325.90</span> to pay by" in shown
    paper = client.get(reverse("client_request", args=[secret, 1]))
    assert paper["Content-Type"] == "application/pdf"
    assert client.get(reverse("client_request", args=[secret, 2])).status_code == 404


def test_a_mail_that_had_begun_is_not_begun_again_unless_the_server_surely_has_nothing(settings, tmp_path):
    settings.MEDIA_ROOT, row = tmp_path, ask(hall(), "deposit")
    run_errand(paper_errand(row).pk, "a test")
    texts = {"request_key": KEY, "to_address": "ada@client.invalid"}
    stored, _ = send_request(row, texts, OWNER, now=NOW)
    begun = begin_request_mail(stored.pk, NOW)
    with pytest.raises(Refused, match="may not have left"):
        begin_request_mail(stored.pk, NOW)
    take_back_beginning(begun)
    assert begin_request_mail(stored.pk, NOW).began_at == NOW


def test_one_key_mails_one_request(settings, tmp_path):
    settings.MEDIA_ROOT, rows = tmp_path, asked(hall(), *FIRST)
    for row in rows:
        run_errand(paper_errand(row).pk, "a test")
    texts = {"request_key": KEY, "to_address": "ada@client.invalid"}
    assert [send_request(rows[0], texts, OWNER, now=NOW)[1] for _ in range(2)] == [True, False]
    with pytest.raises(KeyUsedBefore):
        send_request(rows[1], texts, OWNER, now=NOW)
