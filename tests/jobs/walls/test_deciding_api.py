"""What a decision sent as a document is taken for: the figures of the wall it comes with, whatever is written."""

from copy import deepcopy

import pytest

from jobs.walls.models import Override
from tests.documents import document
from tests.jobs.walls.test_signing_api import put

KEY = "reception-screen/left/layer-1/piece-1/bend"
FORGED = {"key": KEY, "reason": "Bent like this before", "by": "Me", "on": "2026-10-05", "original": 1}


def test_a_decision_about_a_bend_is_kept_with_the_radius_of_its_wall_and_keeps_it(estimator, dental):
    # Chord 168, rise 30 on the convex framing line: R = 168^2/(8 x 30) + 30/2 = 132.6 in; less the stud of 3-5/8
    # and the layer of 1/4 in on the concave side: 128.725 in.
    path = f"/api/jobs/{dental.key}/walls/reception-screen"
    wall = deepcopy(document("jobs/larkmoor-dental.json")["walls"][0])
    put(estimator, path, wall | {"overrides": [FORGED]})
    decided = pytest.approx(128.725 * 25.4, abs=0.0051)
    assert float(Override.objects.get().original) == decided
    wall["pieces"][0]["rise"] = 40
    put(estimator, path, wall | {"overrides": [FORGED]})
    assert float(Override.objects.get().original) == decided
