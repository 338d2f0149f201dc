"""A wall confirmed on site beside the quoted one, over the API."""

import pytest

from tests.quoting.service.test_roles_api import names_within


@pytest.mark.parametrize(("role", "money"), [("estimator", {"material_cost", "price"}), ("lead", set())])
def test_the_wall_sent_whole_is_answered_with_what_moves(asker, dental, role, money):
    caller, wall = asker(role), dental.walls.get()
    path = f"/api/jobs/{dental.key}/walls/{wall.key}"
    document = caller.get(path).json()
    document["pieces"][0]["rise"] = 31
    answer = caller.post(f"{path}/field-check", document)
    assert answer.status_code == 200
    moved = {line["key"] for line in answer.json()["lines"]}
    assert f"{wall.key}/trim-1" in moved
    # 168 * 168 / (8 * 31) + 15.5 = 129.306
    assert [round(entry["confirmed"]["in"], 2) for entry in answer.json()["radii"]] == [129.31]
    # Nothing is quoted yet, so no client is to be told.
    assert [entry["who"] for entry in answer.json()["inform"]] == ["lead"]
    names = set(names_within(answer.json()))
    assert {"material_cost", "price", "quoted_cost", "currency"} & names >= money
    assert money or not {"material_cost", "price", "quoted_cost", "currency"} & names
    assert dental.walls.get().version == wall.version


def test_another_walls_document_is_refused(estimator, dental):
    wall = dental.walls.get()
    path = f"/api/jobs/{dental.key}/walls/{wall.key}"
    answer = estimator.post(f"{path}/field-check", estimator.get(path).json() | {"key": "other"})
    assert answer.status_code == 400 and "a field check sets a wall beside itself" in answer.content.decode()
