import re
import subprocess
import sys

import pytest
from shapely.geometry import box

from catalog.drawings.svg import Picture
from quoting.platform.papers.drawings import Drawing
from tests.jobs.drawings.conftest import ROOT
from tests.jobs.drawings.pictures import all_pictures
from tests.jobs.drawings.reading import SVG, overlapping_texts, parsed, text_shapes

PICTURES = all_pictures()


@pytest.fixture(params=sorted(PICTURES))
def picture(request) -> Picture:
    return PICTURES[request.param]


def test_a_paper_takes_it_as_it_is(picture):
    lying = picture.width_mm > 174
    assert Drawing(picture.svg, "Caption", picture.scale, lying=lying).for_paper


def test_it_has_a_role_a_title_and_its_figures_in_words(picture):
    root = parsed(picture.svg)
    assert root.get("role") == "img"
    assert [child.tag for child in root[:2]] == [f"{SVG}title", f"{SVG}desc"]
    assert root[0].text.strip()
    assert re.search(r"\d", root[1].text)


def test_it_uses_no_style_and_only_classes_both_style_sheets_know(picture, paper_style, page_style):
    for element in parsed(picture.svg).iter():
        assert "style" not in element.attrib
        assert element.tag != f"{SVG}style"
        for name in element.get("class", "").split():
            assert f".{name} {{" in paper_style
            assert re.search(rf"\.{name}[ ,]", page_style)


def test_no_words_stand_on_other_words(picture, text_sizes):
    assert overlapping_texts(picture.svg, text_sizes) == []


def test_everything_said_stays_on_the_sheet(picture, text_sizes):
    left, top, width, height = (float(figure) for figure in parsed(picture.svg).get("viewBox").split())
    sheet = box(left, top, left + width, top + height)
    assert [text for text, outline in text_shapes(picture.svg, text_sizes) if not sheet.contains(outline)] == []


def test_the_check_of_overlaps_sees_one(text_sizes):
    two = "".join(f'<text x="{x}" y="5" class="label at-middle">Left face</text>' for x in (10, 14))
    svg = f'<svg xmlns="http://www.w3.org/2000/svg">{two}</svg>'
    assert overlapping_texts(svg, text_sizes) == [("Left face", "Left face")]


DIGEST = """
import hashlib
from tests.jobs.drawings.pictures import all_pictures
print(hashlib.sha256(repr(sorted((k, p.svg) for k, p in all_pictures().items())).encode()).hexdigest())
"""


def test_drawn_twice_it_is_the_same_whatever_the_hash_seed():
    digests = {
        subprocess.run(
            [sys.executable, "-c", DIGEST], cwd=ROOT, env={"PYTHONHASHSEED": seed}, capture_output=True, check=True
        ).stdout
        for seed in ("1", "2")
    }
    assert len(digests) == 1
    assert len(digests.pop()) == 65
