"""Who signs a decision that comes in as a document: the person at work, on the firm's day, whatever is written."""

import json
from copy import deepcopy
from datetime import date

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from jobs.jobs.models import Job
from jobs.walls.models import Override
from quoting.job_files.services.job_files import import_job_file
from quoting.platform.people.models import Role
from tests.documents import document

KEY = "reception-screen/left/layer-1/bend"
FORGED = {"key": KEY, "reason": "Bent like this before", "by": "Somebody Else", "on": "2020-01-01"}
# The frozen clock stands at 2026-10-05.
SIGNED = ("the-estimator", date(2026, 10, 5))


def wall_with(override):
    wall = deepcopy(document("jobs/larkmoor-dental.json")["walls"][0])
    return wall | {"overrides": [override]}


def signers():
    return {(entry.by, entry.on) for entry in Override.objects.all()}


def put(asker, path, body):
    answer = asker("PUT", path, body, If_Match=asker.get(path)["ETag"])
    assert answer.status_code == 200
    return answer


@pytest.fixture
def path(dental):
    return f"/api/jobs/{dental.key}/walls/reception-screen"


def test_a_new_decision_is_signed_by_who_sends_it(estimator, path):
    put(estimator, path, wall_with(FORGED))
    assert signers() == {SIGNED}


def test_a_decision_that_stands_keeps_its_signature(estimator, office, path, frozen_clock):
    put(estimator, path, wall_with(FORGED | {"value": "12.5", "original": "11"}))
    frozen_clock.move_on(days=3)
    put(office, path, office.get(path).json())
    put(office, path, wall_with(FORGED | {"value": 12.5}))
    assert signers() == {SIGNED}
    assert Override.objects.get().original == 11, "what was computed when it was taken stays with it"


@pytest.mark.parametrize("change", [{"reason": "Another reason"}, {"value": 13}, {"value": None}])
def test_a_changed_decision_is_signed_anew(change, estimator, office, path, frozen_clock):
    put(estimator, path, wall_with(FORGED | {"value": 12.5}))
    frozen_clock.move_on(days=3)
    put(office, path, wall_with(FORGED | {"value": 12.5} | change))
    assert signers() == {("the-office", date(2026, 10, 8))}


def test_a_wall_and_a_job_added_are_signed_by_who_adds_them(office, estimator, dental):
    office.post(f"/api/jobs/{dental.key}/walls", wall_with(FORGED) | {"key": "other", "name": "Other"})
    assert signers() == {("the-office", date(2026, 10, 5))}
    job = {"title": "Screen", "overrides": [FORGED | {"key": "tape"}]}
    estimator.post("/api/jobs", {"client": {"name": "Tern Street Clinic"}, "job": job, "walls": [wall_with(FORGED)]})
    assert signers() == {("the-office", date(2026, 10, 5)), SIGNED}
    assert Override.objects.filter(by="the-estimator").count() == 2


def test_the_decisions_of_a_job_are_signed_when_they_change(estimator, dental):
    path = f"/api/jobs/{dental.key}"
    changes = {"job": {"overrides": [FORGED | {"key": "tape"}]}}
    assert estimator("PATCH", path, changes, If_Match=estimator.get(path)["ETag"]).status_code == 200
    assert signers() == {SIGNED}


def forged_file():
    file = document("jobs/larkmoor-dental.json")
    file["walls"][0]["overrides"] = [FORGED]
    file["job"]["overrides"] = [FORGED | {"key": "tape"}]
    return file


AS_THE_FILE_SAYS = ("Somebody Else", date(2020, 1, 1))


def brought_in():
    return {(entry.brought_by, entry.brought_on) for entry in Override.objects.all()}


def test_a_job_file_sent_to_the_api_keeps_its_authors_and_who_brought_it_in(estimator, starter_catalog):
    assert estimator.post("/api/job-files", forged_file()).status_code == 201
    assert (signers(), brought_in()) == ({AS_THE_FILE_SAYS}, {SIGNED})


def test_a_job_file_brought_in_on_a_page_keeps_its_authors(client, make_person, starter_catalog, frozen_clock):
    client.force_login(make_person(Role.ESTIMATOR))
    upload = {"file": SimpleUploadedFile("job.json", json.dumps(forged_file(), default=str).encode())}
    assert client.post(reverse("job_import"), upload).status_code == 302
    assert (signers(), brought_in()) == ({AS_THE_FILE_SAYS}, {SIGNED})
    frozen_clock.move_on(days=3)
    again = {"file": SimpleUploadedFile("job.json", json.dumps(forged_file(), default=str).encode()), "replace": "on"}
    assert client.post(reverse("job_import"), again).status_code == 302
    assert (signers(), brought_in()) == ({AS_THE_FILE_SAYS}, {SIGNED}), "brought in again, they stand already"


def test_a_job_file_that_nobody_in_particular_brings_in_keeps_its_names(starter_catalog, frozen_clock):
    """The control: without somebody at work the names of the file come through."""
    import_job_file(forged_file(), now=frozen_clock.now())
    assert Job.objects.count() == 1
    assert signers() == {("Somebody Else", date(2020, 1, 1))}
