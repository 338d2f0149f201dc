"""The usual extras: a yes with an amount makes its line of cost, and what is left is answered at once."""

import pytest
from django.urls import reverse

from quoting.pricing.models import Pricing
from quoting.quotes.pages.extras_step import with_amounts
from tests.quoting.quotes.test_quotes_pages import dental, typed
from tests.support.desk import as_

__all__ = ["as_", "dental"]


@pytest.fixture
def save(as_, dental):
    """save(what is typed) -> the page's answer."""
    estimator = as_("estimator")
    page = reverse("quote", args=[dental.pk])
    return lambda changes: estimator.post(page, typed(estimator, dental, "extras") | changes)


def answer(item: str, **typed: str) -> dict[str, str]:
    return {"item": item, **typed}


def answers(dental) -> dict[str, str]:
    return dict(Pricing.objects.get(job=dental).checklist.values_list("item", "answer"))


def test_a_yes_with_an_amount_makes_the_line_of_cost(save, dental):
    yes = {"checklist-11-item": "Scaffold", "checklist-11-answer": "cost", "checklist-11-amount": "180.00"}
    assert save(yes).status_code == 302
    assert Pricing.objects.get(job=dental).costs.get(category="other", what="Scaffold").unit_cost == 180
    assert answers(dental)["Scaffold"] == "cost"


def test_another_amount_changes_the_line_and_another_answer_takes_it_out():
    scaffold, skip = {"what": "Scaffold", "amount": "180.00"}, {"what": "Skip", "amount": "90.00"}
    more = answer("Scaffold", answer="cost", amount="200.00", line="Scaffold")
    assert with_amounts([more], [scaffold, skip])["other"] == [scaffold | {"amount": "200.00"}, skip]
    included = answer("Scaffold", answer="included", where="Boards", line="Scaffold")
    assert with_amounts([included], [scaffold, skip])["other"] == [skip]


def test_a_line_that_stands_for_several_extras_stays():
    both = [answer(item, answer="cost", line="Skip and van") for item in ("Delivery", "Waste")]
    van = {"what": "Skip and van", "amount": "240.00"}
    found = with_amounts(both, [van])
    assert found["other"] == [van] and [row["where"] for row in found["checklist"]] == ["Skip and van"] * 2


def test_a_yes_without_an_amount_is_said_at_its_amount_and_nothing_is_saved(save, dental):
    shown = save({"checklist-11-item": "Scaffold", "checklist-11-answer": "cost"})
    assert shown.status_code == 422 and 'href="#id_checklist-11-amount"' in shown.content.decode()
    assert "Scaffold" not in answers(dental)


def test_a_wrong_amount_is_said_where_it_was_typed(save):
    yes = {"checklist-11-item": "Scaffold", "checklist-11-answer": "cost", "checklist-11-amount": "much"}
    assert 'href="#id_checklist-11-amount"' in save(yes).content.decode()


def test_the_rest_is_answered_at_once_with_one_reason(save, dental):
    new = {f"checklist-{place}-item": f"Crane {place}" for place in (11, 12)}
    assert save(new | {"rest": "yes"}).status_code == 422
    assert save(new | {"rest": "yes", "rest_reason": "A small room"}).status_code == 302
    rows = Pricing.objects.get(job=dental).checklist.filter(item__startswith="Crane")
    assert [(row.answer, row.reason) for row in rows] == [("dismissed", "A small room")] * 2
