"""Asks the API as a program would: by token, JSON in and out, every answer held against the API's own schema.

Source of the schema language: JSON Schema 2020-12, judged by the general library jsonschema-rs.
"""

import json
import re
from functools import cache
from typing import Any

from django.test import Client
from drf_spectacular.generators import SchemaGenerator
from jsonschema_rs import Draft202012Validator

from quoting.platform.people.models import Person


@cache
def schema() -> dict[str, Any]:
    return json.loads(json.dumps(SchemaGenerator().get_schema(request=None, public=True)))


@cache
def routes() -> list[tuple[re.Pattern[str], str]]:
    paths = sorted(schema()["paths"], key=lambda path: (path.count("{"), path))
    return [(re.compile(re.sub(r"\\{(\w+)\\}", "[^/]+", re.escape(path))), path) for path in paths]


class Asker:
    def __init__(self, person: Person | None = None, secret: str = "") -> None:
        self.client = Client()
        self.headers = {"Authorization": f"Bearer {secret}"} if secret else {}
        self.person = person

    def __call__(self, method: str, path: str, body: Any = None, **headers: str) -> Any:
        sent = {} if body is None else {"data": body if isinstance(body, bytes) else written(body)}
        names = {name.replace("_", "-"): value for name, value in headers.items()}
        kind = names.pop("Content-Type", "application/json")
        response = self.client.generic(method, path, content_type=kind, headers=self.headers | names, **sent)
        hold_against_schema(method, path, response)
        return response

    def get(self, path: str, **headers: str) -> Any:
        return self("GET", path, **headers)

    def post(self, path: str, body: Any = None, **headers: str) -> Any:
        return self("POST", path, {} if body is None else body, **headers)

    def as_read(self, method: str, path: str, body: Any = None, *, of: str = "") -> Any:
        """A change made from what is there now; of: where that is read when it is not at the path itself."""
        return self(method, path, body, If_Match=self.get(of or path)["ETag"])


def written(body: Any) -> bytes:
    # Decimals as text: the readers take both, and nothing is lost on the way.
    return json.dumps(body, default=str).encode()


def hold_against_schema(method: str, path: str, response: Any) -> None:
    path = path.partition("?")[0]
    route = next((name for pattern, name in routes() if pattern.fullmatch(path)), None)
    if route is None or method.lower() not in schema()["paths"][route]:
        return
    answers = schema()["paths"][route][method.lower()]["responses"]
    assert str(response.status_code) in answers, (method, path, response.status_code, response.content[:500])
    content = answers[str(response.status_code)].get("content", {})
    kind = response.get("Content-Type", "")
    assert kind in content or not content, (method, path, kind)
    if "json" in kind:
        judge = validator(json.dumps(content[kind]["schema"]))
        complaints = [f"{error.instance_path}: {error.message[:300]}" for error in judge.iter_errors(response.json())]
        assert complaints == [], (method, path, complaints)


@cache
def validator(part: str) -> Draft202012Validator:
    return Draft202012Validator({**json.loads(part), "components": schema()["components"]})


def reasons(response: Any) -> dict[str, str]:
    return {entry["path"]: entry["reason"] for entry in response.json()["errors"]}
