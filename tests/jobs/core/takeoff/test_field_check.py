"""A wall as quoted beside the wall as confirmed."""

import math
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from jobs.core.measure.survey import ArcPiece, ChordRise, HeightProfile, SurveyError
from jobs.core.takeoff.field_check import compare_takeoffs
from jobs.core.takeoff.takeoff import take_off
from jobs.core.takeoff.wall_work_up import work_up_wall
from tests.documents import job_file

DAY = date(2026, 11, 25)
IN = 25.4
READ = job_file("larkmoor-dental")
SCREEN = READ.job.walls[0]


def with_rise(rise_in):
    return replace(SCREEN, pieces=(ArcPiece(ChordRise(168 * IN, rise_in * IN), "left"),))


def check(confirmed, *, beside=(), book=READ.book):
    quoted, takeoff = (
        take_off((work_up_wall(spec, book, DAY, board_rounds=0), *beside), book, DAY) for spec in (SCREEN, confirmed)
    )
    return compare_takeoffs(quoted, takeoff)


def arc_in(chord, rise):
    """R = c^2/(8h) + h/2 and arc = R x 4 atan(2h/c): Machinery's Handbook 31, p. 79."""
    return (chord**2 / (8 * rise) + rise / 2) * 4 * math.atan(2 * rise / chord)


def test_a_wall_confirmed_as_quoted_moves_nothing():
    result = check(SCREEN)
    assert (result.lines, result.purchases, result.findings) == ((), (), ())
    assert result.cost_difference == Decimal("0.00")


def test_a_deeper_rise_moves_the_lines_along_the_arc_by_its_own_length():
    result = check(with_rise(32))
    moved = {line.key: line for line in result.lines}
    top = moved["reception-screen/track/top"]
    assert top.unit == "ft"
    assert float(top.difference) * 12 == pytest.approx(arc_in(168, 32) - arc_in(168, 30), abs=1e-4)
    assert {"reception-screen/trim-1", "reception-screen/trim-2"} <= set(moved)
    assert all(line.difference != 0 for line in result.lines)


def test_both_sides_are_what_a_takeoff_of_each_would_say():
    confirmed = with_rise(40)
    result = check(confirmed)
    for spec, cost in ((SCREEN, result.quoted_cost), (confirmed, result.confirmed_cost)):
        assert take_off((work_up_wall(spec, READ.book, DAY, board_rounds=0),), READ.book, DAY).cost == cost
    assert result.cost_difference == result.confirmed_cost - result.quoted_cost
    assert result.cost_difference > 0
    moved = sum((p.confirmed_cost or 0) - (p.quoted_cost or 0) for p in result.purchases)
    assert moved == result.cost_difference


def test_a_lower_ceiling_moves_studs_and_not_the_track():
    result = check(replace(SCREEN, heights=HeightProfile(((0.0, 105 * IN),))))
    keys = {line.key for line in result.lines}
    assert "reception-screen/studs" in keys
    assert "reception-screen/track/top" not in keys
    assert next(line for line in result.lines if line.key == "reception-screen/studs").difference < 0


def test_a_line_that_goes_away_is_told_with_nothing_on_its_side():
    result = check(replace(SCREEN, trims=SCREEN.trims[:1]))
    gone = next(line for line in result.lines if line.key == "reception-screen/trim-2")
    assert gone.confirmed is None
    assert gone.difference == -gone.quoted


def test_a_radius_too_tight_for_the_board_is_a_new_finding():
    # Chord 100, rise 45: R 50.3 in, under the 60 in of two 1/4 in layers (GA-226-08, Table 1).
    tighter = (ArcPiece(ChordRise(100 * IN, 45 * IN), "left"),)
    quoted = {f.key for f in check(SCREEN).findings}
    result = [f for f in check(replace(SCREEN, pieces=tighter)).findings if f.weight == "decide"]
    assert any("layer-1" in f.key for f in result)
    assert not quoted & {f.key for f in result}


def test_a_missing_price_leaves_no_cost_difference():
    code = SCREEN.track
    bare = replace(READ.book.materials[code], packs=tuple(
        replace(pack, prices=()) for pack in READ.book.materials[code].packs
    ))  # fmt: skip
    result = check(with_rise(32), book=READ.book.with_more((), (bare,)))
    assert result.cost_difference is None
    assert result.lines


def test_other_walls_of_the_job_share_their_packs():
    other = work_up_wall(replace(SCREEN, key="other"), READ.book, DAY, board_rounds=0)
    alone, together = check(with_rise(40)), check(with_rise(40), beside=[other])
    assert together.lines == alone.lines
    assert together.quoted_cost > alone.quoted_cost


def test_a_confirmed_figure_that_gives_no_wall_is_refused_with_its_place():
    with pytest.raises(SurveyError) as refused:
        check(with_rise(0))
    assert refused.value.field == "reception-screen.pieces[0].rise"
