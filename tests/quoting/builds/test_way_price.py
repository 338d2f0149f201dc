"""What a way out of a bend costs, on the four walls of the worked examples: the job as it is after, less as it was."""

from dataclasses import replace
from datetime import date

import pytest
from django.db import transaction

from jobs.jobs.models import Job
from jobs.walls.models import Wall
from jobs.walls.services.walls import store_wall
from jobs.walls.services.ways import take_way, ways_out_of
from quoting.builds.services.way_price import price_of_way
from quoting.core.quotes.comparison import Build
from quoting.job_files.services.job_files import work_up_job
from quoting.platform.people.signatures import Signature
from tests.jobs.core.takeoff.test_tight_bends import NAMED
from tests.stored import stored_job

DAY = date(2026, 11, 25)
BY = Signature("M. Rowe", DAY)
PATH = "/api/jobs/{}/walls/{}/ways/price?way={}"


def tight_wall(name: str) -> Wall:
    job_name, key = name.split("/")
    job = stored_job(job_name)
    spec = job.walls.get(key=key).to_core()
    return store_wall(job, replace(spec, left=replace(spec.left, layers=NAMED[name])))


def figures(wall: Wall) -> tuple:
    done = Build("", None, work_up_job(Job.objects.get(pk=wall.job_id), DAY))
    return done.price, done.material_cost, done.hours


@pytest.mark.parametrize("name", NAMED)
def test_each_kind_of_way_pressed_on_a_named_wall_passes_at_the_price_shown(name, db):
    wall = tight_wall(name)
    before, ways = figures(wall), ways_out_of(wall, DAY)[0].ways
    for way in {way.kind: way for way in reversed(ways)}.values():
        shown = price_of_way(wall.job, wall.key, way.key, BY)
        with transaction.atomic():
            after = figures(take_way(Wall.objects.get(pk=wall.pk), way.key, seen_version=wall.version, signature=BY))
            left = [tight for tight in ways_out_of(Wall.objects.get(pk=wall.pk), DAY) if way in tight.ways]
            transaction.set_rollback(True)
        assert (shown.price, shown.material_cost, shown.hours) == tuple(
            None if None in pair else pair[1] - pair[0] for pair in zip(before, after, strict=True)
        )
        assert shown.material_cost is not None and left == []


def test_the_office_sees_the_cost_of_a_way_the_estimator_its_price_and_the_lead_neither(estimator, office, lead, db):
    wall = tight_wall("larkmoor-dental/reception-screen")
    path = PATH.format(wall.job.key, wall.key, "left/GB-12/lengthwise/dry/1")
    assert {*estimator.get(path).json()} == {"price", "material_cost", "hours"}
    assert {*office.get(path).json()} == {"material_cost", "hours"}
    assert lead.get(path).status_code == 403
    assert estimator.get(PATH.format(wall.job.key, wall.key, "left/none")).status_code == 400
