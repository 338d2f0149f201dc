"""The figures of the worked examples through the API: the same documents as the command's files.

The expected digits are those of the worked examples, checked on the core in tests/quoting/core/test_work_up.py.
"""

import json
from datetime import date

import pytest

from jobs.core.results.result_documents import schedule_document, takeoff_document
from quoting.core.quotes.quote_document import quote_document
from quoting.core.quotes.work_up import work_up
from tests.documents import document, job_file

DAY = date(2026, 11, 25)
NAMES = ("larkmoor-dental", "merrow-finch-boutique", "brightwell-childcare")


def as_sent(value):
    return json.loads(json.dumps(value))


@pytest.mark.parametrize("name", NAMES)
def test_a_file_sent_comes_back_worked_up_as_the_command_writes_it(name, estimator, starter_catalog):
    answer = estimator.post(f"/api/work-up?today={DAY}", document(f"jobs/{name}.json"))
    assert answer.status_code == 200, answer.content
    result = work_up(job_file(name), DAY)
    assert answer.json() == as_sent(
        {"takeoff": takeoff_document(result), "schedule": schedule_document(result), "quote": quote_document(result)}
    )


@pytest.mark.parametrize("name", NAMES)
def test_a_stored_job_has_the_figures_of_its_file(name, estimator, stored):
    key = stored(name).key
    result = work_up(job_file(name), DAY)
    for part, written in (
        ("takeoff", takeoff_document(result)),
        ("schedule", schedule_document(result)),
        ("quote", quote_document(result)),
    ):
        assert estimator.get(f"/api/jobs/{key}/{part}?today={DAY}").json() == as_sent(written), part


def test_the_dental_screen_has_its_worked_figures(estimator, dental):
    takeoff = estimator.get(f"/api/jobs/{dental.key}/takeoff?today={DAY}").json()
    side = takeoff["walls"][0]["pieces"][0]["by_side"]["convex_framing"]
    assert side["radius"]["in"] == 132.6
    assert round(side["length"]["in"], 3) == 181.94
    assert takeoff["walls"][0]["framing"]["base_station_count"] == 24
    quote = estimator.get(f"/api/jobs/{dental.key}/quote?today={DAY}").json()
    assert (quote["price"], quote["tax"]["amount"], quote["total"]) == ("13841.94", "1799.45", "15641.39")
    items = estimator.get(f"/api/jobs/{dental.key}/schedule?today={DAY}").json()["items"]
    assert {item["material"]: item["order_by"] for item in items}["GB-14"] == "2026-12-10"


def test_the_boutique_and_childcare_have_their_worked_figures(estimator, starter_catalog):
    boutique = estimator.post(f"/api/work-up?today={DAY}", document("jobs/merrow-finch-boutique.json")).json()
    assert round(boutique["takeoff"]["walls"][0]["lengths"]["centre"]["in"], 3) == 230.401
    childcare = estimator.post(f"/api/work-up?today={DAY}", document("jobs/brightwell-childcare.json")).json()
    assert (childcare["quote"]["price"], childcare["quote"]["deposit"]) == ("29593.75", "9864.58")


def test_one_wall_sent_alone_is_the_wall_of_the_job(estimator, starter_catalog):
    wall = document("jobs/larkmoor-dental.json")["walls"][0]
    answer = estimator.post(f"/api/takeoff?today={DAY}", {"wall": wall})
    assert answer.status_code == 200, answer.content
    assert answer.json()["wall"] == as_sent(takeoff_document(work_up(job_file("larkmoor-dental"), DAY)))["walls"][0]


def test_a_stored_wall_is_taken_off_as_if_it_were_sent(estimator, dental):
    wall = estimator.get(f"/api/jobs/{dental.key}/walls").json()["results"][0]
    sent = estimator.post(f"/api/takeoff?today={DAY}", {"wall": wall})
    stored = estimator.get(f"/api/jobs/{dental.key}/walls/{wall['key']}/takeoff?today={DAY}")
    assert sent.json() == stored.json()


def test_a_material_sent_along_stands_before_the_catalogs(estimator, starter_catalog):
    whole = document("jobs/larkmoor-dental.json")
    board = next(entry for entry in document("catalog/starter.json")["materials"] if entry["code"] == "GB-14")
    board["packs"] = []
    plain = estimator.post(f"/api/takeoff?today={DAY}", {"wall": whole["walls"][0]}).json()
    without_packs = estimator.post(
        f"/api/takeoff?today={DAY}", {"wall": whole["walls"][0], "materials": [board]}
    ).json()
    assert not any(entry["weight"] == "gap" and "GB-14" in entry["sentence"] for entry in plain["findings"])
    assert any(pack["weight"] == "gap" and "GB-14" in pack["sentence"] for pack in without_packs["findings"])


def test_the_figures_hold_for_the_day_asked_and_for_the_firms_today_otherwise(estimator, dental):
    assert estimator.get(f"/api/jobs/{dental.key}/schedule?today=2026-12-01").json()["today"] == "2026-12-01"
    assert estimator.get(f"/api/jobs/{dental.key}/schedule").json()["today"] == "2026-10-05"
