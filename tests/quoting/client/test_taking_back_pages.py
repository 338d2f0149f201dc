"""Taking an acceptance back and mailing a change note, on the pages. The window ends on Sat 28 Nov 2026."""

import pytest
from django.urls import reverse

from quoting.client.models import QuoteMail
from quoting.platform import clock
from quoting.quotes.models import CancellationTerm, QuoteRevision, TakeBack
from tests.quoting.client.test_taking_back import LAST, noted
from tests.support.answered import accept, secret_to, with_note_paper, with_paper
from tests.support.worked import NOW, TODAY, issued

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


@pytest.fixture
def now():
    with clock.use(clock.FrozenClock(NOW)) as frozen:
        yield frozen


@pytest.fixture
def agreed(job, now):
    CancellationTerm.objects.create(starts_on=TODAY, days=3, counting="business_and_saturday", source="our lawyer")
    revision = with_paper(issued(job))
    revision.secret = secret_to(revision)
    accept(revision)
    return revision


def pages_of(revision):
    job = revision.quote.job_id
    return {
        "revision": reverse("revision", args=[job, revision.number]),
        "changes": reverse("change_list", args=[job]),
        "history": reverse("job_history", args=[job]),
        "job": reverse("job", args=[job]),
    }


def test_the_client_takes_it_back_by_the_link_and_every_page_says_so(agreed, client, make_person):
    there = f"/q/{agreed.secret}/"
    assert ">Cancel the acceptance</button>" in client.get(there).content.decode()
    assert client.post(f"{there}take-back/", {"name": ""}).status_code == 422
    assert QuoteRevision.objects.get().state == "accepted"
    note = noted(agreed.quote.job)
    assert client.post(f"{there}take-back/", {"name": "Ada Client", "reason": "too dear"}).status_code == 302
    shown = client.get(there).content.decode()
    assert "Cancelled" in shown and "button plain" in shown and f"{there}take-back/" not in shown
    assert client.get(f"{there}changes/{note.number}/").content.decode().count("was cancelled") == 1
    back = TakeBack.objects.get()
    assert (back.way, back.reason, back.from_address) == ("page", "too dear", "127.0.0.1")
    client.force_login(make_person("estimator"))
    pages = {name: client.get(url).content.decode() for name, url in pages_of(agreed).items()}
    assert "Issue at today" in pages["revision"]
    assert "Nothing is agreed" in pages["changes"] and "Notes to what was cancelled" in pages["changes"]

    assert "The client cancelled" in pages["job"]
    assert f"the acceptance of {agreed} cancelled" in pages["history"]
    assert f"{agreed} accepted" in pages["history"] and f"{note} withdrawn" in pages["history"]


def test_after_the_window_the_page_no_longer_offers_it_and_the_office_may_enter_its_last_day(
    agreed, client, make_person, now
):
    now.move_on(days=4)
    there = f"/q/{agreed.secret}/"
    assert f"{there}take-back/" not in client.get(there).content.decode()
    refused = client.post(f"{there}take-back/", {"name": "Ada Client"})
    assert (refused.status_code, "that day has passed" in refused.content.decode()) == (422, True)
    client.force_login(make_person("office"))
    url = reverse("revision_take_back", args=[agreed.quote.job_id, agreed.number])
    typed = {"name": "Ada Client", "given_on": "2026-11-29", "way": "letter", "reason": "none given"}
    for wrong, message in [({}, "that day has passed"), ({"way": "page"}, "page is not one of those offered"),
                        ({"given_on": "soon"}, "Notice given on")]:  # fmt: skip
        page = client.post(url, typed | wrong)
        assert (page.status_code, message in page.content.decode()) == (422, True)
    assert client.post(url, typed | {"given_on": LAST.isoformat()}).status_code == 302
    assert TakeBack.objects.get().entered_by_name == "the-office"


def test_the_office_mails_a_change_note_once(agreed, client, make_person):
    note = with_note_paper(noted(agreed.quote.job))
    client.force_login(make_person("office"))
    url, page = (reverse(name, args=[note.job_id, note.number]) for name in ("change_send", "change_note"))
    wrong = client.post(url, {"to_address": "nobody", "request_key": "k"})
    assert (wrong.status_code, "is not a mail address" in wrong.content.decode()) == (422, True)
    for _ in range(2):
        assert client.post(url, {"to_address": "client@firm.example", "request_key": "k"}).status_code == 302
    assert QuoteMail.objects.get().change_note == note
    assert "On its way to <strong>client@firm.example" in client.get(page).content.decode()
