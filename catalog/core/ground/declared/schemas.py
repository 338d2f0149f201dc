"""Declared dataclasses described: JSON Schema 2020-12 of files and requests, components of OpenAPI 3.1."""

from __future__ import annotations

import re
from collections.abc import Iterable
from inspect import getdoc
from typing import Any

from catalog.core.ground.declared.documents import Entry, entries_of
from catalog.core.ground.declared.kinds import Schema

WRITTEN_ANOTHER_WAY = ("length", "override")
"""Parts that answers of the API give in another form, under the same name."""


class Schemas:
    """The schemas of declared classes and of all they hold, by name.

    prefix: of references, such as `#/$defs/`. camel: names as classes have them, else in small letters. answers: of
    what is answered: every property is there; of what is sent those without a default.
    """

    def __init__(self, prefix: str, *, camel: bool = False, answers: bool = False) -> None:
        self._prefix, self._camel, self.answers = prefix, camel, answers
        self.made: dict[str, Schema] = {}

    def part(self, name: str) -> Schema:
        return {"$ref": f"{self._prefix}{self._cased(name)}"}

    def declared(self, declared: type) -> Schema:
        name = schema_name(declared)
        if self._cased(name) not in self.made:
            self.made[self._cased(name)] = {}
            self.made[self._cased(name)] = self.object(declared)
        return self.part(name)

    def add(self, every: Iterable[type]) -> dict[str, Schema]:
        """All made so far, those of these classes as well."""
        for declared in every:
            self.declared(declared)
        return self.made

    def object(self, declared: Any) -> Schema:
        """One class, without a name. A class adjusts it by a classmethod `document_schema(schema, refs)`."""
        entries = entries_of(declared)
        needed = [entry.name for entry in entries if self._is_needed(entry)]
        schema: Schema = {
            "description": getattr(declared, "document_description", "") or _first_paragraph(declared),
            "type": "object",
            "properties": {entry.name: self._property(entry) for entry in entries},
            **({"required": needed} if needed else {}),
            "additionalProperties": False,
        }
        own = getattr(declared, "document_schema", None)
        return own(schema, self) if own is not None else schema

    def _is_needed(self, entry: Entry) -> bool:
        if self.answers:
            return not (entry.options.withheld or entry.options.left_out)
        return entry.needed

    def _property(self, entry: Entry) -> Schema:
        is_optional = entry.nullable if self.answers else not entry.needed
        schema = entry.kind.optional_schema(self) if is_optional else entry.kind.schema(self)
        about = {"description": entry.description} if entry.description else {}
        example = {} if entry.options.example is None else {"example": entry.options.example}
        return {**about, **schema, **about, **self._default(entry), **example}

    def _default(self, entry: Entry) -> Schema:
        """What a field left out stands for, where that is a word or a figure."""
        default = None if self.answers or entry.needed else entry.default()
        return {"default": default} if isinstance(default, str | int) and default != "" else {}

    def _cased(self, name: str) -> str:
        if not self._camel:
            return name
        written = "".join(word[:1].upper() + word[1:] for word in name.split("_"))
        return f"{written}Given" if name in WRITTEN_ANOTHER_WAY else written


def schema_name(declared: Any) -> str:
    """Of a class in schemas: its `document_name`, or its own in small letters."""
    own: str = getattr(declared, "document_name", "")
    return own or re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "_", declared.__name__).lower()


def _first_paragraph(declared: Any) -> str:
    return " ".join((getdoc(declared) or "").partition("\n\n")[0].split())
