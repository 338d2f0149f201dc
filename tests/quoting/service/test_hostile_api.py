"""Whatever is sent, the answer is a sentence about it and nothing is stored."""

import json
import os
from copy import deepcopy

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from catalog.models import Material
from jobs.jobs.models import Client, Job
from jobs.walls.models import Wall
from tests.documents import document
from tests.support.asking import reasons

pytestmark = pytest.mark.both_engines
JOB_FILE = document("jobs/larkmoor-dental.json")
WALL = JOB_FILE["walls"][0]
HOSTILE = [
    "<script>alert(1)</script>",
    "'; DROP TABLE jobs_wall; --",
    "{{ 7 * 7 }}",
    "../../../../etc/passwd",
    "\u202eltr",
    "a" * 5000,
    "\x00",
    "\ud800",
    "9" * 400,
    "1e400",
    "-1",
    "NaN",
    "٣",
    1e308,
    -1e308,
    10**30,
    0,
    -1,
    True,
    None,
    [],
    {},
    [[[]]],
    {"__proto__": {}},
]


def places(value, way=()):
    yield way
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for name, entry in inner:
        yield from places(entry, (*way, name))


def spoilt(whole, way, value):
    copy = deepcopy(whole)
    inner = copy
    for step in way[:-1]:
        inner = inner[step]
    inner[way[-1]] = value
    return copy


def answered_well(answer):
    assert answer.status_code < 500, answer.content
    if answer.status_code == 400:
        assert reasons(answer)
        assert all(reasons(answer).values())


def body(value):
    return json.dumps(value, default=str).encode()


WALL_PLACES = [way for way in places(WALL) if way]
FILE_PLACES = [way for way in places({n: JOB_FILE[n] for n in ("client", "job", "pricing", "units")}) if way]
slowly = settings(
    max_examples=60 if os.environ.get("CURVEWRIGHT_TRIAL") else 20,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)


@slowly
@given(way=st.sampled_from(WALL_PLACES), value=st.sampled_from(HOSTILE))
def test_a_wall_spoilt_anywhere_is_answered_in_sentences(way, value, estimator, starter_catalog):
    answered_well(estimator.post("/api/takeoff?today=2026-11-25", body({"wall": spoilt(WALL, way, value)})))


@slowly
@given(way=st.sampled_from(FILE_PLACES), value=st.sampled_from(HOSTILE))
def test_a_job_file_spoilt_anywhere_is_answered_in_sentences(way, value, estimator, starter_catalog):
    answered_well(estimator.post("/api/work-up?today=2026-11-25", body(spoilt(JOB_FILE, way, value))))
    Job.objects.all().delete()
    answered_well(estimator.post("/api/job-files", body(spoilt(JOB_FILE, way, value))))


@slowly
@given(way=st.sampled_from(WALL_PLACES), value=st.sampled_from(HOSTILE))
def test_a_stored_wall_spoilt_anywhere_keeps_or_changes_whole(way, value, estimator, dental):
    path = f"/api/jobs/{dental.key}/walls/reception-screen"
    before = estimator.get(path)
    answer = estimator("PUT", path, body(spoilt(WALL, way, value)), If_Match=before["ETag"])
    answered_well(answer)
    if answer.status_code == 400:
        assert estimator.get(path).json() == before.json()
        assert estimator.get(path)["ETag"] == before["ETag"]


@pytest.mark.parametrize(
    ("sent", "message"),
    [
        (b"", "not JSON"),
        (b"null", "must be a JSON object"),
        (b"[]", "must be a JSON object"),
        (b'{"wall": NaN}', "NaN is not a number"),
        (b'{"wall": {}, "wall": {}}', "given twice"),
        (b'{"wall": ' + b"[" * 100_000, "nested"),
        (b'{"wall": 1e99999999999999999999}', "out of range"),
        (b"\xff", "not UTF-8"),
    ],
)
@pytest.mark.parametrize("path", ["/api/takeoff", "/api/work-up", "/api/jobs", "/api/job-files", "/api/clients"])
def test_what_is_no_document_is_a_400_everywhere(path, sent, message, estimator, starter_catalog):
    answer = estimator.post(path, sent)
    assert answer.status_code == 400
    if sent:
        assert message in next(iter(reasons(answer).values()))


def test_a_body_of_another_kind_is_told_so(estimator, db):
    answer = estimator("POST", "/api/clients", b"name=x", Content_Type="application/x-www-form-urlencoded")
    assert answer.status_code == 415
    assert not Client.objects.exists()


@pytest.mark.parametrize(
    ("path", "place"),
    [
        ("/api/jobs?limit=0", "limit"),
        ("/api/jobs?limit=501", "limit"),
        ("/api/jobs?limit=x", "limit"),
        ("/api/jobs?offset=-1", "offset"),
        ("/api/jobs?offset=1e30", "offset"),
        ("/api/jobs?state=gone", "state"),
        ("/api/jobs?serch=x", "serch"),
        ("/api/catalog/materials?kind=glass", "kind"),
        ("/api/jobs/J-0001/takeoff?today=yesterday", "today"),
        ("/api/jobs/J-0001/takeoff?today=2026-02-30", "today"),
        ("/api/jobs/J-0001/takeoff?tody=2026-02-03", "tody"),
        ("/api/jobs?search=%00", ""),
    ],
)
def test_a_wrong_query_names_the_entry(path, place, estimator, dental):
    answer = estimator.get(path)
    assert (answer.status_code, set(reasons(answer))) == (400, {place})


def test_a_name_nobody_knows_is_told(office, dental):
    new = {"client": {"name": "C"}, "job": {"title": "S"}}
    assert set(reasons(office.post("/api/jobs", new | {"wals": []}))) == {"wals"}
    answer = office("PATCH", f"/api/jobs/{dental.key}", {"title": "x"}, If_Match='"1"')
    assert set(reasons(answer)) == {"title"}
    assert set(reasons(office.post("/api/clients", {"name": "C", "fax": "1"}))) == {"fax"}


@pytest.mark.parametrize("key", ["a/b", "/", "J-1\n", "J-\t1"])
def test_a_job_key_that_no_address_can_hold_is_refused(key, office, db):
    answer = office.post("/api/jobs", {"client": {"name": "C"}, "job": {"key": key, "title": "S"}})
    assert (answer.status_code, set(reasons(answer))) == (400, {"job.key"})
    assert not Job.objects.exists()


def test_every_fault_of_a_wall_is_told_at_once(estimator, starter_catalog):
    faulty = deepcopy(WALL) | {"left": 1, "openings": [{"name": "Door"}], "height": "tall"}
    texts = reasons(estimator.post("/api/takeoff", {"wall": faulty, "materials": [{"code": "X"}]}))
    assert any(path.startswith("wall") for path in texts)
    assert any(path.startswith("materials[0]") for path in texts)


def test_an_impossible_wall_is_told_with_its_field(estimator, starter_catalog):
    # A chord of 10 ft cannot belong to a radius of 4 ft: the chord is at most the diameter, 8 ft.
    piece = {"shape": "arc", "turn": "left", "radius": "4 ft", "chord": "10 ft"}
    answer = estimator.post("/api/takeoff", {"wall": WALL | {"pieces": [piece]}})
    assert answer.status_code == 400
    assert set(reasons(answer)) == {"wall.pieces[0].chord"}


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"pieces": [{"shape": "straight", "length": "3 m"}] * 100}, "300 m long"),
        ({"pieces": [{"shape": "straight", "length": "100 m"}], "stud_spacing": "25 mm"}, "4,000 studs"),
    ],
)
def test_more_than_anyone_builds_is_not_worked_up_while_others_wait(change, message, estimator, starter_catalog):
    wall = WALL | {"openings": [], "trims": []} | change
    for path, sent, place in (
        ("/api/takeoff", {"wall": wall}, "wall"),
        ("/api/work-up", JOB_FILE | {"walls": [wall]}, "walls"),
    ):
        answer = estimator.post(path, sent)
        assert (answer.status_code, set(reasons(answer))) == (400, {place})
        assert message in reasons(answer)[place]


def test_a_stored_job_of_that_size_stands_in_the_way(estimator, dental):
    wall = WALL | {
        "key": "long",
        "name": "Long",
        "openings": [],
        "trims": [],
        "pieces": [{"shape": "straight", "length": "300 m"}],
    }
    assert estimator.post(f"/api/jobs/{dental.key}/walls", wall).status_code == 201
    answer = estimator.get(f"/api/jobs/{dental.key}/takeoff")
    assert (answer.status_code, set(reasons(answer))) == (409, {"walls"})


def test_nothing_is_stored_by_the_calls_that_only_answer(estimator, starter_catalog):
    materials = Material.objects.count()
    sent = document("jobs/larkmoor-dental.json")
    assert estimator.post("/api/work-up", sent).status_code == 200
    assert estimator.post("/api/takeoff", {"wall": WALL}).status_code == 200
    assert (Job.objects.count(), Wall.objects.count(), Material.objects.count()) == (0, 0, materials)
