"""The lead-time record, accepting what it suggests and a supplier's score, by the API."""

import pytest

from catalog.models import Material, PlannedLead
from tests.factories.orders import DAY
from tests.jobs.deliveries.test_lead_record_pages import came, ordered, three_came
from tests.support.asking import reasons

PATH = "/api/catalog/lead-records/BASE-514-FLEX"


@pytest.fixture
def base(dental):
    return Material.objects.get(code="BASE-514-FLEX")


def test_the_record_suggests_is_accepted_once_dates_the_job_and_is_ended(office, dental, base):
    three_came(dental, base)
    read = office.get(PATH).json()
    result = read["suggestion"]
    assert [entry["ratio"] for entry in result["receipts"]] == [1.0, 1.111111, 1.333333]
    assert (result["quoted_workdays"], read["standing"], read["stale"]) == (18, None, False)
    assert read["kept_by_all"]["judged"] == result["kept"]["judged"] == 3
    for _ in range(2):
        accepted = office("PUT", PATH, {"plan_workdays": result["plan_workdays"]})
        assert accepted.json()["standing"]["plan_workdays"] == result["plan_workdays"]
    assert PlannedLead.objects.count() == 1
    items = office.get(f"/api/jobs/{dental.key}/schedule").json()["items"]
    item = next(entry for entry in items if entry["material"] == base.code)
    assert (item["planned_workdays"], item["lead_term"]["production_days"]) == (result["plan_workdays"], 15)
    assert office("DELETE", PATH).status_code == 204
    assert office.get(PATH).json()["standing"] is None


def test_what_the_record_does_not_suggest_is_refused_as_things_stand(office, base):
    answer = office("PUT", PATH, {"plan_workdays": 12})
    assert answer.status_code == 409
    assert "the record suggests" in reasons(answer)[""]
    assert office("PUT", PATH, {"plan_workdays": "soon"}).status_code == 400
    assert office.get(f"{PATH}?confidence=1").status_code == 400
    assert office.get("/api/catalog/lead-records/NOTHING").status_code == 404


def test_a_material_is_not_changed_to_have_been_accepted(office, dental, base):
    three_came(dental, base)
    days = office.get(PATH).json()["suggestion"]["plan_workdays"]
    office("PUT", PATH, {"plan_workdays": days})
    path = f"/api/catalog/materials/{base.code}"
    plan = office.get(path).json()["planned_leads"]
    assert office.as_read("PATCH", path, {"name": "Base", "planned_leads": plan}).status_code == 200
    forged = [{**plan[0], "accepted_by": "The owner"}]
    assert (
        "are accepted by somebody" in reasons(office.as_read("PATCH", path, {"planned_leads": forged}))["planned_leads"]
    )


def test_a_suppliers_score_counts_its_receipts(office, dental, base):
    came(ordered(dental, base, promised_on=DAY), DAY, 1, damaged=1)
    score = office.get(f"/api/catalog/supplier-scores/{base.supplier_id}").json()
    assert (score["receipts"], score["kept"], score["damaged"], score["late"]) == (1, 1, 1, 0)
    assert office.get("/api/catalog/supplier-scores/NOBODY").status_code == 404
