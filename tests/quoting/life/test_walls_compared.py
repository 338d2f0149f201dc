"""The walls of a job side by side."""

import pytest
from django.urls import reverse

from jobs.walls.services.walls import copy_wall
from tests.stored import stored_job

pytestmark = pytest.mark.usefixtures("frozen_clock")


def test_each_wall_of_a_job_stands_beside_the_others_with_its_figures_and_its_build(client, make_person, db):
    """Larkmoor: chord 14', rise 2' 6" on the convex studs is R 132.60 in; less half of 3-5/8 in studs, 130.79."""
    job = stored_job("larkmoor-dental")
    copy_wall(job.walls.get())
    client.force_login(make_person("lead"))
    page = client.get(reverse("walls_compared", args=[job.pk])).content.decode()
    assert page.count("10&#x27; 10-13/16&quot;") == 2
    assert "Reception screen, copy" in page and page.count("Steel stud") == 2
    assert "USD" not in page
    beside = client.get(reverse("wall", args=[job.pk, "reception-screen"])).content.decode()
    assert 'rel="next"' in beside and reverse("walls_compared", args=[job.pk]) in beside
