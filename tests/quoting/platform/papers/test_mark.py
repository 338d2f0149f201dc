"""The firm's mark: what is taken, what is refused, and where it stands."""

from io import BytesIO

import pytest
from django.urls import reverse
from PIL import Image

from quoting.platform import clock
from quoting.platform.papers.clean_svg import clean_svg
from quoting.platform.papers.mark import mark_bytes, mark_images, mark_now, remove_mark, set_mark, with_mark
from quoting.platform.papers.models import FirmMark
from quoting.platform.papers.paper_documents import read_paper, write_paper
from quoting.platform.papers.pictures import PictureRefused
from quoting.platform.papers.typeset import paper_html, paper_pdf
from quoting.quotes.papers.sheets import QuotePaper
from tests.support.desk import as_
from tests.support.paper_reading import open_paper
from tests.support.paper_samples import dental_quote

__all__ = ["as_"]

pytestmark = pytest.mark.django_db
HEAD = 'xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20"'
GOOD = f'<svg {HEAD}><g style="fill:#123456;font-family:x"><path d="M0 0L40 20Z"/></g></svg>'.encode()


@pytest.fixture(autouse=True)
def own_files(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


def png() -> bytes:
    out = BytesIO()
    Image.new("RGB", (80, 40), "navy").save(out, "PNG")
    return out.getvalue()


@pytest.mark.parametrize(("data", "suffix"), [(GOOD, "svg"), (png(), "png")])
def test_a_paper_made_from_then_on_carries_the_mark(data, suffix):
    set_mark(data, by="Ida", now=clock.now())
    paper = with_mark(dental_quote())
    assert paper.firm.mark.file_name.endswith(suffix)
    assert f"asset:{paper.firm.mark.file_name}" in paper_html(paper)
    assert len(open_paper(paper_pdf(paper, mark_images(paper))).pages) > 1
    assert read_paper(QuotePaper, write_paper(paper)) == paper


def test_a_mark_that_is_removed_stays_on_papers_that_were_filled_with_it():
    set_mark(GOOD, by="Ida", now=clock.now())
    paper = with_mark(dental_quote())
    remove_mark(by="Ida", now=clock.now())
    assert mark_now() is None and with_mark(dental_quote()).firm.mark is None
    assert with_mark(paper).firm.mark == paper.firm.mark
    assert mark_bytes(paper.firm.mark)


def test_only_shapes_and_their_colours_are_kept():
    more = GOOD.replace(b"<g ", b'<!-- made by hand --><metadata><x/></metadata><g onclick="x()" data-a="1" ')
    assert clean_svg(more) == clean_svg(GOOD)
    assert clean_svg(GOOD) == (
        b'<svg viewBox="0 0 40 20" xmlns="http://www.w3.org/2000/svg">'
        b'<g fill="#123456"><path d="M0 0L40 20Z" /></g></svg>'
    )


@pytest.mark.parametrize(
    "inside",
    [
        "<script>alert(1)</script>", "<style>*{fill:url(file:///x)}</style>", "<text>Firm</text>",
        '<image href="file:///etc/hostname"/>', '<use href="//127.0.0.1/x.svg#a"/>',
        "<foreignObject><p/></foreignObject>", '<a href="x"><path d="M0 0"/></a>', "<animate/>",
    ],
)  # fmt: skip
def test_a_drawing_that_could_do_more_than_be_seen_is_refused(inside):
    with pytest.raises(PictureRefused, match="a mark is made of shapes only"):
        set_mark(f"<svg {HEAD}>{inside}</svg>".encode(), by="Ida", now=clock.now())
    assert not FirmMark.objects.exists()


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "The file is empty"),
        (b"GIF89a....", "neither a JPEG nor a PNG"),
        (png()[:60], "may be cut off"),
        (b'<!DOCTYPE svg [<!ENTITY a "aa">]>' + GOOD, "declarations of its own"),
        (b'<?xml-stylesheet href="x"?>' + GOOD, "declarations of its own"),
        (GOOD[:-8], "not well-formed"),
        (b"<svg><path/></svg>", "not an SVG drawing"),
        (GOOD.replace(b' viewBox="0 0 40 20"', b""), "states no size"),
        (GOOD + b" " * 600_000, "at most 500000"),
        (GOOD.replace(b"</g>", b"<path/>" * 6_000 + b"</g>"), "more than 5000 parts"),
        (GOOD.replace(b"#123456", b"\xff"), "not text in UTF-8"),
    ],
)
def test_a_bad_file_is_refused_with_what_to_do(data, why):
    with pytest.raises(PictureRefused, match=why):
        set_mark(data, by="Ida", now=clock.now())


def test_an_address_outside_the_drawing_is_left_out():
    made = clean_svg(GOOD.replace(b"<path ", b'<path fill="url(http://127.0.0.1/x)" clip-path="url(#a)" '))
    assert b"127.0.0.1" not in made and b'clip-path="url(#a)"' in made


def test_the_page_takes_a_mark_shows_it_and_says_why_it_takes_none(as_):
    office = as_("office")
    bad = office.post(reverse("firm_mark"), {"file": BytesIO(b"GIF89a")})
    assert bad.status_code == 422 and b"neither a JPEG nor a PNG" in bad.content
    good = BytesIO(GOOD)
    good.name = "mark.svg"
    assert office.post(reverse("firm_mark"), {"file": good}).status_code == 302
    shown = office.get(reverse("firm_mark_file"))
    assert shown["Content-Type"] == "image/svg+xml" and "sandbox" in shown["Content-Security-Policy"]
    assert office.post(reverse("firm_mark_remove")).status_code == 302
    assert office.get(reverse("firm_mark_file")).status_code == 404
