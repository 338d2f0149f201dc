import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.materials.standards import SpacingStep, Standards, starter_standards
from jobs.core.framing.framing import (
    add_sheet_end_studs,
    bay_count,
    facet_sagitta_mm,
    fasteners_in_run,
    frame,
    framing_screws,
    track_fasteners,
)
from jobs.core.measure.explanation import Quantity
from jobs.core.measure.findings import Finding, Override
from jobs.core.measure.survey import ArcPiece, HeightProfile, Opening, RadiusAngle, RadiusArcLength, StraightPiece
from jobs.core.measure.wall_spec import Layer
from tests.jobs.core.walls import (
    IN,
    boutique,
    catalog,
    childcare,
    column,
    dental,
    fact,
    inches,
    library,
    material,
    wall_of,
)

STANDARDS = starter_standards()
SCREWS = "SCREW"


def framed(curve_and_wall, materials=None, standards=STANDARDS):
    curve, wall = curve_and_wall
    return frame(curve, wall, materials or catalog(), standards)


def without(name):
    return Standards({n: f for n, f in STANDARDS.facts.items() if n != name}, STANDARDS.spacing_steps)


def linked(pitch_in):
    track = material(
        "TRACK",
        "track",
        least_radius_mm=inches(20, "maker", "Its maker's sheet"),
        link_pitch_mm=inches(pitch_in, "maker", "Its maker's sheet"),
    )
    return catalog(track)


def straight(length_in, height=96, **more):
    return wall_of([StraightPiece(length_in * IN)], "centre", height, **more)


# Counts of the written examples: ceil(L convex framing / s) + 1.


def test_dental_has_24_stations_at_8_in_before_opening_rules():
    assert framed(dental()).base_station_count == 24


@pytest.mark.parametrize(("number", "count"), [(0, 17), (1, 15), (2, 20)])
def test_childcare_stations_at_8_in(number, count):
    framing = framed(childcare(number))
    assert framing.base_station_count == count == len(framing.stations)


def test_library_has_27_stations_each_stud_its_own_length():
    framing = framed(library())
    assert framing.base_station_count == len(framing.stations) == 27
    lengths = [station.stud_length_mm for station in framing.stations]
    assert lengths == sorted(lengths)
    assert len(set(lengths)) == 27
    # 8'-0" and 9'-6" less the 1/4 in cut.
    assert (lengths[0] / IN, lengths[-1] / IN) == pytest.approx((95.75, 113.75), abs=1e-6)


def test_dental_track_top_181_94_and_bottom_143_30():
    framing = framed(dental())
    assert framing.track_length_mm("top") / IN == pytest.approx(181.94, abs=5e-3)
    assert framing.track_length_mm("bottom") / IN == pytest.approx(143.30, abs=5e-3)
    assert [run.kind for run in framing.track] == ["top", "bottom", "bottom", "head"]
    # The head is measured on the convex framing edge as well: 2 r asin(w / 2r), r 132.6.
    head = 2 * 132.6 * math.asin(38.5 / 2 / 132.6)
    assert framing.track_length_mm("head") / IN == pytest.approx(head, abs=1e-6)
    assert framing.track_length_mm("bottom") + framing.track_length_mm("head") == pytest.approx(
        framing.track_length_mm("top")
    )


def test_boutique_stands_a_stud_at_each_change_of_piece():
    curve, wall = boutique()
    framing = framed((curve, wall))
    changes = [s for s in framing.stations if s.kind == "piece_change"]
    assert [s.along_mm / IN for s in changes] == pytest.approx([117.286, 186.401], abs=1e-3)
    # Convex framing edges 97.8125 x 70° = 119.50, 73.8125 x 55° = 70.85, straight 44: 15 + 9 + 6 bays.
    assert [s.bays for s in framing.spacings] == [15, 9, 6]
    assert framing.base_station_count == 31
    assert (framing.stations[-1].x / IN, framing.stations[-1].y / IN) == pytest.approx((181.734, 119.475), abs=1e-3)


# Spacing.


def test_facet_sagittas_of_the_reference_table():
    # Chord and rise: R 60: 6 in 0.075, 12 in 0.301; R 120: 6 in 0.037, 16 in 0.267 (last digit either way).
    for radius, spacing, rise in ((60, 6, 0.075), (60, 12, 0.301), (120, 6, 0.037), (120, 16, 0.267)):
        assert facet_sagitta_mm(spacing, radius) == pytest.approx(rise, abs=6e-4)


@given(st.floats(100.0, 1e6), st.floats(0.001, 0.05))
def test_a_gentle_facet_rises_s_squared_over_8_r(radius, share):
    spacing = radius * share
    assert facet_sagitta_mm(spacing, radius) == pytest.approx(spacing**2 / (8 * radius), rel=1e-3)


def near_its_limit(radius_in, spacing=None, standards=STANDARDS):
    # One layer of 1/2 in board (GA-226-08: 120 in), the concave finished face at the radius.
    piece = ArcPiece(RadiusAngle(radius_in * IN, 1.0), "left")
    half = (Layer("GB-1/2"),)
    return framed(wall_of([piece], "concave_finished", 96, layers=half, spacing=spacing), standards=standards)


@pytest.mark.parametrize(("radius_in", "spacing_in"), [(120, 6), (121, 6), (150, 6), (151, 12)])
def test_the_closest_spacing_is_kept_to_a_quarter_above_the_boards_limit(radius_in, spacing_in):
    # A quarter above 120 in is 150 in; from there the step table's 12 in hold.
    framing = near_its_limit(radius_in)
    assert framing.spacings[0].greatest_mm == pytest.approx(spacing_in * IN)
    text = [finding for finding in framing.findings if finding.key == "wall/framing/piece-1/spacing/kept"]
    assert [entry.weight for entry in text] == (["note"] if radius_in in (121, 150) else [])
    assert all("within 25 % above its least radius of 120.00 in" in entry.sentence for entry in text)


def test_the_share_above_the_limit_is_the_firms():
    none_above = Standards(STANDARDS.facts | {"closest_spacing_share": fact(0)}, STANDARDS.spacing_steps)
    # Concave framing 121.5 in: the step table has 8 in from 65 in.
    assert near_its_limit(121, standards=none_above).spacings[0].greatest_mm == pytest.approx(8 * IN)
    gaps = [finding.sentence for finding in near_its_limit(121, standards=without("closest_spacing_share")).findings]
    assert len(gaps) == 1 and "closest_spacing_share" in gaps[0]


def test_a_wall_set_wider_than_the_kept_spacing_is_cautioned_and_not_held_up():
    framing = near_its_limit(121, spacing=8)
    assert framing.spacings[0].greatest_mm == pytest.approx(8 * IN)
    assert [(finding.key, finding.weight) for finding in framing.findings] == [
        ("wall/framing/piece-1/spacing/kept", "caution")
    ]


def test_the_step_rule_changes_at_its_boundary():
    steps = (
        SpacingStep(0.0, 6 * IN, "Test table", "firm"),
        SpacingStep(1651.0, 8 * IN, "Test table", "firm"),
    )
    table = Standards(STANDARDS.facts, steps)

    def greatest(concave_framing_mm):
        piece = ArcPiece(RadiusAngle(concave_framing_mm, 1.0), "left")
        wall = wall_of([piece], "concave_framing", 96, layers=(), build_up=0, spacing=None)
        return framed(wall, standards=table).spacings[0].greatest_mm / IN

    assert greatest(1650.99) == pytest.approx(6)
    assert greatest(1651.0) == pytest.approx(8)


def test_the_table_is_read_at_the_concave_framing_radius():
    # Childcare 1: convex framing 109.00 in, concave 106.50 = 2705 mm: the step from 65 in, 8 in studs.
    choice = framed(childcare(0, spacing=None)).spacings[0]
    assert (choice.came_from, choice.greatest_mm) == ("step table", pytest.approx(8 * IN))


def test_a_straight_piece_takes_the_straight_standard():
    choice = framed(straight(44, spacing=None)).spacings[0]
    assert (choice.came_from, choice.bays) == ("straight standard", 3)
    assert choice.chosen_mm == pytest.approx(44 * IN / 3)
    assert choice.sagitta_mm == 0.0


def test_a_board_at_its_least_radius_asks_for_closer_studs_than_the_table():
    # GA-226-08: 1/2 in at 120 in, studs at most 6 in; the firm's table alone would say 8 in.
    piece = ArcPiece(RadiusAngle(120 * IN, 1.0), "left")
    wall = wall_of([piece], "concave_finished", 96, layers=(Layer("GB-1/2"),), spacing=None)
    choice = framed(wall).spacings[0]
    assert (choice.came_from, choice.greatest_mm) == ("board", pytest.approx(6 * IN))


def test_a_wall_set_wider_than_the_table_needs_a_decision():
    result = framed(childcare(1)).findings
    assert [(f.key, f.weight) for f in result] == [("wall/framing/piece-1/spacing", "decide")]
    assert "8.00 in, wider than the 6.00 in" in result[0].sentence
    curve, wall = childcare(1)
    decision = Override("wall/framing/piece-1/spacing", "Backed with plywood", "M. Rowe", "2026-11-20")
    result = framed((curve, replace(wall, overrides=(decision,)))).findings
    assert [f.weight for f in result] == ["caution"]
    assert "M. Rowe" in result[0].sentence


def spacing_found(number, spacing, original):
    # Chord 96, rise 24 on the convex framing line: R = 96^2/(8 x 24) + 24/2 = 60 in at number 1.
    curve, wall = childcare(number, spacing=spacing)
    key = "wall/framing/piece-1/spacing"
    decision = Override(key, "Mock-up held", "M. Rowe", "2026-11-20", original=original)
    return next(f for f in framed((curve, replace(wall, overrides=(decision,)))).findings if f.key == key)


def test_a_spacing_decided_on_holds_for_its_facet_and_for_no_deeper_one():
    # s^2/(8R), Machinery's Handbook: 8 in on 60 in is 0.1333 in; 10 in on 60 in is 0.2083 in.
    facet_mm = 64 / (8 * 60) * IN
    held = spacing_found(1, 8, facet_mm)
    assert (held.weight, held.compared) == ("caution", pytest.approx(facet_mm, abs=0.02))
    wider = spacing_found(1, 10, facet_mm)
    assert wider.weight == "decide"
    assert "for a facet between studs of 0.133 in, now 0.208 in: decide again" in wider.sentence


def test_a_spacing_decided_on_a_gentler_curve_must_be_decided_again_on_a_tighter():
    # 8 in on 90 in stood 0.0889 in off; on 60 in it is 0.1333.
    assert spacing_found(1, 8, 64 / (8 * 90) * IN).weight == "decide"


def test_a_spacing_decided_for_a_straight_piece_says_nothing_of_an_arc():
    result = spacing_found(1, 8, 24 * IN)
    assert result.weight == "decide"
    assert "for a straight piece, now an arc: decide again" in result.sentence


def test_an_older_spacing_decision_holds_and_says_that_it_names_no_radius():
    result = spacing_found(1, 8, None)
    assert result.weight == "caution"
    assert "does not say which spacing and radius it was taken for" in result.sentence


def test_bays_stand_on_whole_links_and_the_last_takes_what_is_left():
    # 2-1/4 in links: three make 6.75 in, the most within 8. 181.94 / 6.75 = 26.95: 27 bays, the last 6.44 in.
    framing = framed(dental(openings=()), linked(2.25))
    choice = framing.spacings[0]
    assert (choice.links, choice.bays) == (3, 27)
    gaps = [b.convex_mm - a.convex_mm for a, b in pairwise(framing.stations)]
    assert [gap / IN for gap in gaps[:-1]] == pytest.approx([6.75] * 26)
    assert gaps[-1] / IN == pytest.approx(181.940 - 26 * 6.75, abs=1e-3)


def test_an_exact_fit_of_links_is_not_rounded_away():
    assert framed(dental(openings=()), linked(2)).spacings[0].links == 4
    assert framed(dental(openings=()), linked(8)).spacings[0].links == 1


def test_a_link_wider_than_the_spacing_needs_a_decision_and_keeps_the_spacing():
    framing = framed(dental(openings=()), linked(10))
    assert framing.spacings[0].links is None
    assert framing.spacings[0].chosen_mm <= 8 * IN
    assert [(f.key, f.weight) for f in framing.findings] == [("wall/framing/piece-1/links", "decide")]


# Openings.


def test_dental_opening_swaps_its_studs_for_jambs_and_cripples():
    framing = framed(dental())
    kinds = [station.kind for station in framing.stations]
    # 24 stations on the centreline, the door from 19-1/4 in before its middle to as far after.
    door = framing.curve.openings[0]
    low, high = door.span_mm
    bays = [framing.curve.centre_length_mm * n / 23 for n in range(24)]
    inside = sum(low < along < high for along in bays)
    assert kinds.count("cripple_over") == inside == 4
    assert kinds.count("stud") + kinds.count("end") == 24 - inside
    jambs = [station for station in framing.stations if station.kind == "jamb"]
    assert [(j.along_mm, j.count) for j in jambs] == [
        (pytest.approx(low), 2),
        (pytest.approx(high), 2),
    ]
    assert framing.member_count == 24 + 4


def test_a_cripple_fills_from_the_head_to_the_ceiling_cut_short_once():
    framing = framed(dental())
    cripples = [s.stud_length_mm / IN for s in framing.stations if s.kind == "cripple_over"]
    assert cripples == [pytest.approx(108 - 83 - 0.25)] * 4


def test_a_window_has_cripples_over_and_under_and_a_sill_track():
    window = Opening("Window", 60 * IN, 36 * IN, 40 * IN, sill_mm=30 * IN)
    framing = framed(straight(120, openings=[window], spacing=16))
    over = [s.stud_length_mm / IN for s in framing.stations if s.kind == "cripple_over"]
    under = [s.stud_length_mm / IN for s in framing.stations if s.kind == "cripple_under"]
    assert over == [pytest.approx(96 - 70 - 0.25)] * len(under)
    assert under == [pytest.approx(29.75)] * len(over)
    assert [run.kind for run in framing.track] == ["top", "bottom", "head", "sill"]
    assert framing.track_length_mm("sill") == pytest.approx(36 * IN)
    assert framing.track_length_mm("bottom") == pytest.approx(120 * IN)


def test_an_opening_up_to_the_ceiling_has_neither_cripple_nor_head_track():
    door = Opening("Passage", 60 * IN, 36 * IN, 96 * IN)
    framing = framed(straight(120, openings=[door], spacing=16))
    assert not [s for s in framing.stations if s.kind == "cripple_over"]
    assert framing.track_length_mm("head") == 0.0


def test_a_transom_over_a_door_is_framed_between_them():
    door = Opening("Door", 60 * IN, 36 * IN, 70 * IN)
    transom = Opening("Transom", 60 * IN, 24 * IN, 12 * IN, sill_mm=76 * IN)
    framing = framed(straight(120, openings=[door, transom], spacing=16))
    upper_jambs = [s for s in framing.stations if s.kind == "jamb" and abs(s.along_mm / IN - 60) < 13]
    # Over the door only: from its head at 70 to the ceiling at 96.
    assert [s.stud_length_mm / IN for s in upper_jambs] == [pytest.approx(25.75)] * 2
    # Studs of 16 in at most: 8 bays of 15 in; the one at 60 stands in both openings.
    at_middle = [s.stud_length_mm / IN for s in framing.stations if abs(s.along_mm / IN - 60) < 0.1]
    assert at_middle == [pytest.approx(5.75), pytest.approx(7.75)]


def test_a_closed_column_has_no_double_end():
    curve, wall = column(30.0, spacing=8)
    framing = framed((curve, wall))
    # Two half circles, convex framing radius 31.8125: 99.94 in each, 13 bays of at most 8.
    assert framing.base_station_count == len(framing.stations) == 26
    assert "end" not in {s.kind for s in framing.stations}


def test_both_ends_of_an_open_wall_have_a_stud():
    stations = framed(childcare(0)).stations
    assert (stations[0].kind, stations[-1].kind) == ("end", "end")
    assert [s.number for s in stations] == list(range(1, 18))


# Lists and counts.


def test_stud_list_groups_lengths_rounded_up_to_a_sixteenth():
    groups = framed(dental()).stud_list
    # 107-3/4 and 24-3/4 are whole sixteenths already: 20 full studs and 4 jamb studs, 4 cripples.
    assert [(g.length_mm / IN, g.count) for g in groups] == [(107.75, 24), (24.75, 4)]


def test_raked_studs_are_rounded_up_never_down():
    framing = framed(library())
    for station in framing.stations:
        assert any(-1e-6 <= g.length_mm - station.stud_length_mm < IN / 16 + 1e-6 for g in framing.stud_list)
    assert sum(g.count for g in framing.stud_list) == framing.member_count


def test_each_sheet_end_adds_one_flat_stud():
    framing = framed(dental())
    studs = [s.along_mm for s in framing.stations if s.kind == "stud"]
    with_flats = add_sheet_end_studs(framing, [studs[3], studs[6], studs[3]], "left")
    both = add_sheet_end_studs(with_flats, [studs[3]], "right")
    assert with_flats.member_count == framing.member_count + 2
    assert both.member_count == framing.member_count + 3
    assert {s.face for s in both.stations if s.kind == "sheet_end"} == {"left", "right"}
    assert [s.number for s in both.stations] == list(range(1, len(both.stations) + 1))


def test_a_flat_stud_over_a_door_is_a_short_one():
    framing = framed(dental())
    over = next(s for s in framing.stations if s.kind == "cripple_over")
    flat = [s for s in add_sheet_end_studs(framing, [over.along_mm]).stations if s.kind == "sheet_end"]
    assert [s.stud_length_mm / IN for s in flat] == [pytest.approx(24.75)]


@pytest.mark.parametrize("place", [-1.0, 1e6, float("nan")])
def test_a_joint_beyond_the_wall_is_refused(place):
    with pytest.raises(ValueError, match="must be from 0 to"):
        add_sheet_end_studs(framed(dental()), [place])


def test_framing_screws_count_both_ends_of_every_member():
    # Childcare 1: 17 studs x 2 ends x 2 screws.
    assert framing_screws(framed(childcare(0)), STANDARDS, SCREWS).value == 68
    # Dental: 28 members and one head track.
    assert framing_screws(framed(dental()), STANDARDS, SCREWS).value == (28 + 1) * 4


def test_track_fasteners_at_24_in_and_2_in_from_each_end():
    # 10 ft: (120 - 4) / 24 = 4.83: 5 spaces, 6 fasteners. A stub still has two.
    assert fasteners_in_run(120 * IN, 24 * IN, 2 * IN) == 6
    assert fasteners_in_run(100 * IN, 24 * IN, 2 * IN) == 5
    assert fasteners_in_run(3 * IN, 24 * IN, 2 * IN) == 2
    counted = track_fasteners(framed(childcare(0)), STANDARDS, "PIN")
    # 127.075: (127.075 - 4) / 24 = 5.13: 7 at the top, 7 at the bottom.
    assert isinstance(counted, Quantity)
    assert counted.value == 14


# Gaps.


def test_a_missing_straight_spacing_is_a_named_gap_and_no_count():
    framing = framed(straight(100, spacing=None), standards=without("straight_stud_spacing_mm"))
    assert framing.base_station_count is None
    assert framing.stations == ()
    assert [(f.weight, "straight_stud_spacing_mm" in f.sentence) for f in framing.findings] == [("gap", True)]


def test_a_table_that_starts_above_the_radius_is_a_gap():
    late = Standards(STANDARDS.facts, (SpacingStep(9000.0, 400.0, "Test table", "firm"),))
    framing = framed(dental(spacing=None), standards=late)
    assert framing.base_station_count is None
    assert framing.findings[0].weight == "gap"


@pytest.mark.parametrize("name", ["jamb_studs", "stud_cut_short_mm"])
def test_a_missing_standard_leaves_the_studs_out_and_names_itself(name):
    framing = framed(dental(), standards=without(name))
    assert framing.stations == ()
    assert framing.base_station_count == 24
    assert [(f.weight, name in f.sentence) for f in framing.findings] == [("gap", True)]


@pytest.mark.parametrize(
    ("count", "name"),
    [
        (framing_screws, "screws_per_stud_end"),
        (track_fasteners, "track_fastener_spacing_mm"),
        (track_fasteners, "track_fastener_end_mm"),
    ],
)
def test_a_missing_fastener_standard_is_a_gap(count, name):
    finding = count(framed(dental()), without(name), SCREWS)
    assert isinstance(finding, Finding)
    assert (finding.weight, name in finding.sentence) == ("gap", True)


def test_a_track_not_in_the_catalog_is_a_gap():
    curve, wall = dental()
    findings = frame(curve, wall, {}, STANDARDS).findings
    assert ("wall/track", "gap") in {(f.key, f.weight) for f in findings}


# Properties.


lengths = st.floats(10.0, 5000.0)


@given(lengths, lengths, st.floats(25.0, 1000.0))
def test_more_length_never_needs_fewer_bays(entry, more, spacing):
    assert bay_count(entry, spacing) <= bay_count(entry + more, spacing)
    assert entry / bay_count(entry, spacing) <= spacing + 1e-6


@given(st.floats(500.0, 20_000.0), st.floats(50.0, 6000.0), st.floats(0.0, 6000.0), st.floats(2.0, 12.0))
def test_more_wall_never_needs_fewer_studs(radius, arc, more, pitch):
    def count(length):
        piece = ArcPiece(RadiusArcLength(radius, min(length, 6.0 * radius)), "left")
        wall = wall_of([piece], "centre", 96, layers=(), build_up=0)
        return [framed(wall, materials).member_count for materials in (catalog(), linked(round(pitch, 2)))]

    assert all(a <= b for a, b in zip(count(arc), count(arc + more), strict=True))


@given(st.floats(40.0, 400.0), st.floats(10.0, 300.0), st.sampled_from([None, 2, 2.5]))
def test_no_bay_is_wider_than_allowed_along_the_convex_edge(radius, arc, pitch):
    piece = ArcPiece(RadiusArcLength(radius * IN, min(arc, 6 * radius) * IN), "right")
    wall = wall_of([piece, StraightPiece(50 * IN)], "centre", 96, layers=(), build_up=0)
    framing = framed(wall, linked(pitch) if pitch else None)
    places = [s.convex_mm for s in framing.stations]
    assert all(b - a <= 8 * IN + 1e-5 for a, b in pairwise(places))
    assert places[0] == 0.0
    assert places[-1] == pytest.approx(framing.curve.longer_framing_mm)


@given(st.floats(30.0, 150.0), st.floats(12.0, 60.0))
def test_jambs_and_bottom_track_meet_every_door(centre, width):
    centre = max(centre, width)
    door = Opening("Door", centre * IN, width * IN, 80 * IN)
    wall = wall_of([StraightPiece(220 * IN)], "centre", HeightProfile(((0.0, 96 * IN),)), openings=[door])
    framing = framed(wall)
    assert framing.track_length_mm("bottom") + width * IN == pytest.approx(220 * IN)
    jambs = [s.along_mm for s in framing.stations if s.kind == "jamb"]
    assert jambs == [pytest.approx((centre - width / 2) * IN), pytest.approx((centre + width / 2) * IN)]
    inside = [s for s in framing.stations if jambs[0] + 1e-3 < s.along_mm < jambs[1] - 1e-3]
    assert {s.kind for s in inside} <= {"cripple_over"}


def test_a_huge_radius_is_framed_like_the_straight_wall():
    arc = wall_of([ArcPiece(RadiusAngle(1e7, 3000 / 1e7), "left")], "centre", 96, layers=(), build_up=0)
    flat = wall_of([StraightPiece(3000.0)], "centre", 96, layers=(), build_up=0)
    curved, plain = framed(arc), framed(flat)
    assert curved.member_count == plain.member_count == math.ceil(3000 / (8 * IN)) + 1
    assert curved.spacings[0].sagitta_mm == pytest.approx(0.0, abs=1e-3)
