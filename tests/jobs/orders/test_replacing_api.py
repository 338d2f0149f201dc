"""Which pieces are ordered again, through the API; the four kinds are those of the dental screen's base."""

import pytest

from tests.jobs.orders.test_replacing import again, feet, job, receipt
from tests.support.asking import reasons

__all__ = ["again", "job", "receipt"]
pytestmark = pytest.mark.django_db


def test_the_pieces_ordered_again_are_offered_and_chosen(office, again):
    there = f"/api/orders/{again.order.number}"
    result = office.get(there)
    [line] = result.json()["lines"]
    assert [(entry["most"], entry["chosen"]) for entry in line["choices"]] == [(1, 0)] * 4
    change = {"pieces": [{"place": 1, "counts": [0, 1, 0, 1]}]}
    wrong = office("PATCH", there, {"pieces": [{"place": 2, "counts": [1]}]}, If_Match=result["ETag"])
    assert (wrong.status_code, "Line 2" in reasons(wrong)[""]) == (409, True)
    outcome = office("PATCH", there, change, If_Match=result["ETag"])
    assert outcome.status_code == 200 and outcome.json()["stops"] == []
    again.refresh_from_db()
    assert feet(again) == [4, 5]
