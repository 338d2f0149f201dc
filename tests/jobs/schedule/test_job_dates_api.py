"""Days changed through the API move the order dates.

Source: the worked example of Larkmoor Dental. The base is held for 3 days before Mon 25 Jan 2027 and ordered by
Thu 10 Dec 2026; held for one working day more, it is ordered one working day sooner. Trim is held until 25 Jan.
"""

from datetime import date

from jobs.schedule.models import PlannedActivityDays

BASE = "BASE-514-FLEX"


def schedule(asker, job):
    return asker.get(f"/api/jobs/{job.key}/schedule?today=2026-11-25").json()


def order_by(asker, job):
    return {entry["material"]: entry["order_by"] for entry in schedule(asker, job)["items"]}[BASE]


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
    starts = {entry["key"]: entry["start"] for entry in schedule(estimator, dental)["activities"]}
    assert starts["trim"] == "2027-02-01"


def test_an_activity_set_and_left_out_by_patch_is_read_back_so(estimator, dental):
    unsaid = dict.fromkeys(("not_before", "crew", "shortest_workdays", "longest_workdays"))
    changes = [
        {"key": "boards", "duration_workdays": 9, "left_out": False, **unsaid},
        {"key": "inspection", "duration_workdays": None, "left_out": True, **unsaid},
    ]
    assert change(estimator, dental, activities=changes)["activities"] == changes
    result = {entry["key"]: entry["workdays"] for entry in schedule(estimator, dental)["activities"]}
    assert result["boards"] == 9 and "inspection" not in result


def test_the_chance_of_the_promised_day_comes_with_its_seed_and_its_distribution(estimator, dental):
    path = f"/api/jobs/{dental.key}/chance?today=2026-11-25"
    assert estimator.get(path).json()["chance"] is None
    change(estimator, dental, promised_on="2027-06-30", chance_seed=11)
    result = estimator.get(path).json()
    # Five months later than planned: kept in every run, so that nothing raises it.
    assert (result["chance"], result["seed"], result["runs"], result["remedies"]) == (1.0, 11, 5000, [])
    assert "beta-PERT" in result["distribution"]
    change(estimator, dental, start_on=None)
    refused = estimator.get(path)
    assert refused.status_code == 409 and "no days yet" in refused.content.decode()


def test_an_activity_of_the_job_s_own_by_patch_is_in_the_schedule_with_its_links(estimator, dental):
    own = [
        {"name": "Fire stopping", "kind": "inspection", "duration_workdays": 2, "after": "framing", "before": "boards"}
    ]
    change(estimator, dental, own_activities=own, promised_on="2027-02-01")
    links = schedule(estimator, dental)
    (fire,) = (entry for entry in links["activities"] if entry["of_this_job"])
    # Framing takes 5 and 6 Jan.
    assert (fire["key"], fire["start"], fire["finish"], fire["people"]) == (
        "fire-stopping",
        "2027-01-07",
        "2027-01-08",
        0,
    )
    assert {
        "before": "fire-stopping",
        "after": "boards",
        "kind": "FS",
        "lag_workdays": 0,
        "lag_elapsed_hours": 0,
    } in links["links"]
    assert fire["float_to_promise_workdays"] >= links["slack_workdays"] > 0


def test_crews_wanted_twice_are_told_with_who_wants_them(estimator, dental):
    path = "/api/crew-clashes?today=2026-11-25"
    assert estimator.get(path).json()["clashes"] == []
    days = {"first_day": date(2027, 1, 4), "last_day": date(2027, 1, 5)}
    PlannedActivityDays.objects.create(job=dental, key="framing", name="Track and studs", people=3, **days)
    result = estimator.get(path).json()
    # The starter figure is two people on site.
    (clash,) = result["clashes"]
    assert (result["people_on_site"], clash["wanted"], clash["there"]) == (2, 3, 2)
    assert (clash["first_day"], clash["last_day"], clash["parts"][0]["activity"]) == (
        "2027-01-04",
        "2027-01-05",
        "Track and studs",
    )
