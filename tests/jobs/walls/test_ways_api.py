"""The ways out of a bend over the API: read by all, taken by the desk, once and only from the wall that was seen."""

from dataclasses import replace

import pytest

from jobs.core.measure.wall_spec import Layer
from jobs.jobs.models import Job
from jobs.walls.models import WallPiece
from jobs.walls.services.walls import store_wall
from tests.stored import stored_job
from tests.support.asking import reasons

WAYS = "/api/jobs/{}/walls/story-corner/ways"


@pytest.fixture
def tight(db) -> Job:
    """The story corner hung dry: 57 in where 60 is asked."""
    job = stored_job("brightwell-childcare")
    spec = job.walls.get(key="story-corner").to_core()
    dry = replace(spec.left, layers=(Layer("GB-14"), Layer("GB-14")))
    store_wall(job, replace(spec, left=dry))
    return job


def taken(asker, job, way):
    mark = asker.get(f"/api/jobs/{job.key}/walls/story-corner")["ETag"]
    return asker("POST", WAYS.format(job.key), {"way": way}, If_Match=mark)


def test_the_ways_are_listed_with_what_is_needed_there_and_how_sure_each_limit_is(lead, tight):
    (bend,) = lead.get(WAYS.format(tight.key)).json()["tight"]
    assert (bend["part"], bend["piece"]) == ("left", 1)
    assert (bend["radius"]["in"], bend["least_radius"]["in"]) == (57.0, 60.0)
    damp = bend["ways"][0]
    assert (damp["words"], damp["least_radius"]["in"], damp["sure"]) == ("Hang damp", 30.0, "memory")


def test_a_way_is_taken_in_one_call_and_stands_in_the_history_and_the_wall_passes(estimator, tight):
    answer = taken(estimator, tight, "left/piece-1/rise")
    assert answer.status_code == 200 and answer.json()["pieces"][0]["rise"] == "563.5625 mm"  # 22-3/16 in
    assert estimator.get(WAYS.format(tight.key)).json()["tight"] == []
    rises = WallPiece.history.filter(wall__key="story-corner").order_by("history_id").values_list("rise_mm", flat=True)
    assert [float(rise) for rise in rises][-2:] == [609.6, 563.5625]


def test_a_way_that_is_none_is_refused_and_the_lead_takes_none(estimator, lead, tight):
    wrong = taken(estimator, tight, "left/GB-58/lengthwise/dry/1")
    assert wrong.status_code == 400 and "lets nothing of this wall pass" in str(reasons(wrong))
    assert taken(lead, tight, "left/piece-1/rise").status_code == 403


def test_a_way_read_before_somebody_s_change_is_not_taken(estimator, tight):
    mark = estimator.get(f"/api/jobs/{tight.key}/walls/story-corner")["ETag"]
    taken(estimator, tight, "left/GB-14/lengthwise/damp/2")
    answer = estimator("POST", WAYS.format(tight.key), {"way": "left/piece-1/rise"}, If_Match=mark)
    assert answer.status_code == 412
