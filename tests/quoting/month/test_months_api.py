import pytest

from quoting.month.models import ClosedMonth
from tests.factories.bills import bill_row
from tests.quoting.month.test_month import SEPTEMBER, bill_of_boards, hall
from tests.support.asking import reasons

__all__ = ["hall"]
pytestmark = pytest.mark.django_db
SEPT = "/api/months/2026-09"


def test_the_owner_reads_says_why_closes_and_sees_what_came_later(hall, asker):
    owner = asker("owner")
    bill_row("C-1", day=SEPTEMBER, posted_month=SEPTEMBER)
    assert owner.get(SEPT).json()["closed"] is None
    owner.as_read("PUT", f"{SEPT}/jobs/J-0201/why", {"text": "Two boards came bad."})
    closed = owner.post(f"{SEPT}/close").json()
    assert (closed["closed"]["by"], closed["jobs"][0]["said"]) == ("the-owner", "Two boards came bad.")
    assert closed["closed"]["sha256"] == ClosedMonth.objects.get().snapshot_sha256
    bill_of_boards(hall)
    [known] = owner.get(SEPT).json()["known_now"]
    assert (known["job"], sorted(row["change"] for row in known["rows"])) == ("J-0201", ["-458.40", "464.40"])
    [later] = owner.get("/api/months/2026-10").json()["later"]
    assert (later["month"], later["change"]) == ("2026-09", "6.00")


def test_closing_again_or_the_running_month_is_refused_with_its_reason(hall, asker):
    owner = asker("owner")
    bill_row("C-1", day=SEPTEMBER, posted_month=SEPTEMBER)
    owner.post(f"{SEPT}/close")
    for month, message in (("2026-09", "is closed already"), ("2026-10", "can be closed from")):
        answer = owner.post(f"/api/months/{month}/close")
        assert answer.status_code == 409 and message in answer.json()["detail"]
    assert ClosedMonth.objects.count() == 1


@pytest.mark.parametrize("role", ["office", "estimator", "lead"])
def test_the_month_by_api_is_the_owner_s_alone(hall, asker, role):
    other = asker(role)
    answers = [other.get(SEPT), other.post(f"{SEPT}/close"), other.get(f"{SEPT}/jobs/J-0201/why")]
    assert [answer.status_code for answer in answers] == [403, 403, 403]


def test_the_office_enters_overhead_once_and_voids_it(hall, asker):
    office = asker("office")
    entered = {"request_key": "k", "what": "Rent", "amount": "1847.13", "day": "2026-09-30"}
    first, again = office.post("/api/overhead", entered), office.post("/api/overhead", entered)
    assert (first.status_code, again.status_code, first.json()) == (201, 200, again.json())
    other = office.post("/api/overhead", entered | {"amount": "1.00"})
    assert other.status_code == 409 and "request_key" in reasons(other)
    voided = office.post(f"/api/overhead/{first.json()['id']}/void", {"reason": "Twice"})
    assert voided.json()["voided_by"] == "the-office"
    for role in ("estimator", "lead"):
        assert asker(role).get("/api/overhead").status_code == 403
