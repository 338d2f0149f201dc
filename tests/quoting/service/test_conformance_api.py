"""The API against its own description, by schemathesis: a general tool that makes requests up from an OpenAPI
schema, some that fit it and some that do not, and judges the answers by it."""

import os

import pytest
import schemathesis
from django.core.handlers.wsgi import WSGIHandler
from django.core.signals import request_finished, request_started
from django.db import close_old_connections
from hypothesis import HealthCheck, Phase, given, settings
from schemathesis.checks import not_a_server_error
from schemathesis.config import SchemathesisConfig
from schemathesis.core.failures import FailureGroup
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    missing_required_header,
    negative_data_rejection,
    response_headers_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from tests.support.asking import schema

pytestmark = pytest.mark.sqlite  # what is described does not hang on the engine
EXAMPLES = int(os.environ.get("CURVEWRIGHT_API_EXAMPLES", "2"))
# What a length or an angle may say cannot be told in JSON Schema, so data that fits the schema may be refused.
CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
    response_headers_conformance,
    negative_data_rejection,
    missing_required_header,
]
REFUSED = ["400", "404", "406", "409", "412", "415", "428"]
CONFIG = {
    # The log-in has tests of its own, and a call without it tries nothing else.
    "generation": {"with-security-parameters": False},
    # Half of the calls would find nothing otherwise; what is not there has tests of its own.
    "parameters": {
        "path.key": "J-0001",
        "path.wall_key": "reception-screen",
        "path.number": "Q-2026-0001",
        "path.revision": 1,
        "path.code": "GB-14",
    },
    "checks": {
        "negative_data_rejection": {"expected-statuses": REFUSED},
        "missing_required_header": {"expected-statuses": REFUSED},
    },
}
ROOMS = sorted({path.split("/")[2] for path in schema()["paths"]})
made_up = settings(
    max_examples=EXAMPLES,
    deadline=None,
    derandomize=True,
    database=None,
    phases=[Phase.generate],
    suppress_health_check=list(HealthCheck),
)


@pytest.fixture
def owner(asker):
    """Who may ask for everything."""
    return asker("owner")


@pytest.fixture
def api(dental, owner, settings, tmp_path, monkeypatch):
    settings.MEDIA_ROOT = tmp_path
    for throttle in ("PlainCalls", "WorkUps"):
        monkeypatch.setattr(f"quoting.platform.api.base.{throttle}.rate", "1000000/min")
    mark = owner.get("/api/jobs/J-0001/quote")["ETag"]
    owner.post("/api/jobs/J-0001/quote/issue", {"request_key": "first"}, If_Match=mark)
    described = schemathesis.openapi.from_dict(schema(), config=SchemathesisConfig.from_dict(CONFIG))
    described.app = WSGIHandler()
    # As Django's own test client does: the connection holds the transaction the test is undone by.
    for signal in (request_started, request_finished):
        signal.disconnect(close_old_connections)
    yield described
    for signal in (request_started, request_finished):
        signal.connect(close_old_connections)


def operations(api, room):
    """Those that delete come last, so that the others find something."""
    result = [operation.ok() for operation in api.get_all_operations()]
    return sorted(
        (entry for entry in result if entry.path.split("/")[2] == room), key=lambda entry: entry.method == "delete"
    )


def can_be_asked_wrongly(operation):
    return len(operation.body) + len(operation.query) + len(operation.headers) > 0


@pytest.mark.parametrize("room", ROOMS)
@pytest.mark.parametrize("mode", schemathesis.GenerationMode)
def test_every_answer_is_one_that_is_described(room, mode, api, owner):
    for operation in operations(api, room):
        if mode == schemathesis.GenerationMode.NEGATIVE and not can_be_asked_wrongly(operation):
            continue

        @made_up
        @given(case=operation.as_strategy(generation_mode=mode))
        def answers_well(case):
            case.call_and_validate(headers=owner.headers, checks=CHECKS)

        answers_well()


def test_an_answer_that_is_not_described_is_found_out(api, owner, monkeypatch):
    """The control: the same checks on an answer that does not fit."""
    monkeypatch.setattr("catalog.api.catalog.write", lambda value: {"name": 7})
    case = api["/api/catalog/firm"]["GET"].Case()
    with pytest.raises(FailureGroup, match="1 distinct failure|violates schema"):
        case.call_and_validate(headers=owner.headers, checks=CHECKS)
