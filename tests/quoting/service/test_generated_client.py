"""The API as programs meet it: its document by the OpenAPI 3.1 schema (openapi-spec-validator), its examples by JSON
Schema (jsonschema), and a client that a general generator (openapi-python-client) makes of it, used from first to last.
"""

import importlib
import json
import subprocess
import sys

import pytest
from drf_spectacular.generators import SchemaGenerator
from jsonschema import Draft202012Validator
from openapi_spec_validator import validate

from quoting.platform.people.services.tokens import make_token
from tests.documents import job_file
from tests.stored import stored_book
from tests.support.triggers import drop_triggers

METHODS_THAT_TAKE = ("post", "put", "patch")


@pytest.fixture(scope="module")
def document():
    return json.loads(json.dumps(SchemaGenerator().get_schema(request=None, public=True)))


def test_the_document_keeps_to_the_schema_of_openapi(document):
    validate(document)


def test_every_call_that_takes_something_has_an_example_its_schema_takes(document):
    parts = {"components": document["components"]}
    wrong = []
    for path, operations in document["paths"].items():
        for method, operation in operations.items():
            for content in operation.get("requestBody", {}).get("content", {}).values():
                errors = Draft202012Validator(content["schema"] | parts).iter_errors(content["example"])
                wrong += [f"{method} {path}: {error.json_path} {error.message}" for error in errors]
    assert wrong == []


def test_every_call_needs_a_token_and_names_the_roles_it_is_for(document):
    for operations in document["paths"].values():
        for operation in operations.values():
            assert operation["security"] == [{"token": []}]
            assert not operation["responses"]["403"]["description"].endswith("for: .")


def unreadable(value, path=""):
    """Places no generator reads: an either/or without a word for each, a condition, a nameless object or nothing."""
    if isinstance(value, list):
        for index, entry in enumerate(value):
            yield from unreadable(entry, f"{path}[{index}]")
    if not isinstance(value, dict) or path.endswith("/example"):
        return
    if ("oneOf" in value and "discriminator" not in value) or value.keys() & {"if", "allOf", "dependentRequired"}:
        yield path
    nameless = [entry for entry in value.get("anyOf", ()) if entry.get("properties")]
    if nameless or (value.get("properties") and isinstance(value.get("type"), list)):
        yield f"{path} is a nameless object or nothing"
    for name, entry in value.items():
        yield from unreadable(entry, f"{path}/{name}")


def test_what_a_generator_cannot_read_is_in_no_component(document):
    assert list(unreadable(document["components"]["schemas"])) == []


@pytest.fixture
def client(document, tmp_path, monkeypatch):
    """The client's package, made from the document."""
    (tmp_path / "openapi.json").write_text(json.dumps(document), encoding="utf-8")
    made = [sys.executable, "-m", "openapi_python_client", "generate", "--meta", "none"]
    where = ["--path", tmp_path / "openapi.json", "--output-path", tmp_path / "made_client"]
    monkeypatch.setenv("PATH", f"{sys.prefix}/bin:/usr/bin:/bin")
    output = subprocess.run([*made, *where], capture_output=True, text=True, check=True)
    # Files of other kinds than JSON are fetched by their address; all else is made.
    assert "Endpoint will not be generated" not in output.stdout
    monkeypatch.syspath_prepend(tmp_path)
    return importlib.import_module("made_client")


@pytest.fixture
def _tables_can_be_emptied(transactional_db):
    yield
    drop_triggers()


def call(name, *parts, **more):
    return importlib.import_module(f"made_client.api.{name}").sync_detailed(*parts, **more)


def model(name, value):
    return getattr(importlib.import_module("made_client.models"), name).from_dict(value)


@pytest.mark.sqlite
@pytest.mark.usefixtures("_tables_can_be_emptied")
def test_a_client_made_of_the_document_opens_a_job_and_issues_its_quote(
    client, document, live_server, make_person, frozen_clock, settings, tmp_path
):
    settings.MEDIA_ROOT = tmp_path
    stored_book(job_file("larkmoor-dental").book, "of the example")
    token = make_token(make_person("estimator"), "made", frozen_clock.now())[1]
    caller = client.AuthenticatedClient(base_url=live_server.url, token=token)
    examples = {name: part.get("example") for name, part in document["components"]["schemas"].items()}

    job = call("jobs.add_job", client=caller, body=model("NewJob", examples["NewJob"])).parsed
    key = job.job.key
    wall = call("jobs.add_wall", key, client=caller, body=model("Wall", examples["Wall"]))
    priced = model("JobPricing", examples["JobPricing"])
    pricing = call("jobs.change_pricing", key, client=caller, body=priced, if_match='"0"')
    takeoff = call("jobs.read_takeoff", key, client=caller)
    quote = call("jobs.read_quote", key, client=caller)
    wanted = model("QuoteIssue", {"request_key": "made once"})
    issued = call("jobs.issue_quote", key, client=caller, body=wanted, if_match=quote.headers["ETag"])
    statuses = [answer.status_code.value for answer in (wall, pricing, takeoff, quote, issued)]
    assert statuses == [201, 200, 200, 200, 201], issued.content
    # The worked example's total.
    assert issued.parsed.total == "15641.39"
    assert takeoff.parsed.lines
