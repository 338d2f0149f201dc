"""What keeps requests and payments in order: closed months, the audit, the history, and who reads which figure."""

import re
from datetime import UTC, date, datetime
from decimal import Decimal as D
from importlib import import_module

import pytest
from django.apps import apps
from django.db import connection
from django.urls import reverse

from quoting.payment_requests.models import PaymentReceived, PaymentRequest
from quoting.payment_requests.services.asked import asked_of
from quoting.payment_requests.services.issuing import credit_request
from quoting.payment_requests.services.payments_received import enter_payment, payments_of, received_sum, undo_payment
from quoting.payment_requests.services.request_papers import paper_errand
from quoting.payment_requests.services.standing import requests_of
from quoting.platform import clock
from quoting.platform.errands.services.errands import run_errand
from quoting.platform.immutable_tables import freeze, thaw
from quoting.platform.people.signatures import Signature
from quoting.service.audit.services.audit import audit
from tests.support.answered import secret_to
from tests.support.asked import NICHE, OWNER, ask, asked, hall, office, signed_note
from tests.support.desk import as_
from tests.support.months import close
from tests.support.worked import NOW, TODAY

__all__ = ["as_"]
pytestmark = [pytest.mark.both_engines, pytest.mark.usefixtures("db")]
LATER = datetime(2026, 12, 2, 15, 0, tzinfo=UTC)
IN_DECEMBER = Signature("O. Owner", date(2026, 12, 2))


@pytest.fixture(autouse=True)
def day(frozen_clock):
    frozen_clock.move_to(NOW)


def paid(job, amount="5325.90"):
    document = {"request_key": "bank", "amount": amount, "received_on": TODAY.isoformat()}
    return enter_payment(job, document, OWNER, now=NOW)[0]


def test_a_payment_of_a_closed_month_stays_and_is_taken_off_in_the_next(frozen_clock):
    job = hall()
    ask(job, "deposit")
    row = paid(job)
    frozen_clock.move_to(LATER)
    close("2026-11", IN_DECEMBER)
    for _ in range(2):
        undo_payment(row, {"reason": "Sent back by the bank"}, IN_DECEMBER, now=LATER)
    off = PaymentReceived.objects.get(undoes=row)
    assert (off.amount, off.posted_month) == (D("-5325.90"), date(2026, 12, 1))
    assert received_sum(payments_of(job)) == 0 and asked_of([job.pk])[job.pk].open == D("5325.90")


def test_a_request_of_a_closed_month_is_credited_in_the_next(frozen_clock):
    job = hall()
    row = ask(job, "deposit")
    frozen_clock.move_to(LATER)
    close("2026-11", IN_DECEMBER)
    credit, _ = credit_request(row, {"request_key": "c", "reason": "Wrong sum"}, office(), now=LATER)
    months = PaymentRequest.objects.values_list("posted_month", flat=True).order_by("number")
    assert list(months) == [date(2026, 11, 1), date(2026, 12, 1)] and credit.total == D("-5325.90")


def found():
    return audit(clock.now())["payment requests"]


def test_the_audit_finds_a_figure_a_number_and_a_snapshot_that_are_not_as_issued():
    asked(hall(), "deposit", "instalment 0")
    assert found() == []
    thaw(connection)
    PaymentRequest.objects.filter(number=2).update(number=3, held_price=D("1.00"), snapshot="{}")
    freeze(connection)
    message = " ".join(found())
    assert "Request 3 follows number 1" in message and "is not what was issued" in message
    assert "its parts come to 2631.51, but 2263.51 is to pay" in message


def shown(client, name, *args):
    response = client.get(reverse(name, args=args))
    return response.content.decode() if response.status_code == 200 else str(response.status_code)


def test_the_history_tells_the_office_of_requests_and_the_estimator_nothing_of_them(as_):
    job = hall()
    row = ask(job, "deposit")
    credit_request(row, {"request_key": "c", "reason": "Wrong sum"}, office(), now=NOW)
    message = shown(as_("office"), "job_history", job.pk)
    assert "payment request 1" in message.lower() and "Wrong sum" in message
    assert "payment request" not in shown(as_("estimator"), "job_history", job.pk).lower()


CANARY = "47.13"
COSTED = {**NICHE, "lines": [{"what": "Niche", "price": "1240.00", "cost": CANARY}]}


def test_what_a_note_costs_the_firm_is_on_no_page_paper_or_call_about_requests(as_, client, settings, tmp_path):
    settings.MEDIA_ROOT, job = tmp_path, hall()
    signed_note(job, document=COSTED)
    row = asked(job, "instalment 0")[0]
    run_errand(paper_errand(row).pk, "a test")
    secret, desk = secret_to(requests_of(job).revision), as_("office")
    pages = [shown(desk, "since_signed", job.pk), shown(desk, "payment_request", job.pk, 1)]
    pages += [shown(desk, "client_statement", job.client_id), shown(desk, "payments", job.pk), row.snapshot]
    pages += [shown(desk, "api_requests", job.key), shown(client, "client_quote", secret)]
    assert all("1,240.00" in page or "8,582.00" in page or len(page) > 900 for page in pages)
    assert not [page for page in pages if re.search(CANARY.replace(".", r"\."), page)]


@pytest.mark.parametrize("role", ["lead", "estimator"])
def test_what_the_client_is_asked_to_pay_is_shown_to_office_and_owner_alone(as_, role, settings, tmp_path):
    settings.MEDIA_ROOT, job = tmp_path, hall()
    row = ask(job, "deposit")
    run_errand(paper_errand(row).pk, "a test")
    person = as_(role)
    for name, args in (("since_signed", [job.pk]), ("payment_request", [job.pk, 1]), ("payments", [job.pk])):
        assert shown(person, name, *args) == "403", name
    assert shown(person, "client_statement", job.client_id) == "403"
    assert shown(person, "paper", row.paper.pk) in ("403", "404")
    assert shown(person, "paper_progress", paper_errand(row).pk) in ("403", "404")


def test_a_link_shows_no_request_of_another_quote(client):
    job, other = hall(), hall("J-0300")
    ask(job, "deposit")
    secret = secret_to(requests_of(other).revision)
    assert "Payment requests" not in shown(client, "client_quote", secret)
    assert client.get(reverse("client_request", args=[secret, 1])).status_code == 404


def test_open_requests_stand_on_the_owners_today_and_are_late_once_their_day_is_past(as_, frozen_clock):
    job = hall()
    ask(job, "deposit")
    owner = as_("owner")
    assert "Collect request 1: Deposit" in shown(owner, "today")
    frozen_clock.move_to(datetime(2026, 12, 11, 15, 0, tzinfo=UTC))
    message = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", shown(owner, "today")))
    assert re.search(r"2 late.{0,40}Collect request 1: Deposit", message)


def test_the_estimator_is_led_to_the_contract_where_others_enter_payments(as_):
    job = hall()
    ask(job, "deposit")
    message = shown(as_("estimator"), "job", job.pk)
    assert reverse("payments", args=[job.pk]) not in message
    assert reverse("payments", args=[job.pk]) in shown(as_("office"), "job", job.pk)


def test_payments_entered_before_months_were_counted_count_in_their_own():
    fill = import_module("quoting.migrations.0020_payment_requests").count_in_their_month
    job = hall()
    paid(job)
    PaymentReceived.objects.update(posted_month=date(2000, 1, 1))
    fill(apps, None)
    assert PaymentReceived.objects.get().posted_month == date(2026, 11, 1)
