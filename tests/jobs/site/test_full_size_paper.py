import math
from dataclasses import replace

import pytest
from pypdf.generic import ContentStream

from jobs.site.papers.full_size import PAGE_MM, FullSizePaper
from jobs.site.services.full_size import full_size_paper
from quoting.core.quotes.work_up import work_up
from quoting.platform.papers.drawings import DrawingError
from quoting.platform.papers.paper_documents import read_paper, write_paper
from quoting.platform.papers.parts import SheetError
from quoting.platform.papers.typeset import paper_pdf
from tests.documents import job_file
from tests.support.paper_reading import open_paper, page_texts
from tests.support.worked import TODAY

# A point is 1/72 in: ISO 32000-1, 8.3.2.3.
POINTS_PER_MM = 72 / 25.4


def template(size: str = "a4") -> FullSizePaper:
    read = job_file("larkmoor-dental")
    wall = work_up(read, TODAY).walls[0]
    about = {"job_title": "Reception screen", "prepared_by": "R. Sallow", "today": TODAY}
    return full_size_paper(wall, read.book, piece_index=0, only_a_stretch=True, size=size, **about)


@pytest.fixture(scope="module", params=["a4", "letter"])
def made(request) -> tuple[FullSizePaper, bytes]:
    paper = template(request.param)
    return paper, paper_pdf(paper)


def straights(page) -> list[tuple[float, float]]:
    """(across, up) in points of every path of one straight, as the transformations in force place it."""
    matrix, rows, pairs, path = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), [], [], []
    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        numbers = [float(operand) for operand in operands] if operator in (b"cm", b"m", b"l") else []
        if operator == b"q":
            rows.append(matrix)
        elif operator == b"Q":
            matrix = rows.pop()
        elif operator == b"cm":
            a, b, c, d, e, f = numbers
            p, q, r, s, t, u = matrix
            matrix = (a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u)
        elif operator in (b"m", b"l"):
            x, y = numbers
            p, q, r, s, t, u = matrix
            point = (x * p + y * r + t, x * q + y * s + u)
            path = [*path, point] if operator == b"l" else [point]
        elif operator in (b"S", b"s", b"B", b"n", b"f", b"B*", b"f*"):
            if operator == b"S" and len(path) == 2:
                pairs.append((abs(path[1][0] - path[0][0]), abs(path[1][1] - path[0][1])))
            path = []
    return pairs


def test_both_bars_measure_100_mm_on_every_sheet(made):
    paper, pdf = made
    pages = open_paper(pdf).pages[1:]
    assert len(pages) == len(paper.pages)
    bar = 100 * POINTS_PER_MM
    for page in pages:
        pairs = straights(page)
        assert any(math.isclose(x, bar, abs_tol=0.01) and y < 0.01 for x, y in pairs)
        assert any(math.isclose(y, bar, abs_tol=0.01) and x < 0.01 for x, y in pairs)


# Paper sizes: ISO 216 (A4, 210 by 297 mm) and ANSI/ASME Y14.1 (A, 8.5 by 11 in).
def test_every_page_has_the_size_asked_for(made):
    paper, pdf = made
    wanted = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}[paper.sheet_size]
    for page in open_paper(pdf).pages:
        box = page.mediabox
        assert (float(box.width) / POINTS_PER_MM, float(box.height) / POINTS_PER_MM) == pytest.approx(wanted, abs=0.1)


def test_every_sheet_says_its_name_and_how_to_print_it(made):
    paper, pdf = made
    texts = page_texts(pdf)
    assert "measure both bars" in " ".join(texts[0].split())
    for page, text in zip(paper.pages, texts[1:], strict=True):
        assert f"sheet {page.name}" in text
        assert "100 %" in text


def test_a_kept_template_is_read_back_as_it_was_filled():
    paper = template()
    assert read_paper(FullSizePaper, write_paper(paper)) == paper


def test_a_sheet_drawn_for_other_paper_is_refused():
    with pytest.raises(DrawingError, match=r"must be 195.9 by 259.4 mm at full size"):
        replace(template("a4"), sheet_size="letter")


def test_a_template_without_pages_is_refused():
    with pytest.raises(SheetError, match="at least one page"):
        replace(template(), pages=())


def test_pages_leave_the_margins_every_printer_needs():
    assert {"a4": (210.0 - 20, 297.0 - 20), "letter": (pytest.approx(215.9 - 20), pytest.approx(279.4 - 20))} == PAGE_MM
