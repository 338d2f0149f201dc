import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from catalog.drawings.lettering import ADVANCE_OF, SIZES_MM, Box, Placer, overlap, turned_box
from catalog.drawings.svg import DrawingInputError, element, number, words
from tests.jobs.drawings.reading import font, parsed


def test_the_widths_are_the_wider_of_the_two_weights_of_the_font_itself():
    for character, advance in ADVANCE_OF.items():
        widths = [advances[glyphs[ord(character)]][0] for glyphs, advances in map(font, ("Regular", "Semibold"))]
        assert advance >= max(widths), character
        assert advance - max(widths) <= 1, character


def test_every_character_of_a_typed_length_is_in_the_table():
    assert set("0123456789' \"-/.,×°RLmin ft") <= set(ADVANCE_OF)


def test_the_sizes_are_those_of_the_style_sheet(text_sizes):
    assert text_sizes == SIZES_MM


places = st.tuples(st.floats(-20, 20), st.floats(-20, 20))
boxes = st.builds(turned_box, places, st.floats(1, 15), st.floats(1, 15), st.floats(-90, 90))
segments = st.tuples(places, places).filter(lambda ends: abs(ends[0][0] - ends[1][0]) > 0.1)


@given(boxes, boxes)
def test_boxes_overlap_just_when_shapely_says_so(entry, other):
    area = Polygon(entry.corners).intersection(Polygon(other.corners)).area
    apart = Polygon(entry.corners).distance(Polygon(other.corners))
    if area > 1e-6 or apart > 1e-6:
        assert overlap(entry, other) == (area > 1e-6)


@given(boxes, segments)
def test_a_line_crosses_a_box_just_when_shapely_says_so(box, ends):
    inside = LineString(ends).intersection(Polygon(box.corners)).length
    apart = LineString(ends).distance(Polygon(box.corners))
    if inside > 1e-6 or apart > 1e-6:
        assert overlap(box, Box(ends)) == (inside > 1e-6)


@given(st.lists(boxes, max_size=12), boxes)
def test_what_is_kept_by_squares_of_the_sheet_is_all_found(stored, wanted):
    placer = Placer()
    for box in stored:
        placer.add(box)
    assert placer.cost(wanted) == 100 * sum(overlap(box, wanted) for box in stored)


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_a_number_that_is_not_finite_is_refused(value):
    with pytest.raises(DrawingInputError, match="finite numbers only"):
        number(value)


@given(st.text())
def test_any_text_becomes_well_formed_and_reads_back(text):
    written = element("text", {"class": text}, element("tspan", {}, ""))
    root = parsed(element("g", {"class": words(text)}))
    assert root.get("class") == words(text)
    assert written.startswith("<text ")
