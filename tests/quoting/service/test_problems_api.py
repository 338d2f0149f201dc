"""Every error of the API is one shape.

Source: RFC 9457 (members and media type), RFC 9110 section 15 (the words of each status).
"""

from http import HTTPStatus
from importlib import import_module

import pytest
from django.conf import settings

from catalog.core.ground.refusal import Refused
from jobs.jobs.api import clients
from jobs.jobs.models import Client
from quoting.platform.papers.errors import PaperNotKept
from tests.support.asking import Asker, schema

pytestmark = [pytest.mark.sqlite, pytest.mark.django_db]
TEN_MB = 10 * 1024 * 1024
# Status, who calls, method, path, body, headers.
CASES = {
    "a wrong query": (400, "office", "GET", "/api/jobs?limit=0", None, {}),
    "no JSON": (400, "office", "POST", "/api/clients", b"{", {}),
    "an address not ours": (400, "office", "GET", "/api/jobs", None, {"Host": "elsewhere.example"}),
    "no token": (401, "nobody", "GET", "/api/jobs", None, {}),
    "an unknown token": (401, "nobody", "GET", "/api/jobs", None, {"Authorization": "Bearer x"}),
    "the schema without a token": (401, "nobody", "GET", "/api/schema/", None, {}),
    "another role's call": (403, "lead", "POST", "/api/clients", {"name": "C"}, {}),
    "no such job": (404, "office", "GET", "/api/jobs/J-404", None, {}),
    "no such address": (404, "office", "GET", "/api/nothing", None, {}),
    "a method it does not take": (405, "office", "DELETE", "/api/jobs", None, {}),
    "another kind of answer": (406, "office", "GET", "/api/jobs", None, {"Accept": "text/html"}),
    "another kind of schema": (406, "office", "GET", "/api/schema/", None, {"Accept": "text/html"}),
    "no firm yet": (409, "office", "GET", "/api/catalog/firm", None, {}),
    "an old version": (412, "office", "DELETE", "/api/clients/{client}", None, {"If-Match": '"0"'}),
    "a body too large": (413, "office", "POST", "/api/clients", b'"' + b"x" * TEN_MB + b'"', {}),
    "a form": (415, "office", "POST", "/api/clients", b"name=C", {"Content-Type": "application/x-www-form-urlencoded"}),
    "no version": (428, "office", "DELETE", "/api/clients/{client}", None, {}),
}
TITLES = {413: "Content Too Large"}


def is_problem(answer, status):
    message = answer.json()
    assert (answer.status_code, answer["Content-Type"]) == (status, "application/problem+json")
    assert {"type", "title", "status", "detail"} <= set(message) <= {"type", "title", "status", "detail", "errors"}
    title = TITLES.get(status) or HTTPStatus(status).phrase
    assert (message["type"], message["title"], message["status"]) == ("about:blank", title, status)
    assert message["detail"] and all(set(entry) == {"path", "reason"} for entry in message.get("errors", []))
    return message


@pytest.mark.parametrize("name", CASES)
def test_every_error_is_a_problem_of_the_same_shape(name, request):
    status, who, method, path, body, headers = CASES[name]
    caller = Asker() if who == "nobody" else request.getfixturevalue(who)
    path = path.format(client=Client.objects.create(name="C").pk)
    is_problem(caller(method, path, body, **headers), status)


@pytest.mark.parametrize(("error", "status"), [(PaperNotKept("The paper is gone."), 503), (KeyError("x"), 500)])
def test_what_fails_here_is_a_problem_too(error, status, office, monkeypatch):
    def fail(*parts):
        raise error

    monkeypatch.setattr(clients.Clients, "get", fail)
    office.client.raise_request_exception = False
    assert "'x'" not in is_problem(office.get("/api/clients"), status)["detail"]


def test_too_many_calls_are_a_problem_that_says_how_long_to_wait(office, monkeypatch):
    monkeypatch.setattr("quoting.platform.api.base.PlainCalls.rate", "1/min")
    office.get("/api/jobs")
    late = office.get("/api/jobs")
    assert is_problem(late, 429) and late["Retry-After"] == "60"


def test_a_log_in_by_cookie_without_its_token_is_a_problem(client, make_person):
    client.handler.enforce_csrf_checks = True
    client.force_login(make_person("office"))
    is_problem(client.post("/api/clients", {"name": "C"}, content_type="application/json"), 403)


def test_a_method_an_address_does_not_take_is_answered_with_those_it_takes(office):
    assert office("DELETE", "/api/jobs")["Allow"] == "GET, HEAD, POST"


def test_a_problem_names_its_first_reason_and_counts_the_others(office):
    message = office.get("/api/jobs?serch=x&lmit=1").json()
    first = message["errors"][0]
    assert message["detail"] == f"{first['path']}: {first['reason']} (and 1 more)"


def test_a_kind_of_refusal_of_its_own_differs_in_what_it_answers():
    import_module(settings.ROOT_URLCONF)
    alike = [
        subclass.__name__
        for subclass in Refused.__subclasses__()
        if not {"status", "path", "__init__"} & set(vars(subclass))
    ]
    assert alike == []


def test_every_error_described_is_a_problem():
    kinds = {
        (kind, content["schema"]["$ref"])
        for operations in schema()["paths"].values()
        for operation in operations.values()
        for status, answer in operation["responses"].items()
        if status >= "400"
        for kind, content in answer["content"].items()
    }
    assert kinds == {("application/problem+json", "#/components/schemas/Problem")}


def test_the_schema_says_that_every_call_needs_a_token():
    operations = [entry for path in schema()["paths"].values() for entry in path.values()]
    assert all(operation["security"] == [{"token": []}] for operation in operations)


def test_whoever_opens_the_page_of_the_calls_without_a_log_in_is_asked_to_log_in(client):
    assert client.get("/api/docs/")["Location"].startswith("/log-in/")
