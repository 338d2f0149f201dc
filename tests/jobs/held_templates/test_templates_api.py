"""The register of templates through the API; every answer is held against the schema by the asker."""

import pytest

from jobs.jobs.services.jobs import export_job
from jobs.whole_jobs.services.job_entries import import_job
from tests.support.asking import reasons

NEW = {"name": "T1", "shape": "Back of the cap", "wall": "reading-nook", "line": "Cap rail, inside the nook"}


@pytest.fixture
def library(stored):
    return stored("ashgrove-library")


@pytest.fixture
def path(library):
    return f"/api/jobs/{library.key}/templates"


def test_a_template_is_entered_followed_corrected_and_listed(lead, path):
    added = lead.post(path, NEW | {"kept_at": "Workshop, rack 2"})
    assert (added.status_code, added.json()["state"], added.json()["traced_by"]) == (201, "held", lead.person.full_name)
    entry = added["Location"]
    sent = lead.post(f"{entry}/moves", {"state": "sent", "kept_at": "The mill"})
    assert (sent.status_code, sent.json()["kept_at"]) == (201, "The mill")
    assert lead("PATCH", entry, {"piece": 1}).json()["piece"] == 1
    assert [move["state"] for move in lead.get(path).json()["results"][0]["moves"]] == ["held", "sent"]
    assert lead.get(entry).json()["shape"] == "Back of the cap"


def test_a_wrong_entry_is_named(lead, path):
    answer = lead.post(path, NEW | {"wall": "attic", "kept_at": "Van"})
    assert answer.status_code == 400
    assert "is not a wall of this job; its walls are reading-nook" in reasons(answer)["wall"]
    assert "Base, inside the nook" in reasons(lead.post(path, NEW | {"line": "Skirt", "kept_at": "Van"}))["line"]
    assert "kept_at" in reasons(lead.post(path, NEW))


def test_a_job_file_carries_its_templates_there_and_back(lead, library, path, frozen_clock):
    lead.post(path, NEW | {"kept_at": "Workshop, rack 2"})
    written = export_job(library)
    assert written["job"]["templates"][0]["name"] == "T1"
    again = import_job(written | {"job": written["job"] | {"key": "J-again"}}, now=frozen_clock.now())
    assert export_job(again)["job"]["templates"] == written["job"]["templates"]


def test_a_change_of_the_job_does_not_touch_its_templates(office, lead, library, path):
    lead.post(path, NEW | {"kept_at": "Workshop, rack 2"})
    job = f"/api/jobs/{library.key}"
    templates = office.get(job)
    assert (
        office("PATCH", job, {"job": templates.json()["job"] | {"crew": 3}}, If_Match=templates["ETag"]).status_code
        == 200
    )
    refused = office("PATCH", job, {"job": {"templates": []}}, If_Match=office.get(job)["ETag"])
    assert "register of templates" in reasons(refused)["job.templates"]
