"""The JSON Schemas of fixtures/schema, made of what is declared. Source of the language: JSON Schema 2020-12."""

from __future__ import annotations

import json
from typing import Any

from catalog.core.ground.declared import Schemas
from catalog.core.ground.declared.parts import PARTS
from catalog.core.materials.firm_document import FirmWithStandards
from catalog.core.materials.specs import Material, Supplier
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.schedule.job_spec import JobSpec
from quoting.core.quotes.firm_texts import FirmTexts
from quoting.core.quotes.job_file import PricingSpec

DIALECT = "https://json-schema.org/draft/2020-12/schema"
DECLARED: tuple[type, ...] = (FirmWithStandards, Supplier, Material, WallSpec, JobSpec, PricingSpec, FirmTexts)
"""Classes of documents whose schemas are derived; what they hold comes with them."""


def made_anew(document: dict[str, Any]) -> dict[str, Any]:
    """A schema with what is declared in place of what stands there."""
    schemas = Schemas("#/$defs/")
    made = schemas.add(DECLARED)
    definitions = document["$defs"] | PARTS | {name: made[name] for name in made}
    return document | {
        "$defs": {name: definitions[name] for name in definitions if name in _used(document, definitions)}
    }


def schema_text(document: dict[str, Any]) -> str:
    """As the file has it."""
    return json.dumps(document, indent=2, ensure_ascii=False) + "\n"


def _used(document: dict[str, Any], definitions: dict[str, Any]) -> set[str]:
    """Names of the definitions the document needs, directly or through others."""
    root = {name: part for name, part in document.items() if name != "$defs"}
    names: set[str] = set()
    open_parts: list[Any] = [root]
    while open_parts:
        for name in _references(open_parts.pop()):
            if name not in names:
                names.add(name)
                open_parts.append(definitions[name])
    return names


def _references(part: Any) -> list[str]:
    if isinstance(part, dict):
        own = [str(part["$ref"]).removeprefix("#/$defs/")] if "$ref" in part else []
        return own + [name for inner in part.values() for name in _references(inner)]
    return [name for inner in part for name in _references(inner)] if isinstance(part, list) else []
