import re
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from django.core.cache import cache
from django.db import transaction
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from quoting.platform.people import access
from quoting.platform.people.access import ALL_ROLES, ANONYMOUS, STAFF, matrix, route
from quoting.platform.people.models import Role
from quoting.platform.people.services.people import change_person
from quoting.platform.people.services.tokens import make_token, withdraw_token

METHODS = ["GET", "HEAD", "OPTIONS", "POST", "PUT", "PATCH", "DELETE", "TRACE"]
SAMPLES = {
    "int": "999999",
    "str": "x",
    "slug": "x",
    "path": "x",
    "uuid": "00000000-0000-4000-8000-000000000000",
}


def declared_urls(resolver: URLResolver, prefix: str = "", names: str = "") -> Iterator[tuple[str, str]]:
    """The name of every URL of the service, with a path that leads to it."""
    for entry in resolver.url_patterns:
        route = prefix + str(entry.pattern)
        if isinstance(entry, URLResolver):
            yield from declared_urls(entry, route, f"{names}{entry.namespace}:" if entry.namespace else names)
        elif isinstance(entry, URLPattern):
            filled = re.sub(r"<(?:(\w+):)?\w+>", lambda part: SAMPLES.get(part[1] or "str", "x"), route)
            yield f"{names}{entry.name or ''}", "/" + filled


@pytest.fixture(scope="session")
def urls() -> list[tuple[str, str]]:
    return sorted(declared_urls(get_resolver()))


def test_every_url_states_its_roles_under_a_name_of_its_own(urls):
    assert [name for name, _ in urls] == sorted(matrix())


def test_no_method_is_for_nobody_and_no_role_unknown():
    for name, row in matrix().items():
        for method, roles in row.items():
            assert method in METHODS, name
            assert roles, f"{name} {method} is for nobody; leave the method out"
            assert roles <= set(ALL_ROLES), name


def see(request):
    raise AssertionError("no view runs here")


def test_both_stands_for_get_and_post_and_no_other_method():
    assert route("x/", see, "x", both=STAFF).roles == {"GET": STAFF, "POST": STAFF}
    assert route("x/", see, "x", POST=STAFF).roles == {"POST": STAFF}


def client_of(role, people):
    client = Client(raise_request_exception=False)
    if role != ANONYMOUS:
        client.force_login(people[role])
    return client


def was_turned_away(response):
    to_log_in = response.status_code == 302 and response["Location"].startswith(reverse("login") + "?next=")
    return to_log_in or response.status_code in (401, 403, 405)


@pytest.fixture
def people(make_person):
    return {role: make_person(role) for role in Role.values}


@pytest.mark.sqlite  # who may do what is settled before any row is read
@pytest.mark.parametrize("role", ALL_ROLES)
def test_each_role_may_do_with_each_url_what_the_matrix_says_and_nothing_else(role, urls, people):
    client, wrong = client_of(role, people), []
    for name, url in urls:
        cache.clear()  # no URL is turned away because others were called before
        for method in METHODS:
            with undone():
                response = client.generic(method, url)
            unwell = name == "health_ready" and response.status_code == 503
            fails = response.status_code >= 500 and not unwell
            if fails or was_turned_away(response) == access.is_allowed(role, name, method):
                wrong.append((name, method, response.status_code))
            if name == "logout":
                client = client_of(role, people)
    assert wrong == []


@contextmanager
def undone() -> Iterator[None]:
    """What one URL changes is not there for the next."""
    with transaction.atomic():
        yield
        transaction.set_rollback(True)


@pytest.mark.urls("tests.quoting.platform.people.undeclared_urls")
@pytest.mark.parametrize("url", ["/secret/", "/api/secret/", "/nameless/", "/twice/", "/once-more/"])
def test_an_undeclared_url_answers_nobody(url, people):
    for role in ALL_ROLES:
        assert client_of(role, people).get(url).status_code == 403


@pytest.mark.urls("tests.quoting.platform.people.undeclared_urls")
def test_the_undeclared_url_would_answer_without_the_middleware(people, settings):
    """The control of the test above."""
    settings.MIDDLEWARE = [name for name in settings.MIDDLEWARE if "AccessMiddleware" not in name]
    with pytest.raises(AssertionError, match="no view behind"):
        Client().get("/secret/")


def test_a_stranger_is_sent_to_the_log_in_and_back(client, db):
    assert client.get("/firm/people/")["Location"] == "/log-in/?next=%2Ffirm%2Fpeople%2F"


def test_a_fragment_asked_for_by_a_stranger_sends_the_whole_page_to_the_log_in(client, db):
    response = client.get("/firm/people/", headers={"HX-Request": "true"})
    assert (response.status_code, response["HX-Redirect"]) == (401, "/log-in/")


def test_a_person_who_may_no_longer_log_in_is_a_stranger_at_once(client, people):
    client.force_login(people["office"])
    assert client.get("/account/").status_code == 200
    change_person(people["office"].pk, full_name="Gone", role="office", is_active=False)
    assert client.get("/account/").status_code == 302


@pytest.fixture
def token(make_person, frozen_clock):
    person = make_person("office", "kit")
    row, secret = make_token(person, "spreadsheet", frozen_clock.now())
    return person, row, secret


def ask_api(client, secret, scheme="Bearer"):
    return client.get("/api/schema/", headers={"Authorization": f"{scheme} {secret}"})


def test_a_token_opens_the_api_as_its_person(client, token):
    assert ask_api(client, token[2]).status_code == 200


def test_a_token_opens_no_page(client, token):
    response = client.get("/account/", headers={"Authorization": f"Bearer {token[2]}"})
    assert response.status_code == 302


@pytest.mark.parametrize("secret", ["", "x", "é", "0" * 5000])
def test_a_wrong_token_is_answered_with_401_even_for_someone_logged_in(client, people, secret):
    client.force_login(people["owner"])
    response = ask_api(client, secret)
    assert response.status_code == 401
    assert response["WWW-Authenticate"].startswith("Bearer")


def test_a_token_under_another_scheme_is_no_token(client, token):
    assert ask_api(client, token[2], scheme="Basic").status_code == 401


def test_a_withdrawn_token_opens_nothing(client, token, frozen_clock):
    person, row, secret = token
    assert withdraw_token(person, row.pk, frozen_clock.now())
    assert ask_api(client, secret).status_code == 401


def test_the_token_of_someone_who_may_not_log_in_opens_nothing(client, token):
    change_person(token[0].pk, full_name="Gone", role="office", is_active=False)
    assert ask_api(client, token[2]).status_code == 401


def test_nobody_withdraws_the_token_of_another(client, people, token):
    client.force_login(people["lead"])
    assert client.post(f"/account/tokens/{token[1].pk}/withdraw/").status_code == 404
    assert ask_api(Client(), token[2]).status_code == 200


def test_only_the_sha256_of_a_token_is_kept(token):
    import hashlib

    _, row, secret = token
    row.refresh_from_db()
    assert row.digest == hashlib.sha256(secret.encode()).hexdigest()
    stored = [str(getattr(row, field.attname)) for field in row._meta.concrete_fields]
    assert not any(secret in value for value in stored)


def test_desk_and_owner_roles_leave_the_field_out():
    assert Role.LEAD not in access.DESK
    assert access.OWNER < access.DESK < STAFF
