from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.core.measure.curve import curve_of
from jobs.core.measure.findings import Override
from jobs.core.measure.survey import ArcPiece, HeightProfile, Opening, RadiusAngle, StraightPiece, Survey
from jobs.core.trim.trim import pieces_for, plan_trims, strip_advice, with_need_date
from tests.jobs.core.walls import (
    FT,
    IN,
    base,
    boutique,
    catalog,
    column,
    dental,
    inches,
    library,
    run,
    wall_of,
    with_trims,
)

MAKER = "Its maker's sheet"


def planned(curve_and_wall, *runs, profile=None):
    curve, wall = curve_and_wall
    return plan_trims(curve, with_trims(wall, *runs), catalog(profile or base()))


def one(curve_and_wall, trim_run, profile=None):
    return planned(curve_and_wall, trim_run, profile=profile)[0]


# Lengths at the back of the piece.


def test_dental_net_base_on_both_faces():
    concave, convex = planned(dental(), run("left"), run("right"))
    assert convex.net_mm / IN == pytest.approx(143.99, abs=5e-3)
    assert concave.net_mm / IN == pytest.approx(137.63, abs=5e-3)


def test_the_radius_is_that_of_the_finished_face_not_of_the_framing():
    # Dental: convex framing 132.600, convex finished 133.100; concave finished 132.6 - 3.625 - 0.5.
    concave, convex = planned(dental(), run("left"), run("right"))
    assert (convex.arcs[0].side, convex.arcs[0].radius_mm / IN) == ("convex", pytest.approx(133.1))
    assert (concave.arcs[0].side, concave.arcs[0].radius_mm / IN) == ("concave", pytest.approx(128.475))


def test_the_s_curve_turns_one_base_from_concave_to_convex_to_straight():
    plan = one(boutique(), run("left"))
    assert [arc.side for arc in plan.arcs] == ["concave", "convex", "straight"]
    assert [arc.verdict for arc in plan.arcs] == ["passes", "passes", "flat"]
    assert plan.net_mm / IN == pytest.approx(229.796, abs=5e-4)
    assert plan.spans[0].straight_tails_mm == (pytest.approx(44 * IN),)


def test_a_door_parts_the_base_and_leaves_the_crown_whole():
    foot, crown = planned(dental(), run(), run(position="crown"))
    assert len(foot.spans) == 2
    assert sum(span.length_mm for span in foot.spans) == pytest.approx(foot.net_mm)
    assert len(crown.spans) == 1
    assert crown.net_mm / IN == pytest.approx(182.626, abs=5e-4)


def test_returns_are_added_once():
    plain, returned = planned(dental(), run(), run(returns_mm=20 * IN))
    assert returned.net_mm - plain.net_mm == pytest.approx(20 * IN)
    assert returned.pieces[-1].span is None


WINDOW = Opening("Window", 60 * IN, 36 * IN, 40 * IN, sill_mm=30 * IN)


def straight(*openings, heights=None):
    profile = heights or HeightProfile(((0.0, 96 * IN),))
    return wall_of([StraightPiece(120 * IN)], "centre", profile, openings=openings)


@pytest.mark.parametrize(
    ("foot_in", "spans"),
    [(24, 1), (24.75, 1), (25, 2), (36, 2), (69, 2), (70, 1), (80, 1)],
)
def test_a_chair_rail_is_cut_where_its_band_meets_the_window(foot_in, spans):
    # Window from 30 to 70 in; the rail is 5-1/4 high: cut from a foot over 24.75 to under 70.
    plan = one(straight(WINDOW), run(position="chair", foot_mm=foot_in * IN))
    assert len(plan.spans) == spans


def test_a_window_with_a_sill_under_the_top_of_the_base_cuts_it():
    low = Opening("Low window", 60 * IN, 36 * IN, 60 * IN, sill_mm=3 * IN)
    assert len(one(straight(low), run()).spans) == 2
    assert len(one(straight(WINDOW), run()).spans) == 1


def test_without_a_width_an_undecided_window_is_a_gap_but_a_door_still_cuts():
    door = Opening("Door", 100 * IN, 20 * IN, 80 * IN)
    plan = one(straight(WINDOW, door), run(), profile=base(width_mm=None))
    assert [f.weight for f in plan.findings] == ["gap"]
    assert "width_mm" in plan.findings[0].sentence
    assert "Window" in plan.findings[0].sentence
    assert plan.taken_mm == pytest.approx(20 * IN)


def test_a_crown_is_cut_only_by_an_opening_that_reaches_its_band():
    high = Opening("Passage", 60 * IN, 36 * IN, 92 * IN)
    assert len(one(straight(high), run(position="crown")).spans) == 2
    low = Opening("Passage", 60 * IN, 36 * IN, 90 * IN)
    assert len(one(straight(low), run(position="crown")).spans) == 1


def test_a_crown_on_a_raked_ceiling_is_measured_along_the_slope():
    # 5 : 12 : 13 with 120 in along and 50 in up: 130 in.
    raked = HeightProfile(((0.0, 96 * IN), (120 * IN, 146 * IN)))
    plan = one(straight(heights=raked), run(position="crown"))
    assert plan.net_mm / IN == pytest.approx(130.0, abs=1e-6)
    assert [f.weight for f in plan.findings] == ["caution"]


def test_a_round_column_with_a_door_has_one_stretch_over_its_seam():
    curve, wall = column(60.0, openings=(Opening("Door", 60 * IN, 30 * IN, 80 * IN),))
    plan = one((curve, wall), run("right"))
    assert len(plan.spans) == 1
    assert plan.spans[0].to_mm < plan.spans[0].from_mm
    assert plan.spans[0].length_mm == pytest.approx(plan.face_length_mm - plan.taken_mm)


def test_a_kink_is_pointed_out():
    pieces = (StraightPiece(1000.0), StraightPiece(1000.0, kink_rad=0.5))
    heights = HeightProfile(((0.0, 2400.0),))
    _, wall = dental()
    curve = curve_of(Survey(pieces, heights, "centre", 92.0, 12.7, 12.7))
    result = one((curve, wall), run()).findings
    assert any("28.6 degrees" in f.sentence and f.weight == "caution" for f in result)


def test_adding_a_crown_with_backing_adds_backing_on_the_framing_face():
    without, backed = planned(dental(), run(), run(position="crown", needs_backing=True))
    assert without.backing_mm == 0.0
    assert backed.backing_mm / IN == pytest.approx(181.940, abs=5e-4)


# Pieces by the maker's rules.


def test_17_6_ft_at_most_9_ft_a_piece_is_two_of_9_ft_by_the_next_foot():
    pieces = pieces_for(17.6 * FT, greatest_mm=9 * FT, round_to_mm=FT)
    assert [ordered / FT for _, ordered in pieces] == pytest.approx([9, 9])


def test_17_6_ft_at_most_9_ft_a_piece_is_two_of_10_ft_by_the_next_even_foot():
    pieces = pieces_for(17.6 * FT, greatest_mm=9 * FT, round_to_mm=2 * FT)
    assert sum(ordered for _, ordered in pieces) / FT == pytest.approx(20)


def test_a_foot_added_to_each_piece_comes_before_the_rounding():
    pieces = pieces_for(17.6 * FT, greatest_mm=9 * FT, add_mm=FT, round_to_mm=FT)
    assert [ordered / FT for _, ordered in pieces] == pytest.approx([10, 10])


def test_a_splice_takes_its_overlap_and_may_cost_a_piece():
    # 18 ft in 9 ft pieces is two; a splice that loses 6 in makes it three of (18 + 1) / 3.
    assert len(pieces_for(18 * FT, greatest_mm=9 * FT)) == 2
    pieces = pieces_for(18 * FT, greatest_mm=9 * FT, overlap_mm=FT / 2)
    assert [needed / FT for needed, _ in pieces] == pytest.approx([19 / 3] * 3)


def test_a_short_piece_is_bought_at_the_makers_least():
    assert pieces_for(2 * FT, greatest_mm=9 * FT, least_mm=4 * FT)[0][1] == pytest.approx(4 * FT)


def test_a_greatest_piece_no_longer_than_a_splice_is_refused():
    with pytest.raises(ValueError, match="longer than a splice"):
        pieces_for(1000.0, greatest_mm=50.0, overlap_mm=50.0)
    plan = one(dental(), run(), profile=base(splice_overlap_mm=inches(10), greatest_piece_mm=inches(10)))
    assert plan.pieces == ()
    assert [f.weight for f in plan.findings] == ["gap"]


@given(
    st.floats(1.0, 1e5),
    st.floats(500.0, 6000.0),
    st.floats(0.0, 300.0),
    st.floats(0.0, 700.0),
    st.sampled_from([None, FT, 2 * FT]),
)
def test_pieces_always_cover_the_stretch_and_none_is_too_long(span, greatest, overlap, add, step):
    pieces = pieces_for(span, greatest_mm=greatest, overlap_mm=overlap, add_mm=add, round_to_mm=step)
    needed = [piece for piece, _ in pieces]
    assert sum(needed) - (len(pieces) - 1) * overlap == pytest.approx(span)
    assert max(needed) <= greatest + 1e-5
    assert all(ordered >= piece + add - 1e-5 for piece, ordered in pieces)
    if len(pieces) > 1:
        # One piece fewer would not have reached.
        assert (len(pieces) - 1) * (greatest - overlap) + overlap < span


def test_each_stretch_between_openings_is_divided_by_itself():
    # Dental convex base: the door's middle at 91.34 on the finished face, so 72.03 and 71.97 in.
    plan = one(dental(), run(), profile=base(greatest_piece_mm=inches(108), round_piece_to_mm=inches(12)))
    assert [piece.ordered_mm / IN for piece in plan.pieces] == pytest.approx([84, 72])
    assert plan.splice_count == 0
    short = one(dental(), run(), profile=base(greatest_piece_mm=inches(48)))
    assert (len(short.pieces), short.splice_count) == (4, 2)


def test_a_made_profile_without_a_greatest_piece_is_a_gap():
    plan = one(dental(), run(), profile=base(greatest_piece_mm=None))
    assert plan.pieces == ()
    assert any(f.weight == "gap" and "greatest_piece_mm" in f.sentence for f in plan.findings)


def test_stock_without_a_greatest_piece_is_one_piece_a_stretch():
    plan = one(dental(), run(form="stock"), profile=base(supply="stocked", greatest_piece_mm=None))
    assert len(plan.pieces) == 2
    assert plan.order is None


def test_splices_that_are_not_wanted_but_needed_ask_for_a_decision():
    plan = one(dental(openings=()), run(splices_allowed=False))
    assert [f.weight for f in plan.findings] == ["decide"]
    assert one(dental(openings=()), run(splices_allowed=True)).findings == ()


@pytest.mark.parametrize(("original", "weight"), [(1, "caution"), (None, "caution"), (0, "decide")])
def test_splices_decided_on_hold_for_as_many_and_no_more(original, weight):
    # 182.6 in of profile in pieces of at most 108 in: one splice.
    curve, wall = dental(openings=())
    decision = Override("wall/trim-1/splices", "Scarfed and glued", "M. Rowe", "2026-11-20", original=original)
    plan = one((curve, replace(wall, overrides=(decision,))), run(splices_allowed=False))
    assert [f.weight for f in plan.findings] == [weight]


# Limits.


def tight(radius_in=17.0):
    return wall_of([ArcPiece(RadiusAngle(radius_in * IN, 1.0), "left")], "concave_finished", 96)


def test_a_5_to_6_in_profile_is_refused_at_17_in_and_its_flex_is_told_of_a_piece_that_can_be_made():
    profile = base(
        least_radius_mm=inches(18, "maker", MAKER),
        flex_outside_mm=inches(3, "maker", MAKER),
    )
    arc = one(tight(), run("left"), profile=profile).arcs[0]
    assert arc.verdict == "fails"
    assert "17.00 in is tighter than the least radius of 18.00 in" in arc.sentence
    assert ("flexed" in arc.sentence, arc.flex_outside_mm) == (False, None)
    made = one(tight(18.0), run("left"), profile=profile).arcs[0]
    assert made.verdict == "passes"
    assert "3.00 in easier (to 21.00 in)" in made.sentence


def test_a_refused_profile_can_be_overridden_by_a_named_person():
    curve, wall = tight()
    decision = Override("wall/trim-1/piece-1/bend", "Sample bent in the shop", "M. Rowe", "2026-11-20")
    plan = one((curve, replace(wall, overrides=(decision,))), run("left"))
    assert plan.arcs[0].verdict == "overridden"
    assert [f.weight for f in plan.findings] == ["caution"]


def test_a_profile_decided_at_an_easier_radius_must_be_decided_again():
    # The finished face on the concave side stands at 17 in.
    for original_in, verdict in ((17, "overridden"), (18, "fails")):
        curve, wall = tight()
        key = "wall/trim-1/piece-1/bend"
        decision = Override(key, "Sample bent", "M. Rowe", "2026-11-20", original=original_in * IN)
        arc = one((curve, replace(wall, overrides=(decision,))), run("left")).arcs[0]
        assert arc.verdict == verdict
    assert "for R 18.00 in, now R 17.00 in: decide again" in arc.sentence


def test_a_profile_without_a_limit_is_a_gap_never_a_pass():
    plan = one(dental(), run(), profile=base(least_radius_mm=None))
    assert plan.arcs[0].verdict == "gap"
    assert [f.weight for f in plan.findings] == ["gap"]


def test_a_profile_that_is_not_in_the_catalog_is_a_gap():
    plan = one(dental(), run(material="NONE"))
    assert plan.pieces == ()
    assert {f.weight for f in plan.findings} == {"gap"}


def test_a_remembered_limit_is_said_to_be_unverified():
    plan = one(dental(), run(), profile=base(least_radius_mm=inches(40, "memory", "Remembered")))
    assert plan.arcs[0].verdict == "passes"
    assert [f.weight for f in plan.findings] == ["caution"]


def test_a_rigid_strip_of_half_an_inch():
    # Strain t/(2R); 50 t at break, 125 t with a safety of 2.5 (ANSI A208.2 gives E/MOR about 100).
    advice = strip_advice(0.5 * IN, 100 * IN)
    assert advice.strain == pytest.approx(0.0025)
    assert advice.breaks_near_mm / IN == pytest.approx(25)
    assert advice.easy_from_mm / IN == pytest.approx(62.5)
    assert "should follow" in advice.sentence
    assert "may follow" in strip_advice(0.5 * IN, 40 * IN).sentence
    assert "expected to break" in strip_advice(0.5 * IN, 25 * IN).sentence


def test_advice_never_changes_the_catalogs_own_verdict():
    # 17 in is far under 50 t = 25 in, yet the profile's maker allows it.
    profile = base(supply="stocked", least_radius_mm=inches(10, "maker", MAKER))
    plan = one(tight(), run("left", form="stock"), profile=profile)
    assert plan.arcs[0].verdict == "passes"
    assert [f.weight for f in plan.findings] == ["note"]
    assert one(tight(), run("left"), profile=profile).arcs[0].advice is None


# What an order states.


def complete(**more):
    given = {"grade": "paint", "application": "Base, glued and pinned", "splices_allowed": True}
    return run("left", need_by=date(2027, 1, 25), **(given | more))


def test_a_complete_order_states_everything_and_the_face_of_its_radius():
    order = one(dental(), complete()).order
    assert order.missing == ()
    assert order.size == "5.25 in x 0.50 in"
    assert order.true_arc_or_template == "true arc"
    radius = order.radii[0]
    assert (radius.side, radius.radius_mm / IN) == ("concave", pytest.approx(128.475))
    assert radius.measured_at == "back of the piece, on the left finished face"
    assert len(order.piece_lengths_mm) == 2


@pytest.mark.parametrize(
    ("change", "missing"),
    [
        ({"grade": None}, "grade"),
        ({"application": " "}, "application"),
        ({"splices_allowed": None}, "splices"),
        ({"form": "template"}, "held template"),
    ],
)
def test_an_order_names_what_nobody_has_said(change, missing):
    assert one(dental(), complete(**change)).order.missing == (missing,)


def test_an_order_without_size_or_lengths_names_them():
    profile = base(thickness_mm=None, greatest_piece_mm=None)
    assert one(dental(), complete(), profile=profile).order.missing == (
        "size",
        "number and lengths of pieces",
    )


def test_the_need_date_comes_from_the_activities_unless_the_run_sets_its_own():
    curve, wall = dental()
    own, open_ = plan_trims(curve, with_trims(wall, complete(), replace(complete(), need_by=None)), catalog(base()))
    later = date(2027, 2, 1)
    assert open_.order.missing == ("need date",)
    assert with_need_date(open_, later).order.need_by == later
    assert with_need_date(open_, later).order.missing == ()
    assert with_need_date(own, later).order.need_by == date(2027, 1, 25)


def test_a_template_order_names_its_template():
    order = one(library(), complete(form="template", template="Nook base, traced 3 Feb")).order
    assert order.true_arc_or_template == "template Nook base, traced 3 Feb"
    assert order.missing == ()


def test_stocked_trim_has_no_order_to_date_and_every_made_one_takes_the_date():
    curve, wall = dental()
    later = date(2027, 2, 1)
    forms = [replace(complete(form=form), need_by=None) for form in ("bendable", "pre_curved", "template")]
    for made in plan_trims(curve, with_trims(wall, *forms), catalog(base())):
        assert "need date" in made.order.missing
        dated = with_need_date(made, later)
        assert dated.order.need_by == later
        assert set(made.order.missing) - set(dated.order.missing) == {"need date"}
    (stocked,) = plan_trims(curve, with_trims(wall, run()), catalog(base(supply="stocked")))
    assert with_need_date(stocked, later) == stocked
    assert stocked.order is None
