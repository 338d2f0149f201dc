import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.materials.standards import Standards, starter_standards
from jobs.core.framing.framing import add_sheet_end_studs, frame
from jobs.core.measure.curve import curve_of
from jobs.core.measure.survey import HeightProfile, Opening, StraightPiece, Survey
from jobs.core.measure.wall_spec import FaceBuild, Layer, WallEnds
from jobs.core.takeoff.finishing import finish
from jobs.core.takeoff.screws import screws_on_a_line, shortest_that_reaches
from jobs.core.trim.trim import plan_trims
from tests.jobs.core.walls import (
    IN,
    TWO_THIN,
    base,
    board,
    catalog,
    column,
    dental,
    fact,
    inches,
    library,
    material,
    run,
    wall_of,
    with_trims,
)

STANDARDS = starter_standards()
TEXTBOOK = "Estimating in Building Construction, example 16-3"
SHEET = "Its maker's sheet"


def screw(length_in):
    return material(f"S-{length_in}", "fastener", screw_length_mm=inches(length_in, "maker", SHEET))


KIT = {
    "framing_screw": ("PAN",),
    "track_fastener": ("PIN",),
    "board_screw": ("S-1.25", "S-1", "S-1.625"),
    "tape": ("TAPE",),
    "compound": ("MUD",),
    "bead": ("BEAD",),
    "bead_fastener": ("TACK",),
    "primer": ("PRIMER",),
    "paint": ("PAINT",),
    "insulation": ("WOOL",),
    "backing": ("BACK",),
}


def stocked(*more):
    known = [
        material("PAN", "fastener"),
        material("PIN", "fastener"),
        material("TACK", "fastener"),
        *(screw(length) for length in ("1", "1.25", "1.625")),
        material("TAPE", "tape", "ft"),
        material("MUD", "compound", "gal", gal_per_1000sqft=fact(10, "memory", TEXTBOOK)),
        material("BEAD", "bead", "ft"),
        material("PRIMER", "primer", "gal", sqft_per_gal=fact(300, "practice", "Common practice")),
        material("PAINT", "paint", "gal", sqft_per_gal=fact(400, "practice", "Common practice")),
        material("WOOL", "insulation", "sqft"),
        material("BACK", "backing", "ft"),
        base(),
    ]
    return catalog(*known, *more)


NO_JOINTS = {"left": 0.0, "right": 0.0}


def worked_up(curve_and_wall, *, materials=None, kit=KIT, standards=STANDARDS, joints=NO_JOINTS, flats=()):
    curve, wall = curve_and_wall
    materials = stocked() if materials is None else materials
    framing = frame(curve, wall, materials, standards)
    if flats:
        framing = add_sheet_end_studs(framing, flats, "left")
    trims = plan_trims(curve, wall, materials)
    return finish(curve, framing, wall, materials, kit, standards, joints, trims)


def value(result, key):
    results = [item.value for item in result.items if item.key == f"wall/{key}"]
    assert len(results) == 1, [item.key for item in result.items]
    return results[0]


def straight(feet=8, height=96, **more):
    return wall_of([StraightPiece(feet * 304.8)], "centre", height, **more)


def standards_with(**facts):
    return Standards({**STANDARDS.facts, **facts}, STANDARDS.spacing_steps)


def without(name):
    return Standards({n: f for n, f in STANDARDS.facts.items() if n != name}, STANDARDS.spacing_steps)


# Board screws.


def test_an_8_ft_stud_line_takes_7_screws_at_16_in():
    assert screws_on_a_line(96 * IN, 16 * IN) == 7


def test_6_in_studs_take_1_75_screws_a_square_foot():
    # Computed reference: one 8 ft line at 16 in serves 8 x 1/2 sq ft.
    assert screws_on_a_line(96 * IN, 16 * IN) / (8 * 0.5) == 1.75
    result = worked_up(straight(8, spacing=6))
    # 8 ft at 6 in: 17 lines of 7 screws under, and at 12 in 9 screws over.
    assert value(result, "left/layer-1/board_screw") == 17 * 7
    assert value(result, "left/layer-2/board_screw") == 17 * 9


def test_a_screw_an_inch_and_a_quarter_serves_half_an_inch_in_total():
    # Common practice: 1-1/4 in for 1/2 in total thickness; layers + 3/8 in is 7/8 in.
    assert shortest_that_reaches([screw("1.25"), screw("1.625")], (0.5 + 0.375) * IN).code == "S-1.25"


def test_the_shortest_screw_that_reaches_is_taken_and_an_exact_fit_reaches():
    kit = [screw("1.625"), screw("1"), screw("1.25")]
    assert shortest_that_reaches(kit, 1.0 * IN).code == "S-1"
    assert shortest_that_reaches(kit, 1.01 * IN).code == "S-1.25"
    assert shortest_that_reaches(kit, 2.0 * IN) is None


def test_each_layer_takes_the_screw_that_passes_the_layers_under_it():
    result = worked_up(straight(layers=(Layer("GB-1/2"), Layer("GB-1/2")), build_up=1.0))
    taken = {item.key: item.material for item in result.items if item.key.startswith("wall/left/layer")}
    # 1/2 + 3/8 = 7/8: 1 in. 1 + 3/8 = 1-3/8: 1-5/8 in.
    assert taken == {"wall/left/layer-1/board_screw": "S-1", "wall/left/layer-2/board_screw": "S-1.625"}


def test_no_screw_long_enough_is_a_gap():
    result = worked_up(straight(), kit=KIT | {"board_screw": ("S-1",)})
    assert not [f for f in result.findings if f.weight == "gap"]
    thick = straight(layers=(Layer("GB-5/8"), Layer("GB-5/8")), build_up=1.25)
    result = worked_up(thick, kit=KIT | {"board_screw": ("S-1",)})
    gaps = [f for f in result.findings if f.weight == "gap"]
    assert {f.key for f in gaps} == {"wall/left/layer-2/board_screw", "wall/right/layer-2/board_screw"}
    assert "1.63 in" in gaps[0].sentence


def test_a_flat_stud_behind_a_joint_adds_a_line_of_screws_on_its_face_only():
    plain = worked_up(straight(spacing=16))
    backed = worked_up(straight(spacing=16), flats=[609.6])
    assert value(backed, "left/layer-1/board_screw") - value(plain, "left/layer-1/board_screw") == 7
    assert value(backed, "right/layer-1/board_screw") == value(plain, "right/layer-1/board_screw")


def test_cripples_take_screws_for_their_own_height():
    # Dental, layer 1 at 16 in: 20 studs + 2 jambs of 108 in take 8 each; 4 cripples of 25 in take 3.
    assert value(worked_up(dental()), "left/layer-1/board_screw") == 22 * 8 + 4 * 3


def for_steel(code, length_in, low, high):
    # ASTM C1002: under 0.033 in. ASTM C954: 0.033 to 0.112 in.
    figures = {"least_steel_mil": fact(low, "published", "ASTM C954")} if low else {}
    figures |= {"greatest_steel_mil": fact(high, "published", "ASTM"), "screw_length_mm": inches(length_in)}
    return material(code, "fastener", **figures)


DRILL = for_steel("DRILL", "1.25", 33, 112)
HEAVY_TRACK = material("TRACK", "track", "ft", steel_mil=fact(33, "maker", SHEET))


def test_screws_through_heavy_track_are_called_wrong_and_the_right_one_is_offered():
    result = worked_up(straight(), materials=stocked(HEAVY_TRACK, DRILL))
    text = {finding.key: finding.sentence for finding in result.findings if finding.weight == "caution"}
    assert set(text) == {"wall/framing_screw/steel", "wall/board_screw/track/steel"}
    assert "pass 33 mil steel (TRACK); S-1 does not say" in text["wall/board_screw/track/steel"]
    assert all("Fill that in, or name in the kit: DRILL fastener (DRILL)." in entry for entry in text.values())


def test_screws_at_heavy_track_are_bought_apart_from_those_in_the_light_stud():
    kit = KIT | {"framing_screw": ("DRILL",), "board_screw": ("S-1", "DRILL")}
    result = worked_up(straight(8, spacing=16), materials=stocked(HEAVY_TRACK, DRILL), kit=kit)
    assert result.findings == ()
    # 7 stud lines of 7 screws at 16 in; the two at the ends of each line pass the track.
    assert value(result, "left/layer-1/board_screw") == 7 * 7 - 7 * 2
    assert value(result, "left/layer-1/track/board_screw") == 7 * 2
    taken = {item.material for item in result.items if item.key.endswith("layer-1/track/board_screw")}
    assert taken == {"DRILL"}


def test_at_the_dental_s_track_a_whole_stud_takes_two_screws_and_a_cripple_one():
    kit = KIT | {"framing_screw": ("DRILL",), "board_screw": ("S-1", "DRILL")}
    test = worked_up(dental(), materials=stocked(HEAVY_TRACK, DRILL), kit=kit)
    # 20 studs and 2 jambs of 8 screws and 4 cripples of 3, of which 22 x 2 + 4 at the track.
    assert value(test, "left/layer-1/track/board_screw") == 22 * 2 + 4
    assert value(test, "left/layer-1/board_screw") == 22 * 8 + 4 * 3 - 48


def test_heavy_studs_take_one_screw_throughout():
    heavy = material("STUD", "stud", steel_mil=fact(33, "maker", SHEET))
    kit = KIT | {"framing_screw": ("DRILL",), "board_screw": ("S-1", "DRILL")}
    result = worked_up(straight(8, spacing=16), materials=stocked(heavy, DRILL), kit=kit)
    assert result.findings == () and value(result, "left/layer-1/board_screw") == 7 * 7


def test_light_steel_needs_no_other_screw_and_unknown_steel_is_noted():
    assert worked_up(straight()).findings == ()
    result = worked_up(straight(), materials=stocked(material("TRACK", "track", "ft"))).findings
    assert [(entry.key, entry.weight) for entry in result] == [("wall/track/steel", "note")]


def test_steel_no_screw_standard_reaches_is_referred_to_its_maker():
    heavy = material("STUD", "stud", steel_mil=fact(118, "maker", SHEET))
    text = [finding.sentence for finding in worked_up(straight(), materials=stocked(heavy)).findings]
    assert text and all("ask its maker" in entry for entry in text)


# Joints, compound, paint.


def test_tape_follows_the_planned_joints():
    joints = worked_up(straight(), joints={"left": 5000.0, "right": 0.0})
    # And 8 ft = 2438.4 mm of joint with the ceiling on each face.
    assert value(joints, "left/tape") == pytest.approx(5000.0 + 2438.4)
    assert value(joints, "right/tape") == pytest.approx(2438.4)


def test_joints_nobody_planned_are_a_gap():
    result = worked_up(straight(), joints={"left": 5000.0})
    assert [f.key for f in result.findings] == ["wall/right/tape"]


def test_a_negative_joint_length_is_refused():
    with pytest.raises(ValueError, match="left face must be zero or more"):
        worked_up(straight(), joints={"left": -1.0})


def taped(result, face="left"):
    results = next(item for item in result.items if item.key == f"wall/{face}/tape")
    return results.value / IN, dict(results.explanation.inputs)


def test_the_joint_with_a_ceiling_of_board_is_taped_and_stated():
    # 8 ft of straight wall: 96 in of ceiling on each face.
    length_in, stated = taped(worked_up(straight(8)))
    assert length_in == pytest.approx(96)
    assert stated["joint with the ceiling"] == "96.00 in" and stated["ends that meet a wall"] == "0.00 in"


def test_an_end_that_meets_a_wall_is_taped_on_each_face_and_not_beaded():
    result = worked_up(straight(8, height=108, ends=WallEnds("meets", "free")))
    # 96 in of ceiling and one corner 108 in high; one free end of 108 in takes bead.
    assert taped(result)[0] == taped(result, "right")[0] == pytest.approx(96 + 108)
    assert value(result, "left/bead") / IN == pytest.approx(108)


def test_at_a_column_and_under_a_deck_nothing_is_taped_and_a_note_says_so():
    test = worked_up(straight(8, ends=WallEnds("column", "free"), top="deck"))
    assert not [item for item in test.items if item.material == "TAPE"]
    assert value(test, "left/bead") / IN == pytest.approx(96)
    (note,) = [finding.sentence for finding in test.findings if finding.weight == "note"]
    assert note == "Neither tape nor bead is counted at the start and the top: add what that joint takes."


def test_the_ceiling_joint_follows_a_slope_and_leaves_out_openings_up_to_it():
    heights = HeightProfile(((0.0, 96 * IN), (96 * IN, 168 * IN)))
    # Run 96, rise 72: 120 in along the slope.
    assert taped(worked_up(straight(8, height=heights)))[0] == pytest.approx(120)
    door = Opening("Door", 48 * IN, 36 * IN, 96 * IN)
    assert taped(worked_up(straight(8, openings=(door,))))[0] == pytest.approx(96 - 36)


def test_a_kink_is_taped_inside_and_beaded_outside():
    pieces = (StraightPiece(1000.0), StraightPiece(1000.0, kink_rad=0.5))
    heights = HeightProfile(((0.0, 2400.0),))
    _, wall = straight()
    wall = replace(wall, pieces=pieces, heights=heights)
    result = worked_up((curve_of(Survey(pieces, heights, "centre", 92.0, 12.7, 12.7)), wall))
    # The corner of 2400 and the ceiling: 2 x 1000 on the centreline.
    ceiling = result.items[[item.key for item in result.items].index("wall/right/tape")].value
    assert ceiling == pytest.approx(2000.0, abs=30)
    assert value(result, "left/tape") - 2400.0 == pytest.approx(2000.0, abs=30)
    assert value(result, "right/bead") - value(result, "left/bead") == pytest.approx(2400.0)


def test_dental_compound_on_both_faces_by_level():
    left, right = FaceBuild(TWO_THIN, 4), FaceBuild(TWO_THIN, 5)
    result = worked_up(dental(left=left, right=right))
    # Net areas 109.94 and 114.70 sq ft at 10 gal per 1,000; level 5 at the firm's factor of 1.5.
    assert value(result, "left/compound") == pytest.approx(1.0994, abs=5e-5)
    assert value(result, "right/compound") == pytest.approx(1.1470 * 1.5, abs=1e-4)


def test_going_from_level_4_to_5_adds_the_skim_coat_on_both_faces():
    four = worked_up(straight())
    five = worked_up(straight(left=FaceBuild(TWO_THIN, 5), right=FaceBuild(TWO_THIN, 5)))
    for face in ("left", "right"):
        assert value(five, f"{face}/compound") == pytest.approx(1.5 * value(four, f"{face}/compound"))


def test_level_0_is_neither_taped_nor_beaded():
    result = worked_up(straight(left=FaceBuild(TWO_THIN, 0, painted=False)), joints={"left": 5000.0, "right": 0})
    roles = {item.key.rsplit("/", 1)[-1] for item in result.items if item.face == "left"}
    assert roles == {"board_screw"}


def test_primer_and_paint_by_coats_and_coverage():
    result = worked_up(dental())
    # 109.94 sq ft: one coat at 300, two coats at 400 sq ft a gallon.
    assert value(result, "left/primer") == pytest.approx(109.94 / 300, abs=2e-5)
    assert value(result, "left/paint") == pytest.approx(109.94 * 2 / 400, abs=3e-5)


def test_an_unpainted_face_and_no_coats_take_no_paint():
    result = worked_up(straight(left=FaceBuild(TWO_THIN, 4, painted=False)))
    assert not [i for i in result.items if i.face == "left" and i.material in ("PRIMER", "PAINT")]
    bare = worked_up(straight(), standards=standards_with(paint_coats=fact(0, "firm", "Test firm")))
    assert bare.total("PAINT") == 0
    assert not [f for f in bare.findings if f.weight == "gap"]


# Bead, water, insulation, backing.


def test_dental_bead_at_jambs_head_and_free_ends():
    ends = worked_up(dental())
    # Concave face: two jambs of 83, a head of 38.646, two ends of 108.
    assert value(ends, "left/bead") / IN == pytest.approx(2 * 83 + 38.646 + 2 * 108, abs=1e-3)
    # Every 5 in: 83: 18 twice; 38.65: 9; 108: 23 twice.
    assert value(ends, "left/bead_fastener") == 2 * 18 + 9 + 2 * 23


def test_a_closed_column_has_no_free_ends():
    ends = worked_up(column(80.0))
    assert not [item for item in ends.items if item.material == "BEAD"]


def test_water_for_damp_layers_on_arcs_only():
    wet = board(
        "1/4",
        lengthwise_damp_least_radius_mm=inches(24, "memory", "Remembered"),
        damp_water_l_per_m2=fact("0.3", "memory", "Remembered: 30 fl oz a 4 x 8 side"),
    )
    layers = (Layer("GB-1/4", moisture="damp"), Layer("GB-1/4"))
    result = worked_up(dental(layers=layers), materials=stocked(wet))
    # Concave framing 176.966 less the door's 38.646-odd there: by its own chord rule 2 r asin(w / 2r), r 128.975.
    door = 2 * 128.975 * math.asin(38.5 / 2 / 128.975)
    area_m2 = (176.966 * 108 - door * 83) * IN * IN / 1e6
    assert value(result, "left/layer-1/water") == pytest.approx(area_m2 * 0.3, rel=1e-5)
    flat = worked_up(straight(layers=layers), materials=stocked(wet))
    assert not [item for item in flat.items if item.key.endswith("water")]


def test_damp_bending_is_told_with_its_water_and_that_it_must_dry():
    damp = board(
        "1/4",
        lengthwise_damp_least_radius_mm=inches(24, "memory", "Remembered"),
        damp_water_l_per_m2=fact("0.3", "memory", "Remembered: 30 fl oz a 4 x 8 side"),
    )
    result = worked_up(library(layers=(Layer("GB-1/4", moisture="damp"), Layer("GB-1/4"))), materials=stocked(damp))
    notes = {finding.key: finding for finding in result.findings if finding.key.endswith("/damp")}
    assert set(notes) == {"wall/left/layer-1/damp", "wall/right/layer-1/damp"}
    note = notes["wall/left/layer-1/damp"]
    # Half a circle at the concave framing radius of 60.5 in, 105 in high on average, at 0.3 l a square metre.
    litres = math.pi * 60.5 * 105 * 25.4**2 / 1e6 * 0.3
    assert note.weight == "note"
    assert f"about {litres:.1f} l of water" in note.sentence
    assert "dry within 24 h" in note.sentence
    assert "Gypsum Association GA-226-08" in note.source
    dry = worked_up(library(), materials=stocked(damp))
    assert not [finding for finding in dry.findings if finding.key.endswith("/damp")]


def test_damp_board_without_a_rate_of_water_is_a_gap():
    layers = (Layer("GB-1/4", moisture="damp"), Layer("GB-1/4"))
    result = worked_up(dental(layers=layers)).findings
    assert any("damp_water_l_per_m2" in f.sentence for f in result)


def test_insulation_fills_the_net_cavity():
    window = Opening("Window", 48 * IN, 24 * IN, 36 * IN, sill_mm=30 * IN)
    result = worked_up(straight(openings=(window,), insulated=True))
    assert value(result, "insulation") == pytest.approx((96 * 96 - 24 * 36) * IN * IN / 1e6)
    assert not [i for i in worked_up(straight()).items if i.material == "WOOL"]


def test_adding_a_crown_that_needs_backing_adds_its_length():
    curve, wall = straight()
    crowned = with_trims(wall, run(position="crown", needs_backing=True))
    result = worked_up((curve, crowned))
    assert value(result, "right/trim-1/backing") == pytest.approx(8 * 304.8)
    assert worked_up((curve, wall)).total("BACK") == 0


# Gaps.


@pytest.mark.parametrize("role", [r for r in KIT if r not in ("insulation", "backing")])
def test_a_role_without_a_material_is_a_gap_and_nothing_else_is_lost(role):
    joints = {"left": 900.0, "right": 900.0}
    whole = worked_up(straight(), joints=joints)
    result = worked_up(straight(), kit={r: c for r, c in KIT.items() if r != role}, joints=joints)
    assert [(f.weight, role in f.sentence) for f in result.findings] == [("gap", True)]
    lost = {i.key for i in whole.items} - {i.key for i in result.items}
    assert lost
    assert all(key.endswith(role) for key in lost)


def test_a_kit_material_of_the_wrong_kind_is_a_gap():
    result = worked_up(straight(), kit=KIT | {"tape": ("PAINT",)}, joints=NO_JOINTS).findings
    assert [f.weight for f in result] == ["gap"]
    assert "PAINT is a paint, but tape must be a tape" in result[0].sentence


def test_the_walls_own_kit_goes_before_the_firms():
    other = material("MUD2", "compound", "gal", gal_per_1000sqft=fact("9.4", "memory", TEXTBOOK))
    firms = worked_up(straight(kit={"compound": ("MUD2",)}), materials=stocked(other))
    assert {i.material for i in firms.items if i.key.endswith("compound")} == {"MUD2"}


@pytest.mark.parametrize(
    ("code", "kind", "name"),
    [
        ("MUD", "compound", "gal_per_1000sqft"),
        ("PRIMER", "primer", "sqft_per_gal"),
        ("PAINT", "paint", "sqft_per_gal"),
        ("S-1", "fastener", "screw_length_mm"),
    ],
)
def test_a_material_without_its_rate_is_a_gap_not_a_zero(code, kind, name):
    result = worked_up(straight(), materials=stocked(material(code, kind)))
    assert [(f.weight, code in f.sentence and name in f.sentence) for f in result.findings] == [("gap", True)]
    assert result.total(code) == 0


@pytest.mark.parametrize(
    "name",
    [
        "face_layer_screw_spacing_mm",
        "base_layer_screw_spacing_mm",
        "screw_penetration_mm",
        "bead_fastener_spacing_mm",
        "primer_coats",
        "paint_coats",
    ],
)
def test_a_missing_standard_is_a_gap(name):
    result = worked_up(straight(), standards=without(name)).findings
    assert [(f.weight, name in f.sentence) for f in result] == [("gap", True)]


def test_a_skim_coat_without_its_factor_is_a_gap():
    result = worked_up(straight(left=FaceBuild(TWO_THIN, 5)), standards=without("compound_level_5_factor")).findings
    assert [f.weight for f in result] == ["gap"]


def test_every_quantity_explains_itself():
    result = worked_up(dental(), joints={"left": 900.0, "right": 900.0})
    assert len({item.key for item in result.items}) == len(result.items)
    assert all(item.explanation.rule and item.explanation.inputs for item in result.items)
    assert {item.material for item in result.items if item.key.startswith("wall/framing")} == {"PAN"}


@given(st.floats(2.0, 40.0), st.floats(0.0, 20.0), st.floats(60.0, 140.0))
def test_more_wall_never_needs_less(feet, more, height):
    small, large = worked_up(straight(feet, height)), worked_up(straight(feet + more, height))
    for item in small.items:
        assert item.value <= large.total(item.material) + 1e-9
    for code in {item.material for item in small.items}:
        assert small.total(code) <= large.total(code) + 1e-9
