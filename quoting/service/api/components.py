"""Every shape of the API as components of its schema."""

import json
from collections.abc import Iterator
from functools import cache
from typing import Any

from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.urls import URLResolver, get_resolver

from jobs.bills.api import shapes as bills
from jobs.buying.api import shapes as buying
from jobs.deleted.api import shapes as deleted
from jobs.deliveries.api.shapes import claims, deliveries, lead_record, order_events
from jobs.finish.api import shapes as finish
from jobs.hours.api import shapes as hours
from jobs.orders.api.shapes import orders
from jobs.plans.api.shapes import plans, takeoff
from jobs.schedule.api.shapes import schedule
from jobs.site.api import shapes as site
from jobs.stock.api import shapes as stock
from jobs.walls.api import shapes as walls
from quoting.builds.api import shapes as builds
from quoting.changes.api.shapes import changes, substitutions
from quoting.client.api.shapes import agreeing
from quoting.field_checks.api import shapes as field_check
from quoting.job_money.api.shapes import job_money
from quoting.life.api import shapes as life
from quoting.month.api import shapes as month
from quoting.payment_requests.api import shapes as payment_requests
from quoting.platform.api.parts import PARTS
from quoting.platform.people import access
from quoting.quotes.api.shapes import quote
from quoting.record.api import shapes as record
from quoting.service.api import day_shown, resources
from quoting.service.api.readable import example_of, with_names, without_conditions
from quoting.texts.api import shapes as texts

Schema = dict[str, Any]


def add_components(result: Schema, generator: Any, request: Any, public: bool) -> Schema:
    """A hook of drf-spectacular, run when the schema is made."""
    for path, operations in result["paths"].items():
        for operation in operations.values():
            # /api/jobs/... stands under jobs.
            operation["tags"] = [path.split("/")[2]]
            operation["security"] = [{"token": []}]
    components = result.setdefault("components", {})
    parts = {**components.get("schemas", {}), **shapes()}
    for name, example in _worked_example().items():
        parts[name] = {**parts[name], "example": example}
    components["schemas"] = with_names(without_conditions(parts, parts))
    for content in _bodies(result):
        content["example"] = example_of(content["schema"], components["schemas"])
    _name_roles(result, generator)
    return result


def _worked_example() -> Schema:
    """One whole job of fixtures/ is the example of what it holds."""
    path = settings.BASE_DIR / "fixtures" / "jobs" / "larkmoor-dental.json"
    job = json.loads(path.read_text(encoding="utf-8"))
    wall, material = job["walls"][0], job["materials"][0]
    return {
        "Wall": wall,
        "WallToTakeOff": {"wall": wall},
        "JobPricing": job["pricing"],
        "JobFile": job,
        "NewJob": {name: job[name] for name in ("client", "job")},
        "NewMaterial": material,
    }


def _bodies(document: Schema) -> Iterator[Schema]:
    for operations in document["paths"].values():
        for operation in operations.values():
            yield from operation.get("requestBody", {}).get("content", {}).values()


def _name_roles(document: Schema, generator: Any) -> None:
    """A refusal by role says which roles may."""
    names = {generator.inspector.get_path_from_regex(address): name for address, name in _addresses(get_resolver())}
    for path, operations in document["paths"].items():
        stated = access.declared_methods(names.get(path, "")) or {}
        for method, operation in operations.items():
            roles = ", ".join(sorted(stated.get(method.upper(), ())))
            operation["responses"]["403"]["description"] = f"Your role does not allow this; it is for: {roles}."


def _addresses(resolver: URLResolver, before: str = "") -> Iterator[tuple[str, str]]:
    for entry in resolver.url_patterns:
        if isinstance(entry, URLResolver):
            yield from _addresses(entry, f"{before}{entry.pattern}")
        else:
            yield f"{before}{entry.pattern}", entry.name or ""


@cache
def shapes() -> Schema:
    read = _job_file()
    results = _each_once(
        read,
        PARTS,
        takeoff.SHAPES,
        schedule.SHAPES,
        finish.SHAPES,
        day_shown.SHAPES,
        quote.SHAPES,
        builds.SHAPES,
        plans.SHAPES,
        changes.SHAPES,
        substitutions.SHAPES,
        agreeing.SHAPES,
        job_money.SHAPES,
        life.SHAPES,
        month.SHAPES,
        record.SHAPES,
        payment_requests.SHAPES,
        texts.SHAPES,
        field_check.SHAPES,
        lead_record.SHAPES,
        claims.SHAPES,
        deliveries.SHAPES,
        order_events.SHAPES,
        buying.SHAPES,
        orders.SHAPES,
        stock.SHAPES,
        deleted.SHAPES,
        bills.SHAPES,
        hours.SHAPES,
        site.SHAPES,
        walls.SHAPES,
    )
    return {**results, **resources.shapes(read)}


def _each_once(*parts: Schema) -> Schema:
    """Two different shapes of one name would leave the calls of the first answering another."""
    found: Schema = {}
    for part in parts:
        if twice := sorted(name for name in found.keys() & part.keys() if found[name] != part[name]):
            raise ImproperlyConfigured(f"Shapes of one name: {', '.join(twice)}.")
        found |= part
    return found


def _job_file() -> Schema:
    """The job file's own schema, each of its definitions a component: one description for files and calls."""
    path = settings.BASE_DIR / "fixtures" / "schema" / "job-file.schema.json"
    document = json.loads(path.read_text(encoding="utf-8"))
    parts = document.pop("$defs")
    document.pop("$schema")
    document.pop("$id")
    return {_name(name): _moved(part) for name, part in {**parts, "job_file": document}.items()}


def _name(name: str) -> str:
    # `length` and the like are how lengths are written; results give them another way.
    written = "".join(part.capitalize() for part in name.split("_"))
    return f"{written}Given" if written in ("Length", "Override") else written


def _moved(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: _moved(inner) for name, inner in value.items()}
    if isinstance(value, str) and value.startswith("#/$defs/"):
        return f"#/components/schemas/{_name(value.removeprefix('#/$defs/'))}"
    return [_moved(one) for one in value] if isinstance(value, list) else value
