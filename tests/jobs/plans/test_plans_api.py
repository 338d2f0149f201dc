"""Cutting plans over the API; what they cost never reaches the field."""

from jobs.plans.models import FoundPlan
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import run_errand


def test_a_stick_plan_is_asked_for_used_and_dropped_and_the_lead_sees_no_cost(office, lead, dental) -> None:
    path = f"/api/jobs/{dental.key}/plans"
    wanted = office.post(f"{path}/sticks")
    assert wanted.status_code == 200, wanted.content
    assert wanted.json()["sticks"]["errand"]["state"] == "waiting"
    assert run_errand(Errand.objects.get(kind="plan_sticks").pk, "worker") == "done"
    result = office.get(path)
    assert result.json()["sticks"]["found_is_fresh"]
    used = office("PUT", f"{path}/sticks", **{"If-Match": result["ETag"]})
    assert used.status_code == 200, used.content
    assert used.json()["sticks"]["in_use"]
    cost = FoundPlan.objects.get().document["plans"][0]["cost"]
    assert office.get(f"/api/jobs/{dental.key}").json()["job"]["plans"]["sticks"]["plans"][0]["cost"] == cost
    assert lead.get(f"/api/jobs/{dental.key}").json()["job"]["plans"] is None
    assert lead.get(path).status_code == 403
    assert office("PUT", f"{path}/sticks", **{"If-Match": result["ETag"]}).status_code == 412
    dropped = office("DELETE", f"{path}/sticks", **{"If-Match": used["ETag"]})
    assert not dropped.json()["sticks"]["in_use"]


def test_a_plan_of_something_else_is_not_there(office, dental) -> None:
    assert office.post(f"/api/jobs/{dental.key}/plans/doors").status_code == 404
    assert office("PUT", f"/api/jobs/{dental.key}/plans/boards", **{"If-Match": '"1"'}).status_code == 409
