"""Sending a quote: one mail with its paper and a link that opens, or a doubt somebody can see; never two mails."""

import re
import smtplib

import pytest
from django.core import mail as post
from django.core.mail.backends.locmem import EmailBackend
from django.test import override_settings

from catalog.core.ground.refusal import Refused
from quoting.changes.services.change_drafts import save_draft
from quoting.changes.services.change_notes import answer_change, issue_change
from quoting.client.models import ClientLink, QuoteMail
from quoting.client.services.client_links import find_link
from quoting.client.services.mails import list_mails, mail_errand, request_mail
from quoting.platform import failpoints
from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.errands.services.errands import run_errand
from quoting.platform.failpoints import FailpointError
from quoting.quotes.services.given_answers import Given
from quoting.quotes.services.revisions import withdraw_revision
from tests.support.answered import PDF, accept, with_note_paper, with_paper
from tests.support.worked import NOW, TODAY, estimator

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


@pytest.fixture
def sent(revision, a_minute_later):
    return with_paper(revision)


def ask(revision, to="client@firm.example", key="once", **more):
    wanted = {"message": "", "origin": "https://quotes.example", "by_name": "R. Sallow", "now": NOW, "today": TODAY}
    return request_mail(revision, to_address=to, request_key=key, **(wanted | more))


def run(mail):
    return run_errand(mail_errand(mail).pk, "w")


def test_the_mail_carries_the_paper_and_a_link_that_opens(sent):
    mail = ask(sent, "client@firm.example; architect@office.example")
    assert run(mail) == "done"
    [message] = post.outbox
    assert message.to == ["client@firm.example", "architect@office.example"]
    assert message.attachments[0][0:2] == ("Q-2026-0001-revision-1.pdf", PDF)
    secret = re.search(r"https://quotes\.example/q/([\w-]{43})/", message.body)[1]
    assert find_link(secret).revision == sent
    mail.refresh_from_db()
    assert mail.sent_at is not None
    assert secret not in str(list(Errand.objects.values())) + str(list(ClientLink.objects.values()))


def test_asking_twice_sends_once(sent):
    assert ask(sent).pk == ask(sent).pk
    mail = QuoteMail.objects.get()
    assert [run(mail), run(mail)] == ["done", "not ours"]
    assert len(post.outbox) == 1


@pytest.mark.parametrize("place", ["mail_begun", "mail_sent"])
def test_a_worker_that_stops_while_sending_leaves_a_doubt_and_no_second_mail(sent, place, a_minute_later):
    mail = ask(sent)
    with failpoints.ordered(**{place: "raise"}), pytest.raises(FailpointError):
        # Past the errand's own net, as a killed process would be.
        from quoting.client.services.mail_errands import MailQuote
        from quoting.platform.errands.services.errand_kinds import Claim

        errand = mail_errand(mail)
        MailQuote().work(Claim(errand.pk, errand.kind, errand.key, errand.payload, "w", 1, lambda text, percent: None))
    before = len(post.outbox)
    assert run(mail) == "failed"
    assert len(post.outbox) == before <= 1
    assert "may not have left" in mail_errand(mail).error


class Refuses(EmailBackend):
    error: Exception = smtplib.SMTPConnectError(421, "busy")

    def send_messages(self, messages):
        raise self.error


def test_a_mail_server_that_is_not_there_is_tried_again(sent, settings, monkeypatch, a_minute_later):
    mail = ask(sent)
    with monkeypatch.context() as patch:
        patch.setattr("django.core.mail.backends.locmem.EmailBackend.send_messages", Refuses.send_messages)
        patch.setattr(EmailBackend, "error", Refuses.error, raising=False)
        assert run(mail) == "try again"
    a_minute_later.move_on(minutes=1)
    assert run(mail) == "done"
    assert len(post.outbox) == 1
    assert ClientLink.objects.filter(withdrawn_at=None).count() == 1


def test_a_talk_that_breaks_off_is_not_repeated(sent, monkeypatch):
    """The control of the test before: of this error nobody can say whether the server took the mail."""
    mail = ask(sent)
    monkeypatch.setattr("django.core.mail.backends.locmem.EmailBackend.send_messages", Refuses.send_messages)
    monkeypatch.setattr(EmailBackend, "error", smtplib.SMTPServerDisconnected("gone"), raising=False)
    assert run(mail) == "failed"
    assert "Ask whether it came" in mail_errand(mail).error


def test_what_was_withdrawn_meanwhile_is_not_sent(sent):
    mail = ask(sent)
    withdraw_revision(sent.pk, now=NOW, by_name="R. Sallow", reason="wrong wall")
    assert run(mail) == "failed"
    assert post.outbox == []
    assert mail_errand(mail).state == ErrandState.FAILED


@pytest.mark.parametrize(
    ("more", "message"),
    [
        ({"to": ""}, "address to send to is missing"),
        ({"to": "nobody"}, "'nobody' is not a mail address"),
        ({"to": "a@b.example\nBcc: c@d.example"}, "is not a mail address"),
        ({"to": " ".join(f"a{n}@b.example" for n in range(6))}, "at most 5"),
        ({"message": "x" * 5001}, "at most 5,000"),
    ],
)
def test_a_mail_that_cannot_go_is_refused(sent, more, message):
    with pytest.raises(Refused, match=message):
        ask(sent, **more)
    assert not QuoteMail.objects.exists()


def test_without_its_paper_nothing_is_sent(revision):
    with pytest.raises(Refused, match="not made yet"):
        ask(revision)


@pytest.fixture
def note(sent):
    accept(sent)
    sent.refresh_from_db()
    change = {"title": "A niche", "reason": "Asked for.", "lines": [{"what": "Niche", "price": "200.00"}]}
    draft = save_draft(sent.quote.job, change, by=estimator(), now=NOW)
    wanted = {"request_key": "n", "seen_version": 1, "by": estimator(), "now": NOW, "today": TODAY}
    return with_note_paper(issue_change(draft, **wanted))


def test_a_change_note_goes_with_its_paper_and_a_link_to_its_page_once(sent, note, client):
    mail = ask(sent, note=note)
    assert mail.pk == ask(sent, note=note).pk
    assert [run(mail), run(mail)] == ["done", "not ours"]
    [message] = post.outbox
    # 200.00 with 13 % tax.
    assert "226.00 with tax" in message.body and message.subject.startswith("Change note 1 to quotation Q-2026-0001")
    assert message.attachments[0][0:2] == ("J-0100-change-note-1.pdf", PDF)
    path = re.search(r"https://quotes\.example(/q/[\w-]{43}/changes/1/)", message.body)[1]
    assert "A niche" in client.get(path).content.decode()
    assert [len(list_mails(sent, about)) for about in (None, note)] == [0, 1]


def test_a_request_that_sent_a_note_sends_nothing_else(sent, note):
    ask(sent, note=note)
    with pytest.raises(Refused, match="sent another paper"):
        ask(sent)


def test_a_note_answered_before_its_mail_is_begun_is_not_sent(sent, note):
    mail = ask(sent, note=note)
    answer_change(note, Given("signed", "Ada Client", entered_by_name="R. Sallow"), now=NOW, today=TODAY)
    assert run(mail) == "failed" and post.outbox == []
    assert "can no longer be signed" in mail_errand(mail).error
    with pytest.raises(Refused, match="can no longer be signed"):
        ask(sent, key="again", note=type(note).objects.get())


FOLDER = "quoting.platform.mail_folder.EmailBackend"


def test_a_mail_keeps_by_which_way_it_went_whatever_is_set_up_later(sent, tmp_path):
    with override_settings(EMAIL_BACKEND=FOLDER, EMAIL_FILE_PATH=tmp_path):
        stored = ask(sent)
        run(stored)
    handed = ask(sent, key="again")
    run(handed)
    stored.refresh_from_db()
    handed.refresh_from_db()
    assert (stored.went_by, stored.left_at) == ("folder", None) and stored.sent_at is not None
    assert handed.went_by == "server" and handed.left_at == handed.sent_at is not None


def test_a_mail_of_before_the_way_was_noted_counts_as_handed_over(sent):
    mail = ask(sent)
    run(mail)
    QuoteMail.objects.update(went_by="")
    mail.refresh_from_db()
    assert mail.left_at is not None and not mail.is_kept_here
