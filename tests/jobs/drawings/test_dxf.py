import math
from dataclasses import replace
from io import StringIO

import ezdxf
import pytest

from jobs.core.measure.curve import curve_of
from jobs.core.measure.room_tie import RoomTie
from jobs.core.measure.survey import LINES, ArcPiece, HeightProfile, Opening, RadiusAngle, StraightPiece, Survey
from jobs.drawings.dxf import LINE_LAYERS, STUDS, WallDrawing, joint_layer, wall_dxf
from jobs.site.services.drawings import drawing_of
from quoting.core.quotes.work_up import work_up
from tests.documents import job_file
from tests.support.worked import TODAY


def read(drawing: WallDrawing):
    """Through the reader of a general library, which audits what it reads."""
    document = ezdxf.read(StringIO(wall_dxf(drawing).decode("utf-8")))
    auditor = document.audit()
    assert not auditor.errors and not auditor.fixes
    return document


def s_curve(*openings: Opening):
    pieces = (
        ArcPiece(RadiusAngle(2400.0, math.radians(70)), "left"),
        ArcPiece(RadiusAngle(1800.0, math.radians(200)), "right"),
        StraightPiece(1100.0),
    )
    return curve_of(Survey(pieces, HeightProfile(((0.0, 2400.0),)), "centre", 92.0, 12.0, 13.0, openings))


def arcs_on(document, line):
    return list(document.modelspace().query(f'ARC[layer=="{LINE_LAYERS[line]}"]'))


def test_the_file_is_in_millimetres():
    document = read(WallDrawing("Screen", s_curve()))
    # DXF reference, header variable INSUNITS: 4 is millimetres.
    assert document.header["$INSUNITS"] == 4


@pytest.mark.parametrize("line", LINES)
def test_every_arc_is_an_arc_of_the_line_s_own_radius_and_length(line):
    curve = s_curve()
    arcs = arcs_on(read(WallDrawing("Screen", curve)), line)
    wanted = [piece for piece in curve.pieces if piece.is_arc]
    assert len(arcs) == len(wanted)
    for arc, piece in zip(arcs, wanted, strict=True):
        offset = curve.offset_mm(line)
        assert arc.dxf.radius == pytest.approx(piece.radius_at(offset), abs=1e-6)
        turned = math.radians((arc.dxf.end_angle - arc.dxf.start_angle) % 360)
        assert turned * arc.dxf.radius == pytest.approx(piece.length_at(offset), abs=1e-6)


@pytest.mark.parametrize("line", LINES)
def test_the_ends_of_the_arcs_lie_on_the_curve(line):
    """Ends as ezdxf works them out from centre, radius and angles."""
    curve = s_curve()
    for arc, piece in zip(arcs_on(read(WallDrawing("Screen", curve)), line), curve.pieces, strict=False):
        ends = [arc.start_point, arc.end_point][:: piece.turn]
        for share, end in zip((0.0, 1.0), ends, strict=True):
            assert math.dist((end.x, end.y), piece.point_at(share, curve.offset_mm(line))) < 1e-6


def test_the_middle_of_each_arc_bows_the_way_the_wall_does():
    curve = s_curve()
    for arc, piece in zip(arcs_on(read(WallDrawing("Screen", curve)), "centre"), curve.pieces, strict=False):
        start, end = arc.dxf.start_angle, arc.dxf.end_angle
        (middle,) = arc.vertices([start + (end - start) % 360 / 2])
        assert math.dist((middle.x, middle.y), piece.point_at(0.5)) < 1e-6


def test_an_opening_breaks_the_faces_and_not_the_centreline():
    door = Opening("Door", 1500.0, 900.0, 2050.0)
    document = read(WallDrawing("Screen", s_curve(door)))
    assert [len(arcs_on(document, line)) for line in ("left_finished", "centre")] == [3, 2]


def test_a_round_column_comes_back_to_its_start():
    half = ArcPiece(RadiusAngle(600.0, math.pi), "left")
    column = curve_of(Survey((half, half), HeightProfile(((0.0, 2400.0),)), "centre", 64.0, 12.0, 12.0))
    arcs = arcs_on(read(WallDrawing("Column", column)), "right_finished")
    assert [arc.dxf.radius for arc in arcs] == pytest.approx([644.0, 644.0])
    assert math.dist(arcs[1].end_point, arcs[0].start_point) < 1e-6


def test_faces_studs_and_sheet_joints_are_on_layers_in_plain_words():
    wall = work_up(job_file("larkmoor-dental"), TODAY).walls[0]
    document = read(drawing_of(wall))
    space = document.modelspace()
    assert len(space.query(f'LINE[layer=="{STUDS}"]')) == len(wall.framing.stud_positions_mm)
    assert len(space.query('LWPOLYLINE[layer=="Developed face"]')) == 2
    joints = sum(len(plan.layers[1].joints) + len(plan.layers[1].horizontal_joints) for plan in wall.face_plans)
    assert len(space.query(f'LWPOLYLINE[layer=="{joint_layer(2)}"]')) >= joints


# Larkmoor Dental, worked by hand: finished faces 182.626 and 176.280 in long, 9 ft high.
def test_the_developed_faces_have_the_lengths_and_height_of_the_worked_example():
    wall = work_up(job_file("larkmoor-dental"), TODAY).walls[0]
    outlines = read(drawing_of(wall)).modelspace().query('LWPOLYLINE[layer=="Developed face"]')
    sizes = []
    for outline in outlines:
        xs, ys = zip(*outline.get_points("xy"), strict=True)
        sizes.append((round((max(xs) - min(xs)) / 25.4, 2), round((max(ys) - min(ys)) / 25.4, 6)))
    assert sorted(sizes) == [(176.28, 108.0), (182.63, 108.0)]


# Chord 168 in, start at the column, the corner 126 in square off it: tapes of 0, 126, 168 and 210 in.
def test_the_fixed_points_of_the_building_and_the_tapes_to_both_ends_are_drawn():
    read_file = job_file("larkmoor-dental")
    room = RoomTie("Column C4", "Corner", 3200.4, 0.0, 3200.4, 4267.2, 5334.0)
    wall = replace(read_file.job.walls[0], room=room)
    result = work_up(replace(read_file, job=replace(read_file.job, walls=(wall,))), TODAY).walls[0]
    space = read(drawing_of(result)).modelspace()
    assert len(space.query('CIRCLE[layer=="Fixed points"]')) == 2
    tapes = space.query('LINE[layer=="Tapes to fixed points"]')
    lengths = sorted(round(math.dist(tape.dxf.start, tape.dxf.end) / 25.4, 6) for tape in tapes)
    assert lengths == [0.0, 126.0, 168.0, 210.0]
