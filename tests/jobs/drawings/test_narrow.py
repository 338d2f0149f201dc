"""Drawings redrawn for a phone: 358 px wide, words at 12 px and more, no wall refused."""

import pytest

from catalog.drawings.canvas import Canvas, Place, block
from catalog.drawings.lettering import DESK_MM, PHONE_MM, SIZES_MM
from jobs.drawings.plan.plan_lean import plan_lean_svg
from tests.jobs.drawings.pictures import all_pictures
from tests.jobs.drawings.reading import texts
from tests.jobs.drawings.walls import boutique, dental

NARROW = {name: picture for name, picture in all_pictures().items() if name.startswith("narrow")}


def test_at_358_px_and_at_730_px_the_smallest_words_are_12_px():
    assert 358 / PHONE_MM * min(SIZES_MM.values()) == pytest.approx(12)
    assert 730 / DESK_MM * min(SIZES_MM.values()) == pytest.approx(12)


@pytest.mark.parametrize("name", sorted(NARROW))
def test_it_is_as_wide_as_a_phone_and_lean(name):
    assert NARROW[name].width_mm == PHONE_MM
    assert len(NARROW[name].svg) < 9_000


def test_the_wall_sets_the_ratio_and_its_words_do_not():
    # 4 mm beside the wall on either side; the dental screen's ends are 14 ft and a board apart.
    few = plan_lean_svg(dental(name="D"), title="D")
    many = plan_lean_svg(dental(name="A doorway with a name far too long for any phone there is"), title="D")
    assert few.ratio == many.ratio


def test_chord_and_rise_stand_on_the_plan_of_one_arc_and_numbers_on_that_of_more():
    assert {"Chord 14' 0\"", "Rise 2' 6\""} <= set(texts(plan_lean_svg(dental(), title="D").svg))
    assert any(text.startswith("2 ") for text in texts(plan_lean_svg(boutique(), title="S").svg))


def test_words_without_room_between_the_sides_are_left_out():
    canvas = Canvas(sides=(0.0, 10.0))
    text = block(("wide words", "label"))
    assert canvas.put(text, [Place((5.0, 0.0)), Place((30.0, 0.0))]) is None
    assert canvas.put(block(("in", "label")), [Place((30.0, 0.0)), Place((5.0, 0.0))]).centre == (5.0, 0.0)
    canvas.leader((5.0, 5.0), text, [Place((5.0, 0.0))])
    assert len(canvas.texts) == 1
