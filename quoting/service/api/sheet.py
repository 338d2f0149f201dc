"""The calls of the API as a sheet for people, read from its OpenAPI document."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from django.urls import Resolver404, resolve
from drf_spectacular.generators import SchemaGenerator

from quoting.platform.people import access
from quoting.platform.people.models import Role

Schema = Mapping[str, Any]
SHAPES = "#/components/schemas/"
PARAMETER = "{"
MAX_NAMED = 8
KINDS = {
    "string": "text",
    "integer": "whole number",
    "number": "number",
    "boolean": "true or false",
    "null": "null",
    "object": "object",
    "array": "list",
}


@dataclass(frozen=True)
class Field:
    """shape: the name of the shape its value has, if that has a name."""

    name: str
    kind: str
    shape: str
    needed: bool
    about: str


@dataclass(frozen=True)
class Shape:
    name: str
    about: str
    kind: str
    fields: tuple[Field, ...]


@dataclass(frozen=True)
class Call:
    """takes, gives: the shape of what is sent and of the answer, if there is one."""

    method: str
    address: str
    sentence: str
    roles: str
    asks: tuple[Field, ...]
    takes: Shape | None
    gives: Shape | None


@cache
def document() -> Schema:
    """The whole document; addresses do not change while the service runs."""
    result: Schema = SchemaGenerator().get_schema(request=None, public=True)
    return result


@cache
def rooms() -> Mapping[str, tuple[Call, ...]]:
    """Calls by the noun their addresses begin with."""
    found: dict[str, list[Call]] = {}
    for address, calls in document()["paths"].items():
        for method, call in calls.items():
            found.setdefault(call["tags"][0], []).append(_call(address, method.upper(), call))
    return {name: tuple(calls) for name, calls in sorted(found.items())}


def shape_named(name: str) -> Shape | None:
    schema = document()["components"]["schemas"].get(name)
    return None if schema is None else _shape(schema, name)


def _call(address: str, method: str, call: Schema) -> Call:
    asks = [
        Field(entry["name"], *_kind(entry["schema"]), entry.get("required", False), entry.get("description", ""))
        for entry in call.get("parameters", ())
        if entry["in"] != "path" and entry["name"] != "If-Match"
    ]
    asks += [
        Field(entry["name"], "header", "", True, entry["description"])
        for entry in call.get("parameters", ())
        if entry["name"] == "If-Match"
    ]
    good = next((answer for status, answer in call["responses"].items() if status.startswith("2")), {})
    sentence = call.get("summary") or call.get("description", "")
    return Call(
        method, address, sentence, _roles(address, method), tuple(asks), _sent(call.get("requestBody")), _sent(good)
    )


def _sent(body: Schema | None) -> Shape | None:
    for kind, content in ((body or {}).get("content") or {}).items():
        schema = content.get("schema") or {}
        return _shape(schema, _shape_of(schema)) if kind.endswith("json") else Shape("", "", f"a file, {kind}", ())
    return None


def _roles(address: str, method: str) -> str:
    parts = ["1" if part.startswith(PARAMETER) else part for part in address.split("/")]
    try:
        name = resolve("/".join(parts)).url_name or ""
    except Resolver404:
        return ""
    allowed = (access.declared_methods(name) or {}).get(method, access.NOBODY)
    if allowed >= access.STAFF:
        return "everybody"
    return ", ".join(role.label.lower() for role in Role if role in allowed)


def _shape(schema: Schema, name: str) -> Shape:
    whole = _resolved(schema)
    kind, _ = _kind(whole)
    return Shape(name, whole.get("description", ""), kind, tuple(_fields(whole)))


def _fields(schema: Schema) -> Iterable[Field]:
    for part in schema.get("allOf", ()):
        yield from _fields(_resolved(part))
    if schema.get("type") == "array" and not _shape_of(schema.get("items") or {}):
        yield from _fields(schema.get("items") or {})
    needed = schema.get("required", ())
    for name, entry in (schema.get("properties") or {}).items():
        about = entry.get("description") or _resolved(entry).get("description", "") if not _shape_of(entry) else ""
        yield Field(name, *_kind(entry), name in needed, about)


def _kind(schema: Schema) -> tuple[str, str]:
    """In words what a value is, and the name of its shape if it has one."""
    if name := _shape_of(schema):
        return ("list of " if schema.get("type") == "array" else ""), name
    if "enum" in schema:
        named = [str(entry) if entry is not None else "null" for entry in schema["enum"]]
        more = ", and others" if len(named) > MAX_NAMED else ""
        return f"{', '.join(named[:MAX_NAMED])}{more}", ""
    several = schema.get("anyOf") or schema.get("oneOf")
    if several:
        return " or ".join(dict.fromkeys(_kind(entry)[0] or _kind(entry)[1] for entry in several)), ""
    kinds = schema.get("type", "object")
    if kinds == "array":
        items = schema.get("items") or {}
        return f"list of {_kind(items)[0]}", ""
    named = [KINDS.get(entry, entry) for entry in ([kinds] if isinstance(kinds, str) else kinds)]
    return " or ".join(named), ""


def _shape_of(schema: Schema) -> str:
    """The name of the shape of a value, of each of a list, or of one that may be null."""
    if "$ref" in schema:
        return str(schema["$ref"]).removeprefix(SHAPES)
    if schema.get("type") == "array":
        return _shape_of(schema.get("items") or {})
    several = [entry for entry in schema.get("anyOf", ()) if entry.get("type") != "null"]
    return _shape_of(several[0]) if len(several) == 1 else ""


def _resolved(schema: Schema) -> Schema:
    name = _shape_of(schema) if "$ref" in schema else ""
    return document()["components"]["schemas"].get(name, {}) if name else schema
