import pytest

from quoting.platform.papers.drawings import Drawing, DrawingError
from tests.support.paper_samples import dental_plan, svg

SQUARE = '<rect class="ink" width="5" height="5"/>'


def test_a_plain_drawing_is_taken() -> None:
    assert Drawing(svg(100, 50, "A square", SQUARE), "Square").svg.endswith("</svg>")


def test_the_line_weights_of_the_sheet_go_inside_the_drawing() -> None:
    assert "<style>.ink {" in dental_plan().for_paper


@pytest.mark.parametrize(
    ("body", "message"),
    [
        ("<script>x</script>", "<script>"),
        ("<foreignObject/>", "<foreignObject>"),
        ('<image href="x.png"/>', "<image>"),
        ("<style>x</style>", "<style>"),
        ('<rect onload="x()"/>', "onload"),
        ('<rect style="fill:red"/>', "style"),
        ('<use href="other.svg#a"/>', "other.svg#a"),
        ('<use xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="file:///a"/>', "file:///a"),
        ('<rect fill="url(http://127.0.0.1/)"/>', "http://127.0.0.1/"),
        ("<rect>", "well-formed"),
        ("<!-- note -->", "comments"),
        ('<html:p xmlns:html="http://www.w3.org/1999/xhtml">x</html:p>', "p>"),
    ],
)
def test_whatever_is_more_than_a_drawing_is_refused_by_name(body: str, message: str) -> None:
    with pytest.raises(DrawingError) as refusal:
        Drawing(svg(100, 50, "A square", body), "Square")
    assert message in str(refusal.value)


def test_a_pattern_inside_the_drawing_may_be_used() -> None:
    assert Drawing(svg(9, 9, "x", '<defs><pattern id="a"/></defs><rect fill="url(#a)"/>'), "x")


def test_entities_are_refused_before_they_are_read() -> None:
    bomb = '<!DOCTYPE svg [<!ENTITY a "aaaa">]><svg xmlns="http://www.w3.org/2000/svg"><title>&a;</title></svg>'
    with pytest.raises(DrawingError, match="declarations"):
        Drawing(bomb, "x")


def test_a_drawing_without_words_for_those_who_cannot_see_it_is_refused() -> None:
    with pytest.raises(DrawingError, match="title"):
        Drawing(svg(9, 9, "  ", SQUARE), "x")


@pytest.mark.parametrize(
    ("size", "message"),
    [
        ('width="100" height="50mm" viewBox="0 0 100 50"', "width is '100'"),
        ('width="100mm" height="50mm" viewBox="0 0 200 100"', "must agree"),
        ('width="100mm" height="50mm" viewBox="0 0 nan 50"', "must agree"),
        ('width="100mm" height="50mm" viewBox="0 0 100"', "four numbers"),
        ('width="100mm" height="50mm"', "four numbers"),
        ('width="174.1mm" height="50mm" viewBox="0 0 174.1 50"', "at most 174"),
        ('width="100mm" height="210.1mm" viewBox="0 0 100 210.1"', "by 210 mm"),
        ('width="0mm" height="50mm" viewBox="0 0 0 50"', "more than 0"),
    ],
)
def test_a_size_that_would_make_the_scale_untrue_is_refused(size: str, message: str) -> None:
    with pytest.raises(DrawingError) as refusal:
        Drawing(f'<svg xmlns="http://www.w3.org/2000/svg" {size}><title>x</title></svg>', "x")
    assert message in str(refusal.value)


def test_a_lying_sheet_takes_a_wider_drawing() -> None:
    wide = svg(243, 50, "x", SQUARE)
    assert Drawing(wide, "x", lying=True)
    with pytest.raises(DrawingError, match="at most 174"):
        Drawing(wide, "x")
