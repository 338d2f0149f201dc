import json
import logging
import sys

import pytest

from quoting.platform.structured_logs import JsonFormatter, request_id, without_secrets

TOKEN = "q" * 20 + "-_" + "Z9" * 11


def line(message, *args, error=None, **fields):
    record = logging.LogRecord("a.logger", logging.INFO, "f.py", 1, message, args, error)
    record.fields = fields
    return json.loads(JsonFormatter().format(record))


def test_a_line_is_one_json_object_with_its_fields():
    fields = line("saved %s", "it", wall=7)
    assert (fields["message"], fields["level"], fields["logger"], fields["wall"]) == (
        "saved it",
        "info",
        "a.logger",
        7,
    )


def test_a_line_names_the_request_it_belongs_to():
    mark = request_id.set("abc")
    try:
        assert line("x")["request_id"] == "abc"
    finally:
        request_id.reset(mark)
    assert "request_id" not in line("x")


@pytest.mark.parametrize(
    "text",
    [
        f"Not Found: /q/{TOKEN}/",
        f"Authorization: Bearer {TOKEN[:12]}",
        f"postgresql://firm:{TOKEN[:8]}@db/quotes",
    ],
)
def test_secrets_are_left_out(text):
    cleaned = without_secrets(text)
    assert "[left out]" in cleaned
    assert TOKEN[:8] not in cleaned


def test_secrets_are_left_out_of_fields_and_exceptions():
    try:
        raise ValueError(TOKEN)
    except ValueError:
        exceptions = line("x", error=sys.exc_info(), link=TOKEN)
    assert TOKEN not in json.dumps(exceptions)
    assert "ValueError" in exceptions["exception"]


@pytest.mark.django_db
def test_a_request_is_logged_by_route_and_without_its_path(client, caplog):
    with caplog.at_level(logging.INFO, logger="quoting.platform.middleware"):
        answer = client.get("/firm/people/17/?secret=1")
    fields = caplog.records[-1].fields
    assert (fields["route"], fields["status"]) == ("firm/people/<int:person_id>/", 302)
    assert "17" not in json.dumps(fields)
    assert len(answer["X-Request-ID"]) == 16


@pytest.mark.django_db
def test_a_request_id_from_outside_is_not_taken_over(client):
    assert client.get("/health/live", headers={"X-Request-ID": "forged"})["X-Request-ID"] != "forged"
