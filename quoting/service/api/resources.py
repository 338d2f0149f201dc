"""What is kept: clients, jobs, walls, catalog. Made of the job file's own shapes, so that both say the same."""

from copy import deepcopy
from typing import Any

from catalog.core.materials.entries import MaterialEntry, SupplierEntry
from jobs.whole_jobs.api.shapes import JobInShort
from quoting.platform.api.declared import answer_shapes, request_shapes
from quoting.platform.api.parts import DAY, IDENTITY, TEXT, VERSION, many, or_none, page, ref, thing

Schema = dict[str, Any]
UNITS: Schema = {"enum": ["in", "mm", None], "default": "in", "description": "Unit of lengths given without one."}
NOTE: Schema = {"type": ["string", "null"], "maxLength": 2000, "description": "A note for the office."}


def shapes(read: Schema) -> Schema:
    """read: the components of the job file."""
    material, job = request_shapes(MaterialEntry)["MaterialEntry"], read["Job"]
    job_parts = {"client": ref("Client"), "walls": many(ref("Wall"))}
    stored = {"client_id": IDENTITY, "note": TEXT, "closed_on": or_none(DAY), "version": VERSION}
    stored["life"] = ref("Life")
    document = {
        "ClientEntry": widened(read["Client"], id={**IDENTITY, "description": "For the paths of this API."}),
        "JobEntry": thing("A job and its walls, as in a job file.", job=ref("Job"), **job_parts, **stored),
        "NewJob": _new_job(job),
        "JobChanges": _job_changes(read["Client"], job),
        **answer_shapes(JobInShort),
        "MaterialEntry": answer_shapes(MaterialEntry)["MaterialEntry"],
        "NewMaterial": material,
        "MaterialChanges": loosened(material),
        "SupplierEntry": answer_shapes(SupplierEntry)["SupplierEntry"],
        "JobPricing": _pricing_by_name(read["Pricing"]),
        "WallToTakeOff": _wall_to_take_off(),
        "WorkUp": thing("", takeoff=ref("Takeoff"), schedule=ref("Schedule"), quote=ref("Quote")),
    }
    document |= _templates(read["Template"], read["TemplateMove"])
    pages = {
        "TemplatePage": "TemplateEntry",
        "ClientPage": "ClientEntry",
        "JobPage": "JobInShort",
        "WallPage": "Wall",
        "QuotePage": "IssuedQuote",
        "MaterialPage": "MaterialEntry",
        "SupplierPage": "SupplierEntry",
    }
    return {**document, **{name: page(entry) for name, entry in pages.items()}}


def _templates(template: Schema, move: Schema) -> Schema:
    kept_at, state = move["properties"]["kept_at"], move["properties"]["state"]
    where = {**kept_at, "type": "string", "pattern": r"\S", "description": "Where it is kept."}
    new = widened(template, kept_at=where)
    new["properties"].pop("moves")
    new["required"] = ["name", "shape", "wall", "kept_at"]
    for name in ("traced_by", "traced_on"):
        new["properties"][name] = or_none(new["properties"][name])
    changes = loosened(template)
    changes["properties"].pop("moves")
    next_move = loosened(move, keep=["state"])
    next_move["properties"].pop("by")
    return {
        "TemplateEntry": widened(template, id=IDENTITY, state=state, kept_at=TEXT),
        "NewTemplate": new,
        "TemplateChanges": changes,
        "NewTemplateMove": next_move,
    }


def widened(schema: Schema, **more: Schema) -> Schema:
    wide = deepcopy(schema)
    wide["properties"] |= more
    wide["required"] = [*wide["required"], *more]
    return wide


def loosened(schema: Schema, keep: Any = ()) -> Schema:
    """The same with nothing required but what is kept so."""
    loose = deepcopy(schema)
    loose["required"] = list(keep)
    if not keep:
        # A rule of one kind's figures needs the kind, which a change need not name.
        loose.pop("allOf", None)
        loose.pop("required")
    return loose


def _new_job(job: Schema) -> Schema:
    about = loosened(job, keep=["title"])
    about["properties"]["key"] = {
        "type": ["string", "null"],
        "maxLength": 40,
        "description": "Short and stable; the next J-0001, J-0002 ... when not given.",
    }
    return {
        "type": "object",
        "description": "The parts `client`, `job` and `walls` of a job file.",
        "properties": {
            "units": UNITS,
            "client": ref("Client"),
            "job": about,
            "walls": {"type": ["array", "null"], "items": ref("Wall"), "maxItems": 500},
        },
        "required": ["client", "job"],
        "additionalProperties": False,
    }


def _job_changes(client: Schema, job: Schema) -> Schema:
    return {
        "type": "object",
        "description": "Entries of `client` and `job` to change.",
        "properties": {"client": loosened(client), "job": loosened(job), "note": NOTE},
        "additionalProperties": False,
    }


def _pricing_by_name(pricing: Schema) -> Schema:
    changed = deepcopy(pricing) | {"type": "object", "description": "How a job is priced."}
    by_name = thing(
        "A tax by its name alone: the rate in force on the day.", name={**TEXT, "maxLength": 60, "pattern": r"\S"}
    )
    named = {**TEXT, "maxLength": 100, "pattern": r"\S", "description": "A labour rate by name: that of the day."}
    for part in ("labour", "labour_from_hours"):
        changed["properties"][part] = _with_rate_of(changed["properties"][part], part, named)
    changed["properties"]["tax"] = {"anyOf": [ref("Tax"), by_name, {"type": "null"}]}
    return changed


def _with_rate_of(given: Schema, part: str, named: Schema) -> Schema:
    """The same with `rate_of` where a rate is given: the labour of a job, or its walls' hours."""
    rate: Schema = {"rate_of": named}
    if part == "labour":
        rate |= {
            "what": {**TEXT, "maxLength": 200, "pattern": r"\S"},
            "hours": {"type": ["number", "string"], "minimum": 0},
            "wall": {"type": ["string", "null"], "maxLength": 2000},
        }
        needed = ["rate_of", "what", "hours"]
        by_name = thing("Own hours at a rate by name.", **rate) | {"required": needed}
        return given | {"items": {"anyOf": [given["items"], by_name]}}
    return {"anyOf": [given, thing("The walls' hours at a rate by name.", **rate)]}


def _wall_to_take_off() -> Schema:
    return {
        "type": "object",
        "description": "A wall as in a job file.",
        "properties": {
            "units": UNITS,
            "wall": ref("Wall"),
            "materials": {
                "type": ["array", "null"],
                "items": ref("Material"),
                "maxItems": 5000,
                "description": "Go before the catalog's of the same code.",
            },
        },
        "required": ["wall"],
        "additionalProperties": False,
    }
