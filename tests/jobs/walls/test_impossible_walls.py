"""A wall that is none is named by its path in the document, wherever it is told.

The opening of every test reaches past the end of its wall: 40 ft on a wall about 15 ft long.
"""

import json
from copy import deepcopy
from datetime import date

import pytest
from django.core.management import CommandError, call_command
from django.urls import reverse

from jobs.core.measure.survey import SurveyError
from jobs.walls.models import Opening
from jobs.walls.services.wall_error_paths import ImpossibleWall, errors_with_paths
from quoting.job_files.services.job_files import work_up_job
from quoting.platform.people.services.tokens import make_token
from tests.documents import document, job_file
from tests.stored import STORED_AT, stored_job
from tests.support.desk import priced_job

FIELD = "walls[1].openings[0].centre_at"


def two_walls():
    file = document("jobs/larkmoor-dental.json")
    second = deepcopy(file["walls"][0]) | {"key": "second-screen", "name": "Second screen"}
    second["openings"][0]["centre_at"] = "40 ft"
    file["walls"].append(second)
    return file


@pytest.fixture
def estimator(client, make_person, frozen_clock):
    client.force_login(make_person("estimator"))
    return client


@pytest.fixture
def spoiled(db):
    """A stored job whose only wall has such an opening: as left behind by a change of the catalog or of rules."""
    job = priced_job()
    Opening.objects.filter(wall__job=job).update(centre_at_mm="12192")
    return job


def test_the_command_names_the_place_in_the_file(db, tmp_path):
    (tmp_path / "job.json").write_text(json.dumps(two_walls(), default=str))
    with pytest.raises(CommandError) as refusal:
        call_command("work_up", str(tmp_path / "job.json"), out=tmp_path / "out", today=date(2026, 11, 25))
    assert f"\n{FIELD}: " in str(refusal.value)


def test_the_api_names_the_place_in_what_was_sent(client, make_person, spoiled, frozen_clock):
    bearer = {"Authorization": f"Bearer {make_token(make_person('estimator'), 'a test', STORED_AT)[1]}"}

    def paths(method, path, body=None):
        sent = {} if body is None else {"data": json.dumps(body, default=str)}
        answer = client.generic(method, path, content_type="application/json", headers=bearer, **sent)
        return answer.status_code, [entry["path"] for entry in answer.json()["errors"]]

    file = two_walls()
    assert paths("POST", "/api/work-up", file) == (400, [FIELD])
    assert paths("POST", "/api/takeoff", {"wall": file["walls"][1]}) == (400, ["wall.openings[0].centre_at"])
    assert paths("GET", f"/api/jobs/{spoiled.key}/takeoff") == (409, ["walls[0].openings[0].centre_at"])
    one_wall = f"/api/jobs/{spoiled.key}/walls/reception-screen/takeoff"
    assert paths("GET", one_wall) == (409, ["openings[0].centre_at"])


@pytest.mark.parametrize("url_name", ["job", "job_order_dates", "job_dates", "quote"])
def test_a_page_names_the_place_in_the_job(estimator, spoiled, url_name):
    assert "walls[0].openings[0].centre_at" in estimator.get(reverse(url_name, args=[spoiled.pk])).content.decode()


def test_what_names_no_wall_stays_as_it_is():
    walls = job_file("brightwell-childcare").job.walls
    for field, message in (("play-bay.pieces", "walls[2].pieces"), ("crew", "crew"), ("walls.pieces", "walls.pieces")):
        with pytest.raises(ImpossibleWall) as refusal, errors_with_paths(walls):
            raise SurveyError(field, "is wrong")
        assert (refusal.value.field, refusal.value.reason) == (message, "is wrong")


def test_a_wall_that_is_one_raises_nothing(db):
    assert work_up_job(stored_job("larkmoor-dental"), date(2026, 11, 25)).walls
