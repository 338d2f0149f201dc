"""Builds of a job side by side over the API."""

from datetime import date

import pytest

from quoting.core.prices.variants import FaceChange, Variant
from quoting.core.quotes.comparison import compare
from quoting.core.quotes.comparison_document import comparison_document
from tests.documents import job_file
from tests.quoting.service.test_roles_api import names_within
from tests.support.asking import reasons

DAY = date(2026, 11, 25)
ASKED = {"variants": [{"name": "Level 3", "faces": [{"level": 3}]}]}


def test_the_answer_is_the_comparison_of_the_core(estimator, dental):
    answer = estimator.post(f"/api/jobs/{dental.key}/builds?today={DAY}", ASKED)
    wanted = compare(job_file("larkmoor-dental"), (Variant("Level 3", (FaceChange(level=3),)),), DAY)
    assert answer.status_code == 200 and answer.json() == comparison_document(wanted)
    # Worked example, Larkmoor Dental: total 15,641.39.
    assert answer.json()["present"]["total"] == "15641.39"


def test_the_office_is_given_costs_and_no_price_and_the_lead_nothing(office, lead, dental):
    path = f"/api/jobs/{dental.key}/builds?today={DAY}"
    given = office.post(path, ASKED).json()
    assert "material_cost" in given["present"] and not {"price", "total"} & set(names_within(given))
    assert lead.post(path, ASKED).status_code == 403


@pytest.mark.parametrize(
    ("sent", "path"),
    [
        ({}, "variants"),
        ({"variants": []}, "variants"),
        ({"variants": ASKED["variants"], "more": 1}, "more"),
        ({"variants": [{"name": "x", "faces": [{"board": "NONE"}]}]}, "variants[0].faces[0].board"),
        ({"variants": [{"name": "x", "trims": [{"form": "glued"}]}]}, "variants[0].trims[0].form"),
    ],
)
def test_what_is_wrong_is_told_with_its_path(estimator, dental, sent, path):
    answer = estimator.post(f"/api/jobs/{dental.key}/builds", sent)
    assert answer.status_code == 400 and path in reasons(answer)
