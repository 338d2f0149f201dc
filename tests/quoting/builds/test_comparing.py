"""A build of a stored job compared and taken: every wall of it or none, and only from what was seen."""

from dataclasses import replace
from datetime import date

import pytest

from catalog.core.ground.document_reader import DocumentError
from jobs.core.measure.findings import Override
from jobs.jobs.models import Job
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.walls.services.overrides import set_override
from jobs.walls.services.walls import store_wall
from quoting.builds.services import comparing
from quoting.builds.services.comparing import compare_builds, use_build, versions_of
from quoting.core.prices.variants import FaceChange, Variant
from tests.documents import job_file
from tests.stored import stored_job

pytestmark = pytest.mark.both_engines
DAY = date(2026, 11, 25)
LEVEL_3 = Variant("Level 3", (FaceChange(level=3),))
ONE_LAYER = Variant("One layer", (FaceChange(face="left", layers=1),))


@pytest.fixture
def job(db) -> Job:
    return stored_job("brightwell-childcare")


def levels(job: Job) -> list[tuple[int, int]]:
    return list(Job.objects.get(pk=job.pk).walls.values_list("left_level", "right_level"))


def test_the_stored_job_is_compared_and_nothing_is_stored(job):
    before = levels(job), dict(versions_of(job))
    compared = compare_builds(job, (LEVEL_3,), DAY)
    assert compared.builds[0].walls == tuple(wall.key for wall in job_file("brightwell-childcare").job.walls)
    assert (levels(job), dict(versions_of(job))) == before


def test_a_build_is_taken_for_every_wall_it_changes(job):
    seen = dict(versions_of(job))
    use_build(job, LEVEL_3, seen=seen, today=DAY)
    assert levels(job) == [(3, 3)] * 3
    now = versions_of(Job.objects.get(pk=job.pk))
    assert all(now[key] == seen[key] + 1 for key in seen if key)
    assert now[""] == seen[""]


def test_a_wall_that_stays_as_it_is_keeps_its_version(job):
    seen = dict(versions_of(job))
    key = job.walls.first().key
    use_build(job, Variant("One", (FaceChange(wall=key, level=3),)), seen=seen, today=DAY)
    assert [name for name, version in versions_of(job).items() if version != seen[name]] == [key]


def test_a_build_compared_before_somebody_s_change_is_not_taken(job):
    seen = dict(versions_of(job))
    wall = job.walls.last().to_core()
    store_wall(job, replace(wall, name="Renamed meanwhile"))
    before = levels(job)
    with pytest.raises(ChangedMeanwhile):
        use_build(job, LEVEL_3, seen=seen, today=DAY)
    assert levels(job) == before


def test_without_the_guard_it_would_be_taken(job, monkeypatch):
    """The control: the other walls are stored over what nobody compared."""
    seen = dict(versions_of(job))
    store_wall(job, replace(job.walls.last().to_core(), name="Renamed meanwhile"))
    monkeypatch.setattr(comparing, "_refuse_changed", lambda job, seen: None)
    first = job.walls.first().key
    use_build(job, Variant("One", (FaceChange(wall=first, level=3),)), seen=seen, today=DAY)
    assert levels(job)[0] == (3, 3)


def test_a_wall_added_or_taken_away_meanwhile_is_a_change(job):
    for seen in (dict(versions_of(job)) | {"more": 1}, {"": job.version}, {}):
        with pytest.raises(ChangedMeanwhile):
            use_build(job, LEVEL_3, seen=seen, today=DAY)


def test_one_wall_refused_leaves_all_as_they_were(job, monkeypatch):
    seen, before, count = dict(versions_of(job)), levels(job), []

    def second_refused(*args, **more):
        count.append(1)
        if len(count) == 2:
            raise DocumentError.at("level", "is refused")
        return store_wall(*args, **more)

    monkeypatch.setattr(comparing, "store_wall", second_refused)
    with pytest.raises(DocumentError):
        use_build(job, LEVEL_3, seen=seen, today=DAY)
    assert levels(job) == before and dict(versions_of(job)) == seen


def test_the_build_as_it_stands_is_nothing_to_store(job):
    wall = job.walls.first().to_core()
    same = Variant("Same", (FaceChange(wall=wall.key, face="left", level=wall.left.level),))
    with pytest.raises(DocumentError, match="as it stands"):
        use_build(job, same, seen=versions_of(job), today=DAY)


def test_decisions_about_what_is_changed_are_taken_back_wherever_they_are_kept(job):
    wall = job.walls.first()
    words = {"reason": "Tried on site", "by": "R. Sallow", "on": DAY}
    bend, tape, studs = (f"{wall.key}/{rest}" for rest in ("left/layer-1/piece-1/bend", "left/tape", "studs"))
    set_override(job, wall, key=bend, **words)
    set_override(job, wall, key=studs, value="30000", original="29000", **words)
    set_override(job, None, key=tape, value="10", original="12", **words)
    job = Job.objects.get(pk=job.pk)
    use_build(job, ONE_LAYER, seen=versions_of(job), today=DAY)
    spec = Job.objects.get(pk=job.pk).to_core()
    overrides: list[Override] = [*spec.overrides, *(override for wall in spec.walls for override in wall.overrides)]
    assert {bend, tape, studs} & {override.key for override in overrides} == {studs}
