"""Hours and workers over the API: what each role sends, reads and does not see."""

import pytest

from jobs.hours.models import TimeEntry
from tests.factories.hours import worker
from tests.support.asking import reasons
from tests.support.hours import TODAY, entry_of, line, rate

CANARY = "47.13"
ADDRESSES = (
    "/api/workers",
    "/api/hours",
    "/api/hours/rounding",
    "/api/hours/late-rates",
    "/api/jobs/J-0100/hours",
    "/api/jobs/J-0100/hours-left",
)


@pytest.fixture
def owner(asker):
    return asker("owner")


@pytest.fixture
def sam(job):
    """One minute at 47.13 and later dearer, so that no other figure happens to be the canary."""
    rate(CANARY)
    return worker("Sam Orrin")


def sent(who, **more):
    return {"request_key": "k", "lines": [{**line(who, step="framing"), **more}]}


def test_the_lead_enters_hours_once_and_reads_them_by_step(lead, job, sam):
    first, again = (lead.post("/api/jobs/J-0100/hours", sent(sam)) for _ in range(2))
    assert (first.status_code, again.status_code, first.json()["late"]) == (201, 200, [])
    steps = {entry["step"]: entry for entry in lead.get("/api/jobs/J-0100/hours-left").json()["steps"]}
    assert (steps["framing"]["spent"], steps["boards"]["spent"]) == (480, 0)
    assert lead.get("/api/jobs/J-0100/hours").json()["count"] == 1


def test_hours_that_cannot_be_are_named_by_their_place(lead, job, sam):
    answer = lead.post("/api/jobs/J-0100/hours", sent(sam, minutes=1441))
    assert (answer.status_code, reasons(answer)) == (400, {"lines[0].minutes": "1441 must be from 1 to 1440"})


def test_what_is_asked_about_is_answered_in_the_next_sending(lead, job, sam):
    answer = lead.post("/api/jobs/J-0100/hours", sent(sam, minutes=780))
    assert (answer.status_code, list(reasons(answer))) == (409, ["is_long_day"])
    assert lead.post("/api/jobs/J-0100/hours", {**sent(sam, minutes=780), "is_long_day": True}).status_code == 201


def test_the_same_key_with_other_hours_is_refused(lead, job, sam):
    lead.post("/api/jobs/J-0100/hours", sent(sam))
    answer = lead.post("/api/jobs/J-0100/hours", sent(sam, minutes=60))
    assert (answer.status_code, list(reasons(answer))) == (409, ["request_key"])


def test_an_entry_is_corrected_from_what_is_there_now(lead, job, sam):
    row = entry_of(job, sam)
    path = f"/api/hours/{row.pk}"
    body = {"request_key": "c", "reason": "Seven", "line": {**line(sam, 420, step="framing"), "job": job.key}}
    assert lead("PUT", path, body).status_code == 428
    assert lead("PUT", path, body, If_Match='"abc"').status_code == 412
    assert lead.as_read("PUT", path, body).json()["anew"]["minutes"] == 420
    assert TimeEntry.objects.filter(voided_at=None).count() == 1


def test_the_owner_keeps_workers_and_how_minutes_count(owner, job, sam):
    new = {"request_key": "w", "name": "Ines Quarrell", "rate_name": "Carpenter", "first_day": "2026-01-05"}
    there = owner.post("/api/workers", new).json()
    changes = {name: new[name] for name in ("name", "rate_name", "first_day")} | {"last_day": "2026-12-31"}
    assert owner.as_read("PUT", f"/api/workers/{there['id']}", changes).json()["last_day"] == "2026-12-31"
    assert owner.as_read("PUT", "/api/hours/rounding", {"rounding": 15}).json() == {"rounding": 15}
    answer = owner.as_read("PUT", "/api/hours/rounding", {"rounding": 7})
    assert reasons(answer) == {"rounding": "7 is not one of 1, 5, 6, 15 minutes"}


def test_the_owner_freezes_a_late_rate_by_name(owner, job, sam):
    row = entry_of(job, sam, 60)
    rate("50.00", TODAY.isoformat())
    listed = owner.get("/api/hours/late-rates").json()
    assert [(entry["rate"], entry["difference"]) for entry in listed["entries"]] == [("50.00", "2.87")]
    assert owner.post("/api/hours/late-rates", {"seen": listed["seen"], "entries": [row.pk]}).json() == {"changed": 1}


def test_no_rate_reaches_a_lead_or_the_office(lead, office, estimator, owner, job, sam):
    entry_of(job, sam, 60)
    rate("50.00", TODAY.isoformat())
    for asker in (lead, office):
        seen = [asker.get(path).content.decode() for path in (*ADDRESSES, f"/api/hours/{TimeEntry.objects.get().pk}")]
        assert not [text for text in seen if CANARY in text or "Carpenter" in text]
    # The control: those who price see it.
    for asker in (estimator, owner):
        assert CANARY in asker.get("/api/jobs/J-0100/hours").content.decode()


@pytest.mark.parametrize("role", ["lead", "office", "estimator"])
def test_only_the_owner_keeps_workers_rounding_and_late_rates(asker, job, sam, role):
    ask = asker(role)
    tried = [ask.post("/api/workers", {}), ask("PUT", "/api/hours/rounding", {}), ask.get("/api/hours/late-rates")]
    assert [entry.status_code for entry in tried] == [403, 403, 403]


def test_an_estimator_enters_their_own_hours_alone(estimator, job, sam):
    ines = worker("Ines Quarrell", person=estimator.person)
    refused = estimator.post("/api/jobs/J-0100/hours", sent(sam))
    assert list(reasons(refused)) == ["lines[0].worker"]
    assert estimator.post("/api/jobs/J-0100/hours", sent(ines)).status_code == 201
