"""Changes of what was agreed, through the API. 200.00 with 13 % tax is 226.00; 15,641.39 was accepted."""

import pytest

from quoting.changes.models import ChangeDraft, ChangeNote
from quoting.service.audit.services.audit import audit
from tests.support.answered import accept, with_paper
from tests.support.asking import reasons
from tests.support.worked import NOW, issued, small_job

pytestmark = pytest.mark.django_db
CHANGE = {"title": "A niche", "reason": "Asked for.", "lines": [{"what": "Niche", "price": "200.00"}]}


def test_a_change_is_priced_issued_once_and_stands_beside_the_contract_until_it_is_signed(estimator, office):
    job = small_job()
    there = f"/api/jobs/{job.key}"
    assert office.get(f"{there}/contract").status_code == 409
    assert estimator.post(f"{there}/changes", CHANGE).status_code == 409
    accept(with_paper(issued(job)))
    wrong = CHANGE | {"lines": [{"what": "Niche", "price": "a lot"}]}
    assert estimator.post(f"{there}/changes", wrong).status_code == 400
    assert office.post(f"{there}/changes", CHANGE).status_code == 403
    draft = estimator.post(f"{there}/changes", CHANGE)
    assert office.get(f"{there}/changes").json()["drafts"][0]["lines"][0]["taxed"] == "200.00"
    issue = f"{there}/changes/{draft.json()['id']}/issue"
    for status in (201, 200):
        answer = estimator.post(issue, {"request_key": "n-1"}, If_Match=draft["ETag"])
        assert (answer.status_code, answer.json()["total"]) == (status, "226.00")
    contract = office.get(f"{there}/contract").json()
    assert (contract["total"], contract["exposure"], len(contract["notes"])) == ("15641.39", "226.00", 1)
    assert audit(NOW)["change notes"] == []


def test_a_draft_changed_since_it_was_read_is_not_issued(estimator):
    accept(with_paper(issued(small_job())))
    draft = estimator.post("/api/jobs/J-0100/changes", CHANGE)
    ChangeDraft.objects.update(version=2)
    late = estimator.post(
        f"/api/jobs/J-0100/changes/{draft.json()['id']}/issue", {"request_key": "n-1"}, If_Match=draft["ETag"]
    )
    assert (late.status_code, set(reasons(late))) == (412, {"If-Match"})
    assert not ChangeNote.objects.exists()
