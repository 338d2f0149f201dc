"""Held templates: the rules are our own, worked by hand here."""

from dataclasses import replace
from datetime import date

import pytest

from jobs.core.measure.findings import Override
from jobs.core.measure.survey import SurveyError
from jobs.core.measure.wall_spec import TrimRun
from jobs.core.takeoff.held_templates import HeldTemplate, TemplateMove, template_for, template_holds
from tests.jobs.core.walls import dental, with_trims

TRACED = date(2027, 2, 3)


def move(state="held", on=TRACED, kept_at="Workshop, rack 2"):
    return TemplateMove(state, on, "Ines Quarrell", "" if state == "lost" else kept_at)


def template(*moves, **more):
    given = {"name": "T1", "shape": "Back of the base", "wall": "wall", "line": "Base", "piece": None}
    return HeldTemplate(
        **(given | {"traced_by": "Ines Quarrell", "traced_on": TRACED} | more), moves=moves or (move(),)
    )


def wall_with(**run):
    given = {"name": "Base", "face": "left", "position": "base", "material": "BASE", "form": "template"}
    return with_trims(dental()[1], TrimRun(**(given | run)))


def holds(wall, *templates):
    return [(hold.finding.weight, hold.finding.sentence) for hold in template_holds(wall, templates)]


def test_a_template_driven_run_is_held_until_its_template_is():
    (weight, sentence) = holds(wall_with())[0]
    assert weight == "gap"
    assert "no template is held" in sentence
    assert holds(wall_with(), template()) == []


@pytest.mark.parametrize("state", ["held", "sent", "returned"])
def test_wherever_the_template_is_it_is_there(state):
    assert holds(wall_with(), template(move(), move(state))) == []


def test_a_lost_template_holds_the_run_again_and_says_who_lost_it():
    lost = template(move(), move("lost", date(2027, 2, 9)))
    assert "T1 is lost (Ines Quarrell, Tue 9 Feb 2027)" in holds(wall_with(), lost)[0][1]


def test_a_template_of_another_wall_or_run_does_not_serve():
    assert holds(wall_with(), template(wall="other"), template(name="T2", line="Crown"))


def test_a_run_that_names_its_template_takes_that_one_and_no_other():
    assert holds(wall_with(template="t9"), template(name="T9", wall="other", line="")) == []
    assert "T7 is not among the job's templates" in holds(wall_with(template="T7"), template())[0][1]


def test_of_several_the_last_traced_that_exists_serves():
    old, new = template(), template(name="T2")
    newer = replace(new, traced_on=date(2027, 2, 8), moves=(move("held", date(2027, 2, 8)),))
    lost = replace(newer, name="T3", moves=(*newer.moves, move("lost", date(2027, 2, 9))))
    wall = wall_with()
    assert template_for(wall, wall.trims[0], (old, newer, lost)).name == "T2"


def test_only_runs_made_to_a_template_are_held():
    assert holds(wall_with(form="pre_curved")) == []


def test_a_named_person_may_release_it_all_the_same():
    decision = Override("wall/trim-1/release/template", "The maker measures on site", "M. Rowe", "2027-02-01")
    wall = replace(wall_with(), overrides=(decision,))
    held = template_holds(wall, ())
    assert [(hold.finding.weight, hold.is_open) for hold in held] == [("caution", False)]


@pytest.mark.parametrize(
    ("change", "entry"),
    [({"name": " "}, "name"), ({"shape": ""}, "shape"), ({"traced_by": ""}, "traced_by"), ({"piece": 0}, "piece")],
)
def test_a_template_without_what_tells_it_is_refused(change, entry):
    with pytest.raises(SurveyError) as refused:
        template(**change)
    assert refused.value.field == entry


def test_days_go_forward_from_the_tracing():
    with pytest.raises(SurveyError, match="from the tracing on"):
        template(move(on=date(2027, 2, 1)))


def test_a_template_that_is_not_lost_is_kept_somewhere():
    with pytest.raises(SurveyError, match="where the template is kept"):
        TemplateMove("sent", TRACED, "Ines Quarrell")
