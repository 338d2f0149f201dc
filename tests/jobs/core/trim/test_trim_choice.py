"""What each piece of a wall asks of a profile, and the cheapest way. Limits and prices are a made-up maker's."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from catalog.core.materials.profiles import ProfileCard, WidthLimit
from catalog.core.materials.specs import Fact, Pack, Price
from jobs.core.measure.survey import ArcPiece, RadiusAngle, StraightPiece
from jobs.core.trim.trim import plan_trims
from jobs.core.trim.trim_choice import choices_of
from tests.jobs.core.walls import FT, IN, catalog, fact, inches, material, run, wall_of, with_trims

DAY = date(2027, 1, 4)


def profile(code, forms, least_in, a_foot, *, shape="Bevel", grades=(), **facts):
    """Sold by the foot; "a_foot" money each, None for no price."""
    prices = () if a_foot is None else (Price(Decimal(a_foot), date(2026, 1, 1)),)
    given = {"greatest_piece_mm": inches(240), "width_mm": inches(5.25), "thickness_mm": inches(0.5)}
    if least_in is not None:
        given["least_radius_mm"] = inches(least_in, "maker", "Its maker's sheet")
    made = material(code, "trim", "ft", "stocked" if forms == ("stock",) else "custom_made", **(given | facts))
    pack = Pack(f"{code}-FT", "foot", Decimal(1), prices)
    return replace(made, packs=(pack,), profile=ProfileCard(shape, forms, grades))


MDF = profile("MDF", ("stock",), 100, "2.00")
FLEX = profile("FLEX", ("bendable",), 30, "25.00")
OAK = profile("OAK", ("pre_curved", "template"), 12, "40.00", template_charge=fact("150"))


def s_wall(*radii_in):
    """Arcs of one radian each at these radii of the left finished face, bent to left and right in turn."""
    pieces = [
        ArcPiece(RadiusAngle(radius * IN, 1.0), "left" if n % 2 == 0 else "right") for n, radius in enumerate(radii_in)
    ]
    return wall_of(pieces, "left_finished", 96)


def chosen(curve_and_wall, trim_run, *profiles):
    curve, wall = curve_and_wall
    wall, materials = with_trims(wall, trim_run), catalog(*profiles)
    return choices_of(plan_trims(curve, wall, materials)[0], wall, materials, DAY)


def test_each_piece_of_an_s_curve_has_its_own_answer():
    choice = chosen(s_wall(120, 50, 20), run("left", material="MDF", form="stock"), MDF, FLEX, OAK)
    assert [piece.verdict for piece in choice.pieces] == [
        "stock bends as it comes",
        "bendable profile",
        "curved by the maker",
    ]
    assert "MDF trim as stock ends at 100.00 in, and piece 2 is 50.00 in" in choice.pieces[1].reason


def test_a_straight_piece_asks_for_nothing():
    curve, wall = wall_of([StraightPiece(60 * IN)], "left_finished", 96)
    assert (
        chosen((curve, wall), run("left", material="MDF", form="stock"), MDF).pieces[0].reason
        == "the piece is straight"
    )


def test_the_cheapest_allowed_way_is_named_with_what_it_costs_more_or_less():
    # 50 in x 1 rad = 50 in = 4-1/6 ft at 40.00 and at 25.00 a foot: 166.67 and 104.17.
    choice = chosen(s_wall(50), run("left", material="OAK", form="pre_curved"), MDF, FLEX, OAK)
    assert (choice.cheapest.material, choice.cheapest.cost) == ("FLEX", Decimal("104.17"))
    assert choice.difference == Decimal("104.17") - Decimal("166.67")
    stock = next(way for way in choice.ways if way.form == "stock")
    assert not stock.is_allowed
    assert "ends at 100.00 in" in stock.why_not[0]


def test_a_template_is_charged_once_and_without_a_charge_has_no_cost():
    choice = chosen(s_wall(50), run("left", material="OAK", form="template"), OAK)
    assert choice.chosen.cost == Decimal("166.67") + 150
    free = profile("OAK", ("template",), 12, "40.00")
    way = chosen(s_wall(50), run("left", material="OAK", form="template"), free).chosen
    assert way.cost is None
    assert "no charge for a template" in way.why_no_cost


def test_a_missing_price_or_limit_is_said_and_never_taken_for_nothing():
    bare = profile("FLEX", ("bendable",), None, None)
    choice = chosen(s_wall(50), run("left", material="FLEX", form="bendable"), bare)
    assert choice.pieces[0].form is None
    assert "states no least radius" in choice.pieces[0].reason
    assert choice.cheapest is None
    assert "has no price on Mon 4 Jan 2027" in choice.chosen.why_no_cost


def test_profiles_of_another_shape_do_not_stand_in():
    other = profile("OTHER", ("bendable",), 12, "1.00", shape="Ogee")
    choice = chosen(s_wall(50), run("left", material="FLEX", form="bendable"), FLEX, other)
    assert {way.material for way in choice.ways} == {"FLEX"}


def test_the_grade_a_card_does_not_offer_stands_against_that_way():
    painted = profile("FLEX", ("bendable",), 30, "25.00", grades=("paint",))
    choice = chosen(s_wall(50), run("left", material="OAK", form="pre_curved", grade="stain"), painted, OAK)
    flex = next(way for way in choice.ways if way.material == "FLEX")
    assert not flex.is_allowed
    assert choice.cheapest.material == "OAK"


@pytest.mark.parametrize(("position", "verdict"), [("base", "passes"), ("cap", "gap"), ("crown", "gap")])
def test_a_crown_or_a_cap_is_bent_on_edge_and_asks_for_that_limit(position, verdict):
    curve, wall = s_wall(120)
    wall = with_trims(wall, run("left", position=position, material="MDF", form="stock"))
    arc = plan_trims(curve, wall, catalog(MDF))[0].arcs[0]
    assert (arc.verdict, arc.way) == (verdict, "easy" if position == "base" else "hard")
    if verdict == "gap":
        assert "hard_least_radius_mm" in arc.sentence


def test_the_limit_on_edge_is_held_against_a_cap_and_its_width_lies_along_the_radius():
    on_edge = profile("MDF", ("stock",), 100, "2.00", hard_least_radius_mm=inches(300, "maker", "Its maker's sheet"))
    curve, wall = s_wall(120)
    wall = with_trims(wall, run("left", position="cap", material="MDF", form="stock"))
    arc = plan_trims(curve, wall, catalog(on_edge))[0].arcs[0]
    assert arc.verdict == "fails"
    # A strip of 5-1/4 in along the radius: strain t / (2 R), 50 t at break (trade rules on trim).
    assert arc.advice.strain == pytest.approx(5.25 / 240)
    assert "on edge, the hard way" in arc.sentence


def test_a_run_may_say_how_it_is_bent():
    curve, wall = s_wall(120)
    wall = with_trims(wall, run("left", position="cap", material="MDF", form="stock", bend="easy"))
    assert plan_trims(curve, wall, catalog(MDF))[0].arcs[0].verdict == "passes"


def test_each_piece_of_trim_tells_every_radius_it_follows():
    # 120 in then 60 in of face: pieces of at most 100 in are two of 90; the second turns from one bend to the other.
    curve, wall = s_wall(120, 60)
    short = profile("FLEX", ("bendable",), 30, "25.00", greatest_piece_mm=Fact(Decimal("2540"), "Its maker", "maker"))
    plan = plan_trims(curve, with_trims(wall, run("left", material="FLEX")), catalog(short))[0]
    rowses = [
        [(entry.side, round(entry.radius_mm / IN), round(entry.length_mm / IN, 3)) for entry in piece.curves]
        for piece in plan.pieces
    ]
    assert rowses == [[("concave", 120, 90.0)], [("concave", 120, 30.0), ("convex", 60, 60.0)]]


def test_a_form_the_card_does_not_offer_asks_for_a_decision():
    curve, wall = s_wall(120)
    plan = plan_trims(curve, with_trims(wall, run("left", material="MDF", form="template")), catalog(MDF))[0]
    assert [(finding.key, finding.weight) for finding in plan.findings if finding.weight == "decide"] == [
        ("wall/trim-1/form", "decide")
    ]


def test_a_profile_wider_than_its_makers_table_says_so():
    card = ProfileCard(
        limits=(WidthLimit(Decimal("88.9"), Decimal("300")),), limits_source="Sheet", limits_sure="maker"
    )
    wide = material(
        "W", "trim", "ft", "custom_made", width_mm=inches(5.25), greatest_piece_mm=Fact(Decimal(9 * FT), "M", "maker")
    )
    curve, wall = s_wall(50)
    plan = plan_trims(curve, with_trims(wall, run("left", material="W")), catalog(replace(wide, profile=card)))[0]
    assert plan.arcs[0].verdict == "gap"
    assert "its table ends at 3.50 in, short of its width of 5.25 in" in plan.arcs[0].sentence
