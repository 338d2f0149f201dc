"""The client's page: opened by a secret link alone, changed by nothing but an answer, and told to nobody."""

import logging
from datetime import timedelta

import pytest
from django.apps import apps
from django.test import Client

from quoting.client.models import ClientLink
from quoting.client.pages.gate import ANSWERS, LOOKS, WRONG_LINKS
from quoting.client.services.client_links import find_link
from quoting.platform import clock
from quoting.platform.structured_logs import JsonFormatter
from quoting.quotes.models import ClientAnswer
from quoting.quotes.services.revisions import mark_lapsed, withdraw_revision
from tests.support.answered import secret_to, with_paper
from tests.support.worked import NOW, issued

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def fresh_limits(a_minute_later):
    for limit in (LOOKS, ANSWERS, WRONG_LINKS):
        limit.forget()


@pytest.fixture
def sent(revision):
    return with_paper(revision)


@pytest.fixture
def page(sent):
    return f"/q/{secret_to(sent)}/"


def every_row():
    return {
        model._meta.label: list(model.objects.order_by("pk").values_list())
        for model in apps.get_models()
        if model._meta.app_label in ("catalog", "jobs", "quoting", "sessions")
    }


def accept(page, **more):
    return Client().post(f"{page}answer/", {"answer": "accept", "name": "Ada Client", **more})


def test_looking_a_hundred_times_changes_nothing(page):
    before, client = every_row(), Client()
    for _ in range(50):
        assert client.get(page).status_code == 200
        assert client.get(f"{page}total/").status_code == 200
    client.get(f"{page}quotation.pdf")
    assert every_row() == before
    # The control: an answer does change something.
    assert accept(page).status_code == 302
    assert every_row() != before


@pytest.mark.parametrize("path", ["", "total/", "plan/", "quotation.pdf", "acceptance.pdf"])
def test_nothing_of_it_is_cached_told_on_or_found(page, path):
    response = Client().get(f"{page}{path}")
    assert response["Cache-Control"] == "no-store"
    assert response["Referrer-Policy"] == "no-referrer"
    assert "noindex" in response["X-Robots-Tag"]
    assert not response.cookies


def test_only_the_hash_of_the_secret_is_kept(page):
    import hashlib

    secret = page.split("/")[2]
    assert len(secret) == 43  # 256 bits in base64url, RFC 4648
    assert ClientLink.objects.get().digest == hashlib.sha256(secret.encode()).hexdigest()
    assert secret not in str(every_row())


def test_no_secret_reaches_a_log(page, caplog):
    secret = page.split("/")[2]
    with caplog.at_level(logging.DEBUG):
        for path in (page, f"{page}total/?option=nothing", f"{page}acceptance.pdf", f"/q/{secret}x/", f"{page}none"):
            Client().get(path)
        Client().put(page)
        accept(page, name="")
    lines = [
        JsonFormatter().format(record) for record in caplog.records if record.name.startswith(("quoting", "django."))
    ]
    assert any("q/<str:secret>/" in line for line in lines)
    assert not any(secret in line for line in lines)
    # The control: Django itself names the path of what went wrong, and only our formatter leaves it out.
    assert any(secret in record.getMessage() for record in caplog.records)


def test_the_page_says_the_work_the_total_and_no_cost(sent, page):
    shown = Client().get(page).content.decode()
    for text in ("Corridor screen", "15,641.39", "Tern Street Clinic", "Fri 25 Dec", "Accept the quotation"):
        assert text in shown
    for unsaid in ("8,582.00", "38 %", "R. Sallow", "margin"):
        assert unsaid not in shown


def test_it_is_accepted_by_a_typed_name_and_the_page_says_so(sent, page):
    response = accept(page)
    assert (response.status_code, response["Location"]) == (302, page)
    answer = ClientAnswer.objects.get()
    assert (answer.typed_name, answer.from_address, answer.way) == ("Ada Client", "127.0.0.1", "page")
    shown = Client().get(page).content.decode()
    assert "Accepted" in shown and "Ada Client" in shown and "Accept the quotation" not in shown


def test_pressing_twice_accepts_once(page):
    assert [accept(page).status_code for _ in range(2)] == [302, 302]
    assert ClientAnswer.objects.count() == 1


def test_what_is_refused_says_why_and_keeps_what_was_typed(page):
    response = Client().post(f"{page}answer/", {"answer": "decline", "name": " ", "reason": "too dear"})
    shown = response.content.decode()
    assert response.status_code == 422
    assert "Your name is missing" in shown and "too dear" in shown
    assert not ClientAnswer.objects.exists()


def test_an_answer_needs_no_cookie_and_no_token_of_a_form(page):
    strict = Client(enforce_csrf_checks=True, headers={"Origin": "null"})
    assert strict.post(f"{page}answer/", {"answer": "accept", "name": "Ada Client"}).status_code == 302


def test_an_option_the_quote_does_not_have_is_told_and_not_taken(page):
    assert "no option" in Client().get(f"{page}?option=elm").content.decode()
    assert accept(page, option="elm").status_code == 422


def over_by_revision(sent):
    issued(sent.quote.job, "second")


def over_by_withdrawal(sent):
    withdraw_revision(sent.pk, now=NOW, by_name="R. Sallow", reason="wrong wall")


def over_by_time(sent):
    mark_lapsed(NOW, sent.valid_until + timedelta(days=1))


@pytest.mark.parametrize(
    ("end", "message"),
    [
        (over_by_revision, "A later revision has taken its place"),
        (over_by_withdrawal, "The firm has withdrawn it"),
        (over_by_time, "Its last day has passed"),
    ],
)
def test_a_link_to_what_is_over_says_so_and_cannot_accept(sent, page, end, message):
    end(sent)
    shown = Client().get(page).content.decode()
    assert message in shown and "Accept the quotation" not in shown
    assert accept(page).status_code == 422
    assert not ClientAnswer.objects.exists()


def test_the_last_day_is_the_firms_own(sent, page):
    """At 03:00 UTC on the 26th it is still the 25th in New York, where the firm is; nobody has swept yet."""
    from datetime import UTC, datetime

    for hour, shown in ((3, True), (6, False)):
        with clock.use(clock.FrozenClock(datetime(2026, 12, 26, hour, tzinfo=UTC))):
            assert ("Accept the quotation" in Client().get(page).content.decode()) is shown


def test_a_new_link_ends_the_one_before(sent, page):
    newer = secret_to(sent)
    assert Client().get(page).status_code == 410
    assert accept(page).status_code == 410
    assert Client().get(f"/q/{newer}/").status_code == 200
    assert find_link(newer).withdrawn_at is None


@pytest.mark.parametrize("secret", ["x", "é", "0" * 3000])
def test_an_unknown_link_leads_nowhere(db, secret):
    response = Client().get(f"/q/{secret}/")
    assert (response.status_code, response["Cache-Control"]) == (404, "no-store")


def test_too_many_answers_wait(page, a_minute_later):
    answers = [accept(page, name="").status_code for _ in range(ANSWERS.most + 1)]
    assert answers == [422] * ANSWERS.most + [429]
    a_minute_later.move_on(minutes=1)
    assert accept(page).status_code == 302


def test_guesses_are_counted_and_a_good_link_still_opens(page):
    guesses = [Client().get(f"/q/guess-{turn}/").status_code for turn in range(WRONG_LINKS.most + 1)]
    assert guesses == [404] * WRONG_LINKS.most + [429]
    assert Client().get(page).status_code == 200


def test_behind_a_proxy_the_address_is_the_one_the_proxy_wrote(sent, page, settings):
    settings.BEHIND_PROXY = True
    Client().post(
        f"{page}answer/", {"answer": "accept", "name": "Ada Client"},
        headers={"X-Forwarded-For": "203.0.113.9, 192.0.2.7"},
    )  # fmt: skip
    assert ClientAnswer.objects.get().from_address == "192.0.2.7"
