"""A rise over half the chord is asked about once. R = c^2/(8h) + h/2, sweep = 4 atan(2h/c), in feet.

9 on 8: R = 64/72 + 4.5 = 5.389 (5' 4-11/16"), 4 atan(18/8) = 264.1 degrees. 8 on 9: R = 81/64 + 4 = 5.266
(5' 3-3/16"), 4 atan(16/9) = 242.6 degrees.
"""

from dataclasses import replace

import pytest

from jobs.core.measure.findings import Override
from jobs.core.measure.survey import ArcPiece, ChordRise
from jobs.core.measure.swapped_readings import swapped_findings
from tests.jobs.core.walls import dental

FOOT = 304.8


def arcs(*given):
    return replace(dental()[1], pieces=tuple(ArcPiece(ChordRise(c * FOOT, h * FOOT), "left") for c, h in given))


def test_a_rise_over_half_the_chord_is_worked_out_both_ways():
    (finding,) = swapped_findings(arcs((8, 9)), "imperial")
    assert finding.weight == "caution"
    assert finding.sentence == (
        "Piece 1: a rise of 9' 0\" on a chord of 8' 0\" turns 264 degrees at R 5' 4-11/16\". "
        "Changed round, a rise of 8' 0\" on a chord of 9' 0\" turns 243 degrees at R 5' 3-3/16\". Which was read?"
    )


@pytest.mark.parametrize("given", [(8, 4), (14, 2.5), (9, 4.4999)])
def test_up_to_half_a_circle_nothing_is_asked(given):
    assert swapped_findings(arcs(given), "imperial") == ()


def test_two_such_arcs_are_asked_about_once_and_an_answer_holds_for_the_wall():
    wall = arcs((8, 9), (8, 5))
    (finding,) = swapped_findings(wall, "metric")
    assert ("Piece 1" in finding.sentence, "Piece 2" in finding.sentence) == (True, True)
    override = Override(finding.key, "As measured.", "Ines", "2026-11-02")
    assert swapped_findings(replace(wall, overrides=(override,)), "metric") == ()
