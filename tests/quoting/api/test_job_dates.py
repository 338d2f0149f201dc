"""Days changed through the API move the order dates.

Source: the worked example of Larkmoor Dental. The base is held for 3 days before Mon 25 Jan 2027 and ordered by
Thu 10 Dec 2026; held for one working day more, it is ordered one working day sooner. Trim is held until 25 Jan.
"""

BASE = "BASE-514-FLEX"


def schedule(asker, job):
    return asker.get(f"/api/jobs/{job.key}/schedule?today=2026-11-25").json()


def order_by(asker, job):
    return {one["material"]: one["order_by"] for one in schedule(asker, job)["items"]}[BASE]


def change(asker, job, **about):
    path = f"/api/jobs/{job.key}"
    answer = asker("PATCH", path, {"job": about}, If_Match=asker.get(path)["ETag"])
    assert answer.status_code == 200, answer.content
    return answer.json()["job"]


def test_a_cushion_agreed_by_patch_moves_the_order_by_day(estimator, dental):
    assert order_by(estimator, dental) == "2026-12-10"
    change(estimator, dental, dates=[{"material": BASE, "cushion_workdays": 4}])
    assert order_by(estimator, dental) == "2026-12-09"
    change(estimator, dental, dates=[])
    assert order_by(estimator, dental) == "2026-12-10"


def test_a_shut_site_by_patch_moves_the_activities(estimator, dental):
    change(estimator, dental, closed=[{"first": "2027-01-25", "last": "2027-01-29", "reason": "Floor laid"}])
    starts = {one["key"]: one["start"] for one in schedule(estimator, dental)["activities"]}
    assert starts["trim"] == "2027-02-01"


def test_an_activity_set_and_left_out_by_patch_is_read_back_so(estimator, dental):
    changes = [
        {"key": "boards", "duration_workdays": 9, "not_before": None, "left_out": False},
        {"key": "inspection", "duration_workdays": None, "not_before": None, "left_out": True},
    ]
    assert change(estimator, dental, activities=changes)["activities"] == changes
    found = {one["key"]: one["workdays"] for one in schedule(estimator, dental)["activities"]}
    assert found["boards"] == 9 and "inspection" not in found
