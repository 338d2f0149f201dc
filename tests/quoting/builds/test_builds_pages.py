"""Builds of a job side by side on their page, and one taken from it."""

import json

import pytest
from django.urls import reverse

from jobs.jobs.models import Job
from tests.support.desk import DAY, HOSTILE, as_, priced_job, queries_of

__all__ = ["as_"]

LEVEL_3 = {"variants-0-name": "Level 3", "variants-0-left_level": "3", "variants-0-right_level": "3"}


@pytest.fixture
def dental(frozen_clock, db) -> Job:
    frozen_clock.move_to(DAY)
    return priced_job()


def page(client, job, chosen=None):
    return client.get(reverse("job_builds", args=[job.pk]), chosen or {})


def sent_of(response, place: int = 0) -> dict[str, str]:
    """What the button of a build sends."""
    return {"variant": response.context["builds"][place][1], "versions": response.context["versions"]}


def used(client, job, sent):
    return client.post(reverse("job_build_use", args=[job.pk]), sent, follow=True)


def row(response, label: str) -> list[str]:
    return next([cell.main for cell in entry.cells] for entry in response.context["rows"] if entry.label == label)


def levels(job) -> list[tuple[int, int]]:
    return list(job.walls.values_list("left_level", "right_level"))


def test_before_anything_is_chosen_the_choices_are_offered(as_, dental):
    response = page(as_("estimator"), dental)
    assert response.status_code == 200 and "rows" not in response.context
    assert "1/4" in response.content.decode()


def test_the_build_as_it_stands_has_the_figures_of_the_worked_example(as_, dental):
    response = page(as_("estimator"), dental, LEVEL_3)
    # Worked example, Larkmoor Dental: price 13,841.94, total 15,641.39.
    assert row(response, "Price before tax")[0] == "13,841.94" and row(response, "Total with tax")[0] == "15,641.39"
    assert "Level 3" in response.content.decode()


def test_three_builds_stand_side_by_side_and_their_lines_below(as_, dental):
    chosen = LEVEL_3 | {"variants-1-left_layers": "1", "variants-2-trim_form": "template"}
    response = page(as_("estimator"), dental, chosen)
    assert [build.name for build, *_ in response.context["builds"]] == ["Level 3", "Second build", "Third build"]
    assert all(len(entry.cells) == 4 for entry in response.context["rows"])
    assert response.context["builds"][1][2], "a layer less moves lines"


def test_the_office_sees_costs_and_no_price_and_the_lead_nothing(as_, dental):
    response = page(as_("office"), dental, LEVEL_3)
    labels = {entry.label for entry in response.context["rows"]}
    assert "Cost of materials" in labels and not {"Price before tax", "Total with tax"} & labels
    assert "13,841.94" not in response.content.decode()
    lead = as_("lead")
    assert page(lead, dental).status_code == 403
    assert lead.post(reverse("job_build_use", args=[dental.pk]), {}).status_code == 403


def test_a_build_is_taken_and_stands_on_the_walls(as_, dental):
    estimator = as_("estimator")
    response = used(estimator, dental, sent_of(page(estimator, dental, LEVEL_3)))
    assert levels(dental) == [(3, 3)]
    assert response.resolver_match.url_name == "job" and "Level 3" in response.content.decode()


def test_pressed_again_it_is_refused_with_a_sentence_and_the_choice_is_kept(as_, dental):
    estimator = as_("estimator")
    sent = sent_of(page(estimator, dental, LEVEL_3)) | {"query": "variants-0-name=Kept&variants-0-left_level=2"}
    used(estimator, dental, sent)
    response = used(estimator, dental, sent)
    assert "Nothing was saved" in response.content.decode() and levels(dental) == [(3, 3)]
    assert response.context["builds_form"].forms[0]["name"].value() == "Kept"


def test_what_changes_nothing_is_told_at_the_build(as_, dental):
    estimator = as_("estimator")
    response = page(estimator, dental, {"variants-1-name": "Only a name"})
    assert response.status_code == 422
    assert "Changes nothing" in response.context["builds_form"].forms[1].non_field_errors()[0]
    response = page(estimator, dental, {"variants-0-name": ""})
    assert response.status_code == 422 and response.context["builds_form"].faults


def test_what_the_job_does_not_have_is_told_at_its_field(as_, dental):
    estimator = as_("estimator")
    form = page(estimator, dental, {"variants-0-trim_position": "cap", "variants-0-trim_form": "stock"}).context[
        "builds_form"
    ]
    assert "no run of trim" in form.forms[0].errors["trim_position"][0]
    form = page(estimator, dental, {"variants-0-left_board": "NO-SUCH"}).context["builds_form"]
    assert "NO-SUCH" in form.forms[0].errors["left_board"][0]


@pytest.mark.parametrize("name", ["name", "wall", "left_layers", "left_board", "trim_position", "trim_material"])
def test_whatever_is_chosen_the_page_answers(as_, dental, name):
    estimator = as_("estimator")
    for value in HOSTILE:
        assert page(estimator, dental, {f"variants-0-{name}": value}).status_code in (200, 422), value


@pytest.mark.parametrize("name", ["variant", "versions", "query"])
def test_whatever_is_sent_nothing_is_stored(as_, dental, name):
    estimator = as_("estimator")
    before, good = levels(dental), sent_of(page(estimator, dental, LEVEL_3))
    spoilt = [*HOSTILE, "{}", "[]", '{"": "x"}', json.dumps({"name": "x", "faces": [{"level": 9}]})]
    if name == "query":
        good["versions"] = "{}"
    for value in spoilt:
        response = used(estimator, dental, good | {name: value})
        assert response.status_code in (200, 422), value
        assert levels(dental) == before


def test_a_job_without_walls_or_price_is_compared_all_the_same(as_, dental):
    dental.pricing.delete()
    response = page(as_("estimator"), dental, LEVEL_3)
    assert row(response, "Price before tax") == ["not known"] * 2
    assert "not priced yet" in response.content.decode()


def test_the_queries_do_not_grow_with_the_walls(as_, frozen_clock, db):
    frozen_clock.move_to(DAY)
    entry, three = priced_job(), priced_job("brightwell-childcare")
    estimator = as_("estimator")
    chosen = "?variants-0-left_level=3&variants-1-right_level=2"
    counts = [queries_of(estimator, reverse("job_builds", args=[job.pk]) + chosen) for job in (entry, three, entry)]
    assert counts[1] <= max(counts[0], counts[2]) + 2
