"""A proven plan of several faces, kept and used again: sheets shared, checked anew, refused when it does not fit."""

from dataclasses import replace
from decimal import Decimal
from functools import cache

import pytest

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import Reader
from jobs.core.boards.board_check import check_sheets
from jobs.core.boards.board_optimiser import ProvenJob, prove_job
from jobs.core.boards.boards import BoardError, BoardLayer, FacePlan, LaidFace, Sheet, lay_out_face, merge, plan_face
from jobs.core.boards.chosen_board_plan import KeptBoards, face_by_kept, face_mark, keep_boards, sheets_by_kept
from jobs.core.measure.curve import FACES, Curve, Face
from jobs.core.measure.survey import StraightPiece
from tests.jobs.core.boards.test_boards import FT, IN, STANDARDS, studs_of, wall

LAYER = BoardLayer("GB", 12.7, "lengthwise", (Sheet("4x8", 96 * IN, 48 * IN, Decimal("11.00")),))


def curve() -> Curve:
    return wall(StraightPiece(12 * FT), height=48)


def laid(face: Face) -> LaidFace:
    result = lay_out_face(curve(), face, [LAYER], studs_of(curve(), 16), STANDARDS)
    assert result is not None
    return result


def mark(face: Face, layer: BoardLayer = LAYER) -> str:
    return face_mark(curve(), face, [layer], studs_of(curve(), 16), STANDARDS)


@cache
def proven() -> ProvenJob:
    return prove_job([laid(face) for face in FACES], limit_s=5.0)


def kept() -> KeptBoards:
    return keep_boards(proven(), {("wall", face): mark(face) for face in FACES})


def hung(plan: KeptBoards) -> list[FacePlan | None]:
    return [face_by_kept(laid(face.face), face, curve(), studs_of(curve(), 16), STANDARDS)[0] for face in plan.faces]


def test_two_faces_share_the_sheet_that_each_alone_would_spoil() -> None:
    # By hand: 12 ft is a sheet and a half a face, two sheets alone and three for both.
    apart = [plan_face(curve(), face, [LAYER], studs_of(curve(), 16), STANDARDS) for face in FACES]
    assert [plan.cost for plan in apart] == [Decimal("22.00")] * 2
    assert proven().cost == proven().bound_cost == Decimal("33.00")
    assert proven().quick_cost == merge(apart).cost
    assert check_sheets(proven().sheets, proven().plans) == ()


def test_a_kept_plan_hangs_and_cuts_the_same_again() -> None:
    plans = [plan for plan in hung(kept()) if plan is not None]
    assert [[j.along_mm for j in plan.layers[0].joints] for plan in plans] == [
        [j.along_mm for j in plan.layers[0].joints] for plan in proven().plans
    ]
    assert all(plan.is_chosen for plan in plans)
    sheets, faults = sheets_by_kept(kept(), plans)
    assert faults == ()
    assert sheets is not None
    assert sheets.purchase == proven().sheets.purchase


def test_a_kept_plan_comes_back_from_its_document() -> None:
    assert read(KeptBoards, Reader(write(kept()))) == kept()


def test_the_mark_changes_with_a_price_and_not_with_the_face_laid_out_again() -> None:
    dearer = replace(LAYER, sheets=(replace(LAYER.sheets[0], price=Decimal("11.01")),))
    assert mark("left") == mark("left")
    assert mark("left") != mark("left", dearer)
    assert mark("left") != mark("right")


def test_a_joint_that_stands_on_no_stud_does_not_fit() -> None:
    first = kept().faces[0]
    moved = replace(first, joints=tuple(replace(joint, along_mm=joint.along_mm + 5) for joint in first.joints))
    assert hung(replace(kept(), faces=(moved,))) == [None]


def test_a_board_cut_twice_or_laid_over_another_is_found() -> None:
    plans = [plan for plan in hung(kept()) if plan is not None]
    whole = kept()
    doubled = replace(whole, sheets=(*whole.sheets, whole.sheets[0]))
    assert any("cut 2 times" in fault.sentence for fault in sheets_by_kept(doubled, plans)[1])
    shared = next(sheet for sheet in whole.sheets if len(sheet.cuts) == 2)
    laid_over = replace(shared, cuts=tuple(replace(cut, across_mm=0.0, up_mm=0.0) for cut in shared.cuts))
    overlapping = replace(whole, sheets=tuple(laid_over if sheet is shared else sheet for sheet in whole.sheets))
    assert any("overlap" in fault.sentence for fault in sheets_by_kept(overlapping, plans)[1])


def test_sheets_are_not_used_for_other_faces_than_they_were_cut_for() -> None:
    plans = [plan for plan in hung(kept()) if plan is not None]
    assert sheets_by_kept(kept(), plans[:1]) == (None, ())


def test_a_face_given_twice_is_refused() -> None:
    with pytest.raises(BoardError, match="the left face of wall is given 2 times"):
        prove_job([laid("left"), laid("left")])
