import pytest

from catalog.drawings.svg import DrawingInputError
from jobs.drawings.faces.section import section_svg
from jobs.drawings.faces.section_parts import SectionTrim
from tests.jobs.drawings.pictures import section_parts
from tests.jobs.drawings.reading import SVG, parsed, texts


def rects(svg: str, css: str) -> list[dict[str, float]]:
    drawn = [element for element in parsed(svg).iter(f"{SVG}rect") if element.get("class") == css]
    return [{side: float(r.get(side)) for side in ("x", "y", "width", "height")} for r in drawn]


def test_stud_and_layers_are_drawn_to_scale():
    picture = section_svg(section_parts(), title="S")
    assert {round(r["width"] * picture.ratio, 1) for r in rects(picture.svg, "stud")} == {92.1}
    thin = [r for r in rects(picture.svg, "bar") if abs(r["width"] * picture.ratio - 6.35) < 0.01]
    # Four layers, each above and below the break.
    assert len(thin) == 8


def test_the_thickness_of_the_wall_is_the_stud_and_its_layers():
    text = texts(section_svg(section_parts(), title="S").svg)
    assert '4-5/8" overall' in text  # 3-5/8 + 4 x 1/4
    assert "9' 0\" clear" in text


def test_a_low_wall_is_drawn_without_a_break():
    picture = section_svg(section_parts(clear_height_mm=240.0, left_trims=(), right_trims=()), title="S")
    (stud,) = rects(picture.svg, "stud")
    assert stud["height"] * picture.ratio == pytest.approx(240.0 - 6.35, abs=0.02)


def test_a_chair_rail_is_never_lost_in_the_break():
    rail = SectionTrim("Chair rail", 20.0, 60.0, 900.0)
    picture = section_svg(section_parts(left_trims=(rail,), right_trims=()), title="S")
    (drawn,) = rects(picture.svg, "opening-edge")
    assert drawn["height"] * picture.ratio == pytest.approx(60.0, abs=0.1)
    assert -(drawn["y"] + drawn["height"]) * picture.ratio == pytest.approx(900.0, abs=0.1)
    assert "Chair rail" in texts(picture.svg)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"clear_height_mm": 0.0}, "clear height: must be more than 0 mm; 0 was given"),
        ({"stud_depth_mm": float("nan")}, "stud depth: must be more than 0 mm; nan was given"),
        ({"stud_short_mm": 40.0}, "stud: 40 mm short of the ceiling"),
        ({"left_trims": (SectionTrim("Rail", 20.0, 60.0, 2740.0),)}, "Rail: 60 mm high with its foot at 2740 mm"),
    ],
)
def test_parts_that_cannot_be_are_refused_by_name(change, message):
    with pytest.raises(DrawingInputError, match=message):
        section_parts(**change)


def test_a_sheet_too_small_is_refused():
    with pytest.raises(DrawingInputError, match="the section does not fit 174 by 40 mm"):
        section_svg(section_parts(), title="S", max_height_mm=40)


def test_hostile_names_stay_words():
    svg = section_svg(section_parts(stud_name="<b>&'\"\x01"), title="S").svg
    assert "<b>&'\"" in texts(svg)
