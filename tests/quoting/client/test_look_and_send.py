"""The quotation is looked at before it is frozen, and sent in one step."""

import pytest
from django.core import mail as post
from django.test import override_settings
from django.urls import reverse

from quoting.audit_checks import answers_are_in_order
from quoting.client.models import ClientLink, QuoteMail
from quoting.client.services.mails import mail_errand
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import run_errand
from quoting.platform.papers.papers import RENDER_QUOTE
from quoting.quotes.models import QuoteRevision
from tests.quoting.quotes.test_quotes_pages import dental
from tests.support.desk import DAY, as_

__all__ = ["as_", "dental"]


@pytest.fixture
def press(as_, dental):
    """press(way, **typed) -> the page after the button."""
    estimator, url = as_("estimator"), reverse("quote_issue", args=[dental.pk])

    def send(way: str, **typed: str):
        shown = estimator.get(url).context
        sent = {name: shown[name] for name in ("request_key", "seen_mark")} | {"way": way}
        return estimator.post(url, sent | typed, follow=True)

    return send


def test_its_mail_waits_for_the_paper_and_goes_once_that_is_made(press, tmp_path):
    said = press("send", to_address="marta@larkmoor.example").content.decode()
    assert "You&#x27;ll see here when it is opened" in said and "once its paper is made" in said
    mail = QuoteMail.objects.get()
    assert mail_errand(mail) is None and list(answers_are_in_order(DAY)) == []
    with override_settings(MEDIA_ROOT=tmp_path):
        run_errand(Errand.objects.get(kind=RENDER_QUOTE).pk, "w")
        run_errand(mail_errand(mail).pk, "w")
    assert [sent.to for sent in post.outbox] == [["marta@larkmoor.example"]]


def test_a_wrong_address_freezes_nothing(press):
    shown = press("send", to_address="marta")
    assert shown.status_code == 409 and "marta" in shown.content.decode()
    assert not QuoteRevision.objects.exists()


def test_a_link_is_made_at_once_and_the_pdf_alone_sends_nothing(press):
    assert "http://testserver/q/" in press("link").content.decode()
    assert ClientLink.objects.filter(withdrawn_at=None).count() == 1
    press("pdf")
    assert QuoteRevision.objects.count() == 2 and not QuoteMail.objects.exists()


def test_the_first_page_shows_what_will_be_frozen_and_freezes_nothing(as_, dental):
    answer = as_("estimator").get(reverse("quote_first_page", args=[dental.pk]))
    # Worked example, Larkmoor Dental: 15,641.39 with tax.
    assert "15,641.39" in answer.content.decode() and "asset:" not in answer.content.decode()
    assert "frame-ancestors 'self'" in answer["Content-Security-Policy"]
    assert "script-src 'none'" in answer["Content-Security-Policy"]
    assert not QuoteRevision.objects.exists()


def test_a_job_that_is_not_priced_has_no_first_page(as_, dental):
    dental.pricing.delete()
    assert as_("estimator").get(reverse("quote_first_page", args=[dental.pk])).status_code == 404
