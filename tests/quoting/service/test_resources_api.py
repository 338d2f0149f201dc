from copy import deepcopy
from decimal import Decimal

import pytest

from jobs.jobs.models import Job
from quoting.core.quotes.job_file import write_job_file
from quoting.platform.people.models import Role
from tests.documents import document, job_file
from tests.factories.jobs import ClientFactory, JobFactory
from tests.support.asking import reasons

pytestmark = pytest.mark.both_engines
WALL = document("jobs/larkmoor-dental.json")["walls"][0]
CLIENT = {"name": "Tern Street Clinic", "email": "desk@clinic.invalid"}


def test_a_client_is_added_read_changed_listed_and_deleted(office):
    added = office.post("/api/clients", CLIENT)
    assert added.status_code == 201
    path = f"/api/clients/{added.json()['id']}"
    assert office.get(path).json()["name"] == "Tern Street Clinic"
    changed = office.as_read("PUT", path, {"name": "Tern Street Dental", "phone": "555 0100"})
    assert (changed.json()["name"], changed.json()["email"]) == ("Tern Street Dental", "")
    assert office.get("/api/clients").json()["count"] == 1
    assert office.as_read("DELETE", path).status_code == 204
    assert office.get(path).status_code == 404


def test_a_client_with_a_job_cannot_be_deleted(office, dental):
    answer = office.as_read("DELETE", f"/api/clients/{dental.client_id}")
    assert answer.status_code == 400
    assert "1 jobs" in reasons(answer)["client"]


def test_a_job_is_added_with_the_next_key_and_read_back(office, starter_catalog):
    added = office.post("/api/jobs", {"client": CLIENT, "job": {"title": "Screen"}, "walls": [WALL]})
    assert added.status_code == 201
    assert added["Location"] == f"/api/jobs/{added.json()['job']['key']}"
    read = office.get(added["Location"])
    assert read.json() == added.json()
    assert read["ETag"] == '"1"'
    assert [wall["key"] for wall in read.json()["walls"]] == ["reception-screen"]


def test_lengths_without_a_unit_are_in_the_unit_named(office, starter_catalog):
    wall = deepcopy(WALL) | {"height": 2743.2, "pieces": [{"shape": "straight", "length": 3000}]}
    wall |= {"openings": [], "trims": [], "stud_spacing": None, "stud_depth": None}
    added = office.post("/api/jobs", {"units": "mm", "client": CLIENT, "job": {"title": "S"}, "walls": [wall]})
    assert added.json()["walls"][0]["height"] == "2743.2 mm"
    path, straight = f"/api/jobs/{added.json()['job']['key']}/walls", {"shape": "straight", "length": 96}
    inches = office.post(path, wall | {"key": "other", "name": "Other", "height": 108, "pieces": [straight]})
    assert inches.json()["height"] == "2743.2 mm"
    metric = office.post(f"{path}?units=mm", wall | {"key": "third", "name": "Third"})
    assert metric.json()["height"] == "2743.2 mm"


def test_a_job_is_changed_from_the_version_that_was_read(office, dental):
    path = f"/api/jobs/{dental.key}"
    mark = office.get(path)["ETag"]
    first = office("PATCH", path, {"job": {"crew": 3}, "note": "ring first"}, If_Match=mark)
    assert (first.json()["job"]["crew"], first.json()["note"]) == (3, "ring first")
    second = office("PATCH", path, {"job": {"crew": 4}}, If_Match=mark)
    assert second.status_code == 412
    assert "Nothing was saved" in reasons(second)["If-Match"]
    assert office.get(path).json()["job"]["crew"] == 3
    assert len(first.json()["walls"]) == 1


@pytest.mark.parametrize(("mark", "status"), [("", 428), ("3", 400), ('"x"', 400), ('"99999999999"', 400), ("*", 400)])
def test_a_change_names_the_version_it_was_made_from(mark, status, office, dental):
    answer = office("PATCH", f"/api/jobs/{dental.key}", {"job": {"crew": 4}}, **({"If_Match": mark} if mark else {}))
    assert answer.status_code == status
    assert "If-Match" in reasons(answer)


def test_a_wall_is_added_changed_and_deleted(office, dental):
    walls = f"/api/jobs/{dental.key}/walls"
    added = office.post(walls, WALL | {"key": "second", "name": "Another screen"})
    assert (added.status_code, added["Location"]) == (201, f"{walls}/second")
    mark = added["ETag"]
    changed = office("PUT", f"{walls}/second", added.json() | {"name": "Second screen"}, If_Match=mark)
    assert changed.json() == added.json() | {"name": "Second screen"}
    assert office("PUT", f"{walls}/second", added.json(), If_Match=mark).status_code == 412
    assert office("DELETE", f"{walls}/second", If_Match=mark).status_code == 412
    assert office("DELETE", f"{walls}/second", If_Match=changed["ETag"]).status_code == 204
    assert office.get(walls).json()["count"] == 1


def test_a_wall_read_and_sent_back_is_the_same_wall(office, dental):
    path = f"/api/jobs/{dental.key}/walls/reception-screen"
    read = office.get(path)
    assert office("PUT", path, read.json(), If_Match=read["ETag"]).json() == read.json()


def test_the_key_of_a_wall_does_not_change(office, dental):
    path = f"/api/jobs/{dental.key}/walls/reception-screen"
    answer = office("PUT", path, WALL | {"key": "other"}, If_Match='"1"')
    assert (answer.status_code, set(reasons(answer))) == (400, {"key"})


def test_a_job_file_goes_out_and_comes_in_the_same(estimator, dental):
    out = estimator.get(f"/api/jobs/{dental.key}/job-file")
    assert "attachment" in out["Content-Disposition"]
    taken = estimator.post("/api/job-files", out.json())
    assert (taken.status_code, set(reasons(taken))) == (400, {"job.key"})
    copied = deepcopy(out.json())
    copied["job"]["key"] = "J-9001"
    assert estimator.post("/api/job-files", copied).status_code == 201
    assert estimator.get("/api/jobs/J-9001/job-file").json() == copied
    assert estimator.post("/api/job-files?on_known=replace", copied).status_code == 201


def test_a_job_file_with_one_fault_stores_nothing(estimator, starter_catalog):
    spoilt = document("jobs/larkmoor-dental.json")
    spoilt["walls"][0]["pieces"][0]["chord"] = "a yard"
    answer = estimator.post("/api/job-files", spoilt)
    assert (answer.status_code, set(reasons(answer))) == (400, {"walls[0].pieces[0].chord"})
    assert not Job.objects.exists()


def test_pricing_is_read_and_changed_from_its_version(estimator, dental):
    path = f"/api/jobs/{dental.key}/pricing"
    read = estimator.get(path)
    assert Decimal(read.json()["policy"]["target_margin"]) == Decimal("0.38")
    changed = estimator("PUT", path, read.json() | {"valid_days": 14}, If_Match=read["ETag"])
    assert changed.json() == read.json() | {"valid_days": 14}
    assert estimator("PUT", path, read.json(), If_Match=read["ETag"]).status_code == 412


def test_a_job_that_is_not_priced_has_no_pricing_and_can_be_given_the_usual(estimator, starter_catalog):
    key = estimator.post("/api/jobs", {"client": CLIENT, "job": {"title": "Screen"}}).json()["job"]["key"]
    assert estimator.get(f"/api/jobs/{key}/pricing").status_code == 404
    answer = estimator.post(f"/api/jobs/{key}/pricing")
    assert (answer.status_code, set(reasons(answer))) == (400, {"pricing"})
    assert estimator.get(f"/api/jobs/{key}/quote").json()["priced"] is False


def test_a_material_is_added_changed_and_listed_by_kind(office, starter_catalog):
    known = office.get("/api/catalog/materials?kind=paint&limit=1").json()
    sent = {name: value for name, value in known["results"][0].items() if name != "code"} | {"code": "PAINT/NEW 1"}
    added = office.post("/api/catalog/materials", sent)
    assert added.status_code == 201, added.content
    changed = office("PATCH", added["Location"], {"waste": "0.2", "active": False}, If_Match=added["ETag"])
    assert (changed.json()["waste"], changed.json()["active"]) == ("0.2", False)
    assert office.get(added["Location"]).json() == changed.json()
    assert office.get("/api/catalog/materials?kind=paint").json()["count"] == known["count"] + 1
    assert office.get("/api/catalog/materials?kind=paint&active=yes").json()["count"] == known["count"]


def test_the_firm_and_its_suppliers_are_read(office, starter_catalog):
    starter = document("catalog/starter.json")
    assert office.get("/api/catalog/firm").json()["name"] == starter["firm"]["name"]
    codes = [entry["code"] for entry in office.get("/api/catalog/suppliers").json()["results"]]
    assert codes == sorted(entry["code"] for entry in starter["suppliers"])
    assert office.get(f"/api/catalog/suppliers/{codes[0]}").json()["code"] == codes[0]


@pytest.mark.parametrize(
    "path",
    [
        "/api/clients/999999",
        "/api/clients/99999999999999999999999999",
        "/api/jobs/J-404",
        "/api/jobs/J-404/walls",
        "/api/jobs/J-404/walls/none",
        "/api/jobs/J-404/takeoff",
        "/api/jobs/J-404/schedule",
        "/api/jobs/J-404/quote",
        "/api/jobs/J-404/pricing",
        "/api/jobs/J-404/job-file",
        "/api/jobs/%00",
        "/api/quotes/Q-1",
        "/api/quotes/Q-1/revisions/1",
        "/api/quotes/Q-1/revisions/1/paper",
        "/api/quotes/Q-1/revisions/1/paper/file",
        "/api/catalog/materials/NONE",
        "/api/catalog/suppliers/NONE",
        "/api/nowhere",
        "/api/jobs/a/b/c",
        "/api/jobs/a%0Ab",
        "/api/catalog/materials/a%0Ab",
        "/api/",
    ],
)
def test_what_is_not_there_is_a_404_in_json(path, estimator, starter_catalog):
    answer = estimator.get(path)
    assert answer.status_code == 404
    assert answer.json()["detail"]


@pytest.mark.parametrize("method", ["PUT", "PATCH", "DELETE", "POST"])
def test_changing_what_is_not_there_is_a_404_or_a_refusal(method, estimator, starter_catalog):
    paths = {
        "PUT": ["/api/clients/999999", "/api/jobs/J-404/walls/none", "/api/jobs/J-404/pricing"],
        "PATCH": ["/api/jobs/J-404", "/api/catalog/materials/NONE"],
        "DELETE": ["/api/clients/999999", "/api/jobs/J-404/walls/none"],
        "POST": ["/api/jobs/J-404/walls", "/api/jobs/J-404/pricing", "/api/quotes/Q-1/revisions/1/paper/retry"],
    }
    for path in paths[method]:
        body = {"name": "X", "key": "none"} if method in ("PUT", "POST") else {}
        answer = estimator(method, path, body, If_Match='"1"')
        assert answer.status_code in (400, 404), (path, answer.content)
        assert answer["Content-Type"] == "application/problem+json"


def test_before_a_firm_is_entered_the_api_says_so(estimator):
    for method, path in (("GET", "/api/catalog/firm"), ("POST", "/api/takeoff")):
        answer = estimator(method, path, {"wall": WALL} if method == "POST" else None)
        assert answer.status_code == 409
        assert "firm is not entered" in reasons(answer)[""]


def test_a_file_whole_in_itself_is_worked_up_before_a_firm_is_entered(estimator):
    whole = write_job_file(job_file("larkmoor-dental"))
    answer = estimator.post("/api/work-up?today=2026-11-25", whole)
    assert (answer.status_code, answer.json()["quote"]["total"]) == (200, "15641.39")
    bare = estimator.post("/api/work-up", {**whole, "firm": None})
    assert (bare.status_code, set(reasons(bare))) == (400, {"firm"})


@pytest.mark.parametrize("path", ["/api/jobs", "/api/clients"])
def test_a_list_comes_in_pages(path, lead, db):
    for _ in range(3):
        JobFactory(client=ClientFactory())
    first = lead.get(f"{path}?limit=2").json()
    rest = lead.get(f"{path}?limit=2&offset=2").json()
    assert (first["count"], len(first["results"]), len(rest["results"])) == (3, 2, 1)


def test_jobs_are_found_by_words_and_by_state(lead, db, frozen_clock):
    JobFactory(title="Round bar")
    JobFactory(title="Old screen", closed_on=frozen_clock.now().date())
    assert [entry["title"] for entry in lead.get("/api/jobs?search=bar").json()["results"]] == ["Round bar"]
    assert [entry["title"] for entry in lead.get("/api/jobs?state=closed").json()["results"]] == ["Old screen"]
    assert lead.get("/api/jobs?state=open").json()["count"] == 1


@pytest.mark.parametrize("path", ["/api/jobs", "/api/clients", "/api/catalog/materials", "/api/catalog/suppliers"])
def test_a_longer_list_takes_no_more_queries(path, office, stored):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    stored("larkmoor-dental")
    office.get(path)
    with CaptureQueriesContext(connection) as few:
        office.get(f"{path}?limit=1")
    stored("brightwell-childcare")
    stored("merrow-finch-boutique")
    with CaptureQueriesContext(connection) as more:
        office.get(f"{path}?limit=500")
    assert len(more) == len(few)


def test_a_job_with_more_walls_takes_no_more_queries(estimator, dental):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    counts = []
    paths = [f"/api/jobs/{dental.key}", f"/api/jobs/{dental.key}/walls", f"/api/jobs/{dental.key}/takeoff"]
    for key in ("second", "third"):
        for path in paths:
            estimator.get(path)  # who looks first works up what changed
        with CaptureQueriesContext(connection) as queries:
            for path in paths:
                estimator.get(path)
        counts.append(len(queries))
        estimator.post(f"/api/jobs/{dental.key}/walls", WALL | {"key": key})
    assert counts[0] == counts[1]


def test_too_many_calls_are_told_how_long_to_wait(office, frozen_clock, monkeypatch):
    from quoting.platform.api.base import PlainCalls

    monkeypatch.setattr(PlainCalls, "rate", "2/min")
    assert [office.get("/api/jobs").status_code for _ in range(3)] == [200, 200, 429]
    assert int(office.get("/api/jobs")["Retry-After"]) == 60
    frozen_clock.move_on(seconds=61)
    assert office.get("/api/jobs").status_code == 200


def test_one_persons_calls_are_not_counted_against_another(office, asker, monkeypatch):
    from quoting.platform.api.base import PlainCalls

    monkeypatch.setattr(PlainCalls, "rate", "1/min")
    assert office.get("/api/jobs").status_code == 200
    assert asker(Role.OWNER).get("/api/jobs").status_code == 200
    assert office.get("/api/jobs").status_code == 429


def test_a_log_in_by_cookie_needs_the_csrf_token_and_a_bearer_does_not(make_person, office):
    from django.test import Client

    page = Client(enforce_csrf_checks=True)
    page.force_login(make_person(Role.OWNER))
    assert page.get("/api/clients").status_code == 200
    assert page.post("/api/clients", CLIENT, content_type="application/json").status_code == 403
    assert office.post("/api/clients", CLIENT).status_code == 201
