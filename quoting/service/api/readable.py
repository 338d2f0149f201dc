"""The OpenAPI document as programs that make clients read it: what is either/or has a word for each, every call that
takes something an example, and nothing is conditional. What the conditions say stands in the descriptions, and an
answer with every reason comes back.
"""

from typing import Any

Schema = dict[str, Any]
KINDS = {"$ref", "type", "enum", "const", "anyOf"}
CONDITIONS = ("if", "then", "else", "not", "dependentRequired", "minProperties", "propertyNames")
PREFIX = "#/components/schemas/"


def without_conditions(value: Any, parts: Schema) -> Any:
    """The schema without what only a validator reads. parts: every component, by name."""
    if isinstance(value, list):
        return [without_conditions(entry, parts) for entry in value]
    if not isinstance(value, dict):
        return value
    plain = {name: entry for name, entry in value.items() if name not in CONDITIONS}
    for either in ("allOf", "anyOf", "oneOf"):
        # What only says which properties go together is no kind of its own.
        if either in plain and not all(entry.keys() & KINDS for entry in plain[either]):
            del plain[either]
    if "oneOf" in plain and "discriminator" not in plain:
        plain["discriminator"] = _discriminator(plain["oneOf"], parts)
    return {name: without_conditions(entry, parts) for name, entry in plain.items()}


def with_names(parts: Schema) -> Schema:
    """The components, and one more for each object without a name that may be null."""
    made: Schema = {}

    def part_of(schema: Schema, name: str) -> Schema:
        if not schema.get("properties"):
            return schema
        own = name if name not in parts and made.get(name, schema) == schema else f"{name}Part{len(made)}"
        made[own] = schema
        return {"$ref": f"{PREFIX}{own}"}

    def named(value: Any, name: str) -> Any:
        if isinstance(value, list):
            return [named(entry, name) for entry in value]
        if not isinstance(value, dict):
            return value
        plain = {
            key: {part: named(entry, f"{name}{_camel(part)}") for part, entry in inner.items()}
            if key == "properties"
            else inner
            if key == "example"
            else named(inner, name)
            for key, inner in value.items()
        }
        if "anyOf" in plain:
            return {**plain, "anyOf": [part_of(entry, name) for entry in plain["anyOf"]]}
        if plain.get("properties") and isinstance(plain.get("type"), list):
            return {"anyOf": [part_of({**plain, "type": "object"}, name), {"type": "null"}]}
        return plain

    return {name: named(part, name) for name, part in parts.items()} | made


def _camel(name: str) -> str:
    return "".join(word[:1].upper() + word[1:] for word in name.split("_"))


def _discriminator(either: list[Schema], parts: Schema) -> Schema:
    """The property that holds a word of its own in each of them."""
    names = [entry["$ref"].removeprefix(PREFIX) for entry in either]
    words = [
        {name: part["const"] for name, part in parts[entry]["properties"].items() if "const" in part} for entry in names
    ]
    by = next(name for name in words[0] if all(name in entry for entry in words))
    mapping = {entry[by]: f"{PREFIX}{name}" for entry, name in zip(words, names, strict=True)}
    return {"propertyName": by, "mapping": mapping}


def example_of(schema: Schema, parts: Schema) -> Any:
    """A value the schema takes: the example it states, else what is needed of it and no more."""
    if "$ref" in schema:
        return example_of(parts[schema["$ref"].removeprefix(PREFIX)], parts)
    for name in ("example", "const", "default"):
        if schema.get(name) is not None:
            return schema[name]
    if "enum" in schema:
        return schema["enum"][0]
    for either in ("oneOf", "anyOf"):
        if either in schema:
            return example_of(schema[either][0], parts)
    kinds = schema.get("type", "object")
    return _plain_example(kinds if isinstance(kinds, str) else kinds[0], schema, parts)


def _plain_example(kind: str, schema: Schema, parts: Schema) -> Any:
    if kind == "object":
        needed = schema.get("required", ())
        return {name: example_of(part, parts) for name, part in schema.get("properties", {}).items() if name in needed}
    if kind == "array":
        count = max(1, schema.get("minItems", 1))
        each = schema.get("prefixItems") or [schema.get("items", {"type": "string"})] * count
        return [example_of(entry, parts) for entry in each]
    if kind in ("integer", "number"):
        return schema.get("minimum", 1)
    if kind == "boolean":
        return True
    return _EXAMPLES.get(schema.get("format", ""), "") or _of_pattern(schema.get("pattern", ""))


_EXAMPLES = {"date": "2027-01-25", "date-time": "2027-01-25T14:30:00Z"}
_OF_PATTERNS = {
    "^[0-9]{4}-[0-9]{2}$": "2027-01",
    "^[0-9]{2}:[0-9]{2}$": "14:30",
    "^[A-Z]{3}$": "CAD",
    r"^-?[0-9]+(\.[0-9]+)?$": "12.5",
    r"^-?[0-9]+\.[0-9]{2}$": "12.50",
    "^[0-9]{4}-[0-9]{2}-[0-9]{2}$": "2027-01-25",
}


def _of_pattern(pattern: str) -> str:
    return _OF_PATTERNS.get(pattern, "north-screen")
