"""The JSON Schemas of fixtures/schema against the readers: both must speak of one format.

Source of the schema language: JSON Schema 2020-12, judged by the general library jsonschema.
"""

import json
import re
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.units import UNITS
from catalog.core.materials.specs import KINDS, PROPERTIES, ROLES, SUPPLIES, SURENESS
from catalog.core.materials.standards import STANDARD_SPECS
from jobs.core.measure.survey import MEASURED_ON
from jobs.core.measure.wall_spec import FORMS, POSITIONS
from quoting.core.quotes.file_schemas import made_anew, schema_text
from quoting.core.quotes.job_file import read_job_file, write_job_file
from tests.documents import FIXTURES, JOBS, document, job_file, read_catalog, starter

CATALOG, JOB = (
    json.loads((FIXTURES / "schema" / name).read_text(encoding="utf-8"))
    for name in ("catalog.schema.json", "job-file.schema.json")
)
DEFS = JOB["$defs"]
LEFT_OUT = object()


def complaints_of_schema(schema: Any, value: Any) -> list[str]:
    return [error.json_path for error in Draft202012Validator(schema).iter_errors(value)]


def plain(value: Any) -> Any:
    """Exact decimals as JSON numbers, as another program would load the document."""
    return json.loads(json.dumps(value, default=float))


def spoilt(path: str, value: Any, name: str = "larkmoor-dental") -> dict[str, Any]:
    """The job file with one place changed; path such as walls/0/height."""
    whole = document(f"jobs/{name}.json")
    *way, last = [int(step) if step.isdigit() else step for step in path.split("/")]
    inner: Any = whole
    for step in way:
        inner = inner[step]
    if value is LEFT_OUT:
        del inner[last]
    else:
        inner[last] = value
    return whole


def objects_within(schema: Any):
    if isinstance(schema, dict):
        kinds = schema.get("type", "")
        if "properties" in schema and "object" in ([kinds] if isinstance(kinds, str) else kinds):
            yield schema
        for inner in schema.values():
            yield from objects_within(inner)
    elif isinstance(schema, list):
        for inner in schema:
            yield from objects_within(inner)


@pytest.mark.parametrize("schema", [CATALOG, JOB], ids=["catalog", "job file"])
def test_the_schema_is_a_schema(schema):
    Draft202012Validator.check_schema(schema)


@pytest.mark.parametrize("name", ["catalog", "job-file"])
def test_the_schema_file_is_what_the_command_makes_to_the_byte(name):
    text = (FIXTURES / "schema" / f"{name}.schema.json").read_text(encoding="utf-8")
    assert schema_text(made_anew(json.loads(text))) == text


@pytest.mark.parametrize("schema", [CATALOG, JOB], ids=["catalog", "job file"])
def test_every_property_is_described_and_no_object_takes_an_unknown_name(schema):
    result = list(objects_within(schema))
    assert len(result) > 10
    for entry in result:
        assert entry["description"]
        assert entry["additionalProperties"] is False, entry["description"]
        undescribed = [name for name, inner in entry["properties"].items() if not inner.get("description")]
        assert undescribed == [], entry["description"]


def test_both_schemas_say_the_same_of_the_catalog():
    assert {name: DEFS[name] for name in CATALOG["$defs"]} == CATALOG["$defs"]


def test_the_schema_knows_every_word_of_the_readers():
    material, firm = DEFS["material"]["properties"], DEFS["firm"]["properties"]
    assert set(material["facts"]["properties"]) == set(PROPERTIES)
    assert set(firm["standards"]["properties"]) == set(STANDARD_SPECS)
    assert set(DEFS["wall"]["properties"]["kit"]["properties"]) == set(ROLES)
    words = [
        (material["kind"], KINDS),
        (material["supply"], SUPPLIES),
        (material["unit_used"], UNITS),
        (DEFS["fact"]["properties"]["sure"], SURENESS),
        (DEFS["wall"]["properties"]["measured_on"], MEASURED_ON),
        (DEFS["trim"]["properties"]["form"], FORMS),
        (DEFS["trim"]["properties"]["position"], POSITIONS),
    ]
    for schema, known in words:
        assert [word for word in schema["enum"] if word is not None] == list(known)


def test_the_schema_gives_a_length_to_every_figure_in_millimetres():
    for figures, known in (
        (DEFS["material"]["properties"]["facts"]["properties"], PROPERTIES),
        (DEFS["firm"]["properties"]["standards"]["properties"], STANDARD_SPECS),
    ):
        for name, spec in known.items():
            wanted = "length_fact" if spec.unit == "mm" else "fact"
            assert figures[name]["$ref"] == f"#/$defs/{wanted}", name


def test_the_schema_gives_each_kind_its_own_figures():
    given = {
        rule["if"]["properties"]["kind"]["const"]: set(rule["then"]["properties"]["facts"]["propertyNames"]["enum"])
        for rule in DEFS["material"]["allOf"]
    }
    assert given == {kind: {name for name, p in PROPERTIES.items() if kind in p.kinds} for kind in KINDS}


def test_the_starter_catalog_keeps_to_its_schema():
    assert complaints_of_schema(CATALOG, plain(document("catalog/starter.json"))) == []


@pytest.mark.parametrize("name", JOBS)
def test_a_job_file_and_its_export_keep_to_the_schema(name):
    assert complaints_of_schema(JOB, plain(document(f"jobs/{name}.json"))) == []
    assert complaints_of_schema(JOB, plain(write_job_file(job_file(name)))) == []


PIECE = "walls/0/pieces/0"
ARC = {"shape": "arc", "turn": "left"}


@pytest.mark.parametrize(
    "piece",
    [
        {**ARC, "radius": "11 ft", "angle": 78.6},
        {**ARC, "radius": 132.6, "angle": "78° 36'"},
        {**ARC, "radius": 132.6, "arc": "182 in"},
        {**ARC, "chord": "14'", "rise": "2.5 ft"},
        {**ARC, "chord": 84, "rise": "7-1/4 in", "arc": "12 ft"},
        {**ARC, "radius": 132.6, "chord": 168},
        {**ARC, "radius": 132.6, "chord": 168, "major": False},
        {**ARC, "arc": "4.62 m", "chord": "4267.2 mm"},
        {"shape": "arc", "points": [[0, 0], [84, -30], [168, 0]]},
        {**ARC, "chord": 168, "rise": 30, "radius": None, "angle": None, "points": None, "measured_on": None},
        {"shape": "arc", "turn": None, "points": [["0", "0"], ["7 ft", "-2' 6\""], ["14 ft", "0"]]},
        {"shape": "straight", "length": "16 ft", "kink": -12.5},
        {"shape": "template", "length": "10 ft", "chord": "9 ft", "turned": -40, "template": "Oval A"},
    ],
)
def test_every_way_of_giving_a_piece_is_taken_by_reader_and_schema(piece):
    whole = spoilt(PIECE, piece)
    read_job_file(whole, starter())
    assert complaints_of_schema(JOB, plain(whole)) == []


FACT = {"source": "Invented", "sure": "maker"}
BEND = {"material": "BASE-514-FLEX", "face": "left", "name": "Rail"}

BACKWARDS = {"first": "2027-01-05", "last": "2027-01-01"}
LINK, PRICE, TERM = (f"materials/0/{name}" for name in ("facts/link_pitch_mm", "packs/0/prices/0", "lead_terms/0"))
AT_LINK, AT_PRICE, AT_TERM = (
    f"materials[0].{name}" for name in ("facts.link_pitch_mm", "packs[0].prices[0]", "lead_terms[0]")
)

# (what is spoilt, with what, where the reader complains, words of its sentence, whether the schema sees it)
WRONG = [
    ("format", "curved-wall-job/2", "format", "curved-wall-job/1", True),
    ("units", "cm", "units", "in, mm", True),
    ("wals", [], "wals", "not a name known here", True),
    ("client", LEFT_OUT, "client", "missing", True),
    ("client", "Larkmoor", "client", "object", True),
    ("client/name", "  ", "client.name", "empty", True),
    ("job/key", LEFT_OUT, "job.key", "missing", True),
    ("job/crew", 0, "job.crew", "from 1 to 50", False),
    ("job/crew", 2.5, "job.crew", "whole", True),
    ("job/crew", True, "job.crew", "number", True),
    ("job/start_on", "4 Jan 2027", "job.start_on", "2027-01-25", True),
    ("job/start_on", "2027-02-30", "job.start_on", "not a day", False),
    ("job/start_on", "2027-W01-1", "job.start_on", "not a day", True),
    ("job/dates/1/material", "TRACK-358", "job.dates", "twice", False),
    ("firm/currency", "dollars", "firm.currency", "at most 3", True),
    ("firm/time_zone", "Sallow Reach", "firm.time_zone", "IANA", False),
    ("firm/closed/0", BACKWARDS, "firm.closed[0]", "ends on or after", False),
    ("firm/closed/0", {"first": "2027-01-05"}, "firm.closed[0].last", "missing", True),
    ("firm/kit/varnish", "PAINT-WALL", "firm.kit.varnish", "not a role", True),
    ("suppliers/0/order_cut_off", "2 pm", "suppliers[0].order_cut_off", "14:30", True),
    ("materials/0/kind", "tracks", "materials[0].kind", "not one of", True),
    ("materials/0/supplier", "NOBODY", "materials (TRACK-358)", "not among the suppliers", False),
    ("materials/0/waste", "-0.1", "materials[0].waste", "from 0", False),
    ("materials/0/waste", -0.1, "materials[0].waste", "from 0", True),
    ("materials/0/packs/0/quantity", 0, "materials[0].packs[0].quantity", "from 0.000001", False),
    (f"{PRICE}/amount", "31,40", f"{AT_PRICE}.amount", "comma", False),
    (f"{PRICE}/amount", True, f"{AT_PRICE}.amount", "number", True),
    ("materials/0/facts/radius", {**FACT, "value": 1}, "materials[0].facts.radius", "not a name known", True),
    ("materials/0/facts/thickness_mm", {**FACT, "value": "1 in"}, "materials[0]", "a track has no", True),
    (LINK, {"value": "2 in", "sure": "maker"},
     f"{AT_LINK}.source", "missing", True),
    (LINK, {**FACT, "value": "2 in", "sure": "certain"},
     f"{AT_LINK}.sure", "not one of", True),
    (LINK, {**FACT, "value": "2 ft 13 in"},
     f"{AT_LINK}.value", "under 12", False),
    (f"{TERM}/production", "3-4 weeks", f"{AT_TERM}.production", "range", False),
    ("walls/0/key", "Reception Screen", "walls[0].key", "small letters", True),
    ("walls/0/pieces", [], "walls[0].pieces", "at least one piece", True),
    ("walls/0/measured_on", "outside", "walls[0].measured_on", "not one of", True),
    (f"{PIECE}/rise", LEFT_OUT, "walls[0].pieces[0]", "chord was given", True),
    (f"{PIECE}/radius", 132.6, "walls[0].pieces[0]", "chord, radius, rise was given", True),
    (f"{PIECE}/turn", LEFT_OUT, "walls[0].pieces[0].turn", "left or right", True),
    (f"{PIECE}/rise", 0, "walls[0].pieces[0].rise", "more than zero", False),
    (f"{PIECE}/chord", "fourteen feet", "walls[0].pieces[0].chord", "is not a length", False),
    (f"{PIECE}/chord", -168, "walls[0].pieces[0].chord", "0 or more", True),
    (PIECE, {**ARC, "radius": 50, "chord": 168}, "walls[0].pieces[0].chord", "twice the radius", False),
    (PIECE, {**ARC, "points": [[0, 0], [1, 1]]}, "walls[0].pieces[0].points", "three points", True),
    (PIECE, {**ARC, "chord": 168, "rise": 30, "major": True}, "walls[0].pieces[0].major", "not a name", True),
    ("walls/0/height", "9' 14\"", "walls[0].height", "under 12", False),
    ("walls/0/height", [{"along": 0}], "walls[0].height[0].height", "missing", True),
    ("walls/0/stud_spacing", "8 ft", "walls[0].stud_spacing", "1000 mm", False),
    ("walls/0/left/level", 6, "walls[0].left.level", "not one of", True),
    ("walls/0/left/layers/1/direction", "sideways", "walls[0].left.layers[1].direction", "not one of", True),
    ("walls/0/openings/0/width", LEFT_OUT, "walls[0].openings[0].width", "missing", True),
    ("walls/0/trims/0", {**BEND, "position": "chair"}, "walls[0].trims[0].foot", "how high", False),
    ("walls/0/trims/0", {**BEND, "position": "skirt"}, "walls[0].trims[0].position", "not one of", True),
    ("walls/0/overrides", [{"key": "k", "reason": "", "by": "A", "on": "2026-11-02"}],
     "walls[0].overrides[0].reason", "empty", True),
    ("pricing/policy/mode", "guess", "pricing.policy.mode", "margin, markup", True),
    ("pricing/policy/target_margin", LEFT_OUT, "pricing.policy", "target margin", True),
    ("pricing/policy/target_margin", "38 %", "pricing.policy.target_margin", "not a number", False),
    ("pricing/materials", LEFT_OUT, "pricing.materials", "missing", True),
    ("pricing/labour/0/hours", "ninety", "pricing.labour[0].hours", "not a number", False),
    ("pricing/labour/0/wall", "Vault", "pricing", "does not have", False),
    ("pricing/tax/rate", 13, "pricing.tax.rate", "from 0 to 1", True),
    ("pricing/instalments/0/share", "0.5", "pricing.instalments", "exactly 1", False),
    ("pricing/valid_days", 0, "pricing.valid_days", "from 1 to 365", False),
]  # fmt: skip


@pytest.mark.parametrize(
    ("path", "value", "where", "words", "structural"),
    WRONG,
    ids=[f"{i:02d} {row[0]}" for i, row in enumerate(WRONG)],
)
def test_a_wrong_document_is_refused_at_its_path(path, value, where, words, structural):
    whole = spoilt(path, value)
    with pytest.raises(DocumentError) as refused:
        read_job_file(whole, starter())
    texts = {complaint.path: complaint.reason for complaint in refused.value.complaints}
    assert list(texts) == [where]
    assert words in texts[where]
    if structural:
        assert complaints_of_schema(JOB, plain(whole)) != []


def test_a_document_wrong_in_three_places_tells_all_three():
    whole = spoilt("walls/0/openings/0/width", "wide")
    whole["materials"][0]["kind"] = "tracks"
    whole["pricing"]["valid_days"] = 400
    with pytest.raises(DocumentError) as refused:
        read_job_file(whole, starter())
    paths = {complaint.path for complaint in refused.value.complaints}
    assert paths == {"materials[0].kind", "walls[0].openings[0].width", "pricing.valid_days"}


def test_a_catalog_with_a_misspelt_name_is_refused():
    whole = document("catalog/starter.json")
    whole["materials"][3]["suplier"] = "TOLLARD"
    with pytest.raises(DocumentError, match=r"materials\[3\]\.suplier: is not a name known here"):
        read_catalog(whole)
    assert complaints_of_schema(CATALOG, plain(whole)) == ["$.materials[3]"]


README = (FIXTURES / "README.md").read_text(encoding="utf-8")


def test_the_examples_of_the_readme_are_read_as_they_stand():
    whole, pricing = (json.loads(block) for block in re.findall(r"```json\n(.*?)```", README, re.DOTALL))
    for value in (whole, {**whole, "pricing": pricing}):
        assert complaints_of_schema(JOB, value) == []
        assert read_job_file(value, starter()).job.walls[0].key == "screen"


def test_the_pieces_of_the_readme_are_read_as_they_stand():
    pieces = [json.loads(text) for text in re.findall(r"`(\{\"shape\".*?\})`", README)]
    assert len(pieces) == 9
    whole = spoilt("walls/0/pieces", pieces)
    whole["walls"][0]["openings"] = []
    read = read_job_file(whole, starter())
    assert len(read.job.walls[0].pieces) == 9
    assert complaints_of_schema(JOB, plain(whole)) == []
