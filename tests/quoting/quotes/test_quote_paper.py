import re
from dataclasses import fields, is_dataclass, replace
from itertools import pairwise
from typing import Any

import pytest

from quoting.core.quotes.work_up import work_up
from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.errors import PaperError
from quoting.platform.papers.paper_documents import read_paper, write_paper
from quoting.platform.papers.parts import NoticeText, PriceLine, QuoteWall, SheetError
from quoting.platform.papers.sealed import render_pdf
from quoting.platform.papers.typeset import paper_html, paper_pdf
from quoting.quotes.papers.sheets import QuotePaper
from quoting.quotes.services.quote_paper import QuoteHead, quote_paper
from tests.documents import JOBS, job_file
from tests.support.four_chains import four_chains
from tests.support.paper_reading import (
    fonts_with_files,
    open_paper,
    page_texts,
    shares_used,
    structure_elements,
    whole_text,
)
from tests.support.paper_samples import boutique_order_dates, dental_quote, svg
from tests.support.paper_stress import CANARIES, DAY, stress_paper

POINTS_PER_MM = 72 / 25.4


def test_every_page_says_which_it_is_of_how_many(quote_bytes: bytes) -> None:
    texts = page_texts(quote_bytes)
    for number, words in enumerate(texts, start=1):
        assert f"Page {number} of {len(texts)}" in words


def test_every_page_names_the_quotation_its_revision_and_the_job(quote_bytes: bytes) -> None:
    for words in page_texts(quote_bytes):
        foot = " ".join(words.split())
        assert "Quotation Q-0117" in foot
        assert "Revision B" in foot
        assert "Larkmoor Dental, reception screen" in foot


def test_the_figures_of_the_dental_job_are_printed(quote_bytes: bytes) -> None:
    """Price, tax and total of the invented dental job, worked by hand in the project's examples."""
    words = whole_text(quote_bytes)
    for figure in ("13,841.94", "1,799.45", "$15,641.39", "143.99 in", "137.63 in", "132.60 in"):
        assert figure in words


def test_the_headings_stand_in_reading_order(quote_bytes: bytes) -> None:
    words = whole_text(quote_bytes)
    order = [
        "To accept", "What you get", "Not included", "You pay", "When you pay", "Dates",
        "Trim Wall and face", "Assumptions", "Cautions", "Acceptance", "Signature",
    ]  # fmt: skip
    places = [words.index(heading) for heading in order]
    assert places == sorted(places)


@pytest.mark.parametrize(
    ("part", "heading"),
    [
        ("trim", "Trim"),
        ("instalments", "When you pay"),
        ("dates", "Dates"),
        ("inclusions", "What you get"),
        ("exclusions", "Not included"),
        ("assumptions", "Assumptions"),
        ("cautions", "Cautions"),
    ],
)
def test_an_empty_part_has_no_heading(part: str, heading: str) -> None:
    assert f"<h2>{heading}</h2>" in paper_html(dental_quote())
    assert f"<h2>{heading}</h2>" not in paper_html(dental_quote(**{part: ()}))


def test_a_quotation_without_tax_prints_no_price_before_tax() -> None:
    html = paper_html(dental_quote(tax_lines=()))
    assert "Price before tax" not in html
    assert "Total with tax" not in html


def test_an_exempt_client_is_told_why_no_tax_is_due() -> None:
    line = PriceLine("Tax", "0.00", "Exempt: certificate TX-4471.")
    assert "certificate TX-4471" in paper_html(dental_quote(tax_lines=(line,)))


def test_the_client_sees_no_word_of_what_the_work_is_bought_for(quote_bytes: bytes) -> None:
    words = whole_text(quote_bytes).lower()
    assert not re.search(r"\b(costs?|margins?|mark-?ups?|suppliers?|profit|vendor)\b", words)


def test_every_font_is_inside_the_file(quote_bytes: bytes, order_dates_bytes: bytes) -> None:
    for pdf in (quote_bytes, order_dates_bytes):
        fonts = fonts_with_files(pdf)
        assert fonts
        assert all(fonts.values()), fonts
        assert all("Sheet-Sans" in name for name in fonts), fonts


def test_the_paper_is_tagged_and_names_its_language(quote_bytes: bytes) -> None:
    """The marks a tagged file must carry: ISO 14289-1 (PDF/UA-1), clause 7.1; list from memory."""
    root = open_paper(quote_bytes).trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in root
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert b"pdfuaid" in root["/Metadata"].get_data()


def test_headings_are_tagged_and_skip_no_level(quote_bytes: bytes) -> None:
    levels = [int(element["/S"][2]) for element in structure_elements(quote_bytes) if re.match(r"/H\d", element["/S"])]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_every_drawing_has_words_for_those_who_cannot_see_it(quote_bytes: bytes) -> None:
    drawings = [element for element in structure_elements(quote_bytes) if element["/S"] == "/Figure"]
    assert [str(drawing["/Alt"]).split()[0] for drawing in drawings] == ["Plan", "Developed"]


def test_table_headings_are_tagged_as_such(quote_bytes: bytes) -> None:
    kinds = {element["/S"] for element in structure_elements(quote_bytes)}
    assert {"/Table", "/TH", "/TD", "/TR"} <= kinds


@pytest.mark.parametrize(("size", "width_mm", "height_mm"), [("letter", 215.9, 279.4), ("a4", 210.0, 297.0)])
def test_the_sheet_has_the_size_of_the_standard(size: str, width_mm: float, height_mm: float) -> None:
    """A4 by ISO 216; letter is 8-1/2 by 11 in."""
    box = open_paper(paper_pdf(dental_quote(sheet_size=size))).pages[0].mediabox
    assert float(box.width) == pytest.approx(width_mm * POINTS_PER_MM, abs=0.1)
    assert float(box.height) == pytest.approx(height_mm * POINTS_PER_MM, abs=0.1)


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_a_hundred_millimetres_drawn_are_a_hundred_on_the_sheet(size: str) -> None:
    marks = (
        '<rect class="fill-tint" width="174" height="20"/>'
        '<text x="10" y="10" class="label">LEFT</text><text x="110" y="10" class="label">RIGHT</text>'
    )
    drawing = Drawing(svg(174, 20, "A rule of 100 mm", marks), "Rule")
    wall = QuoteWall("Wall", ("A wall.",), drawings=(drawing,))
    places: dict[str, float] = {}

    def note(text: str, cm: list[float], tm: list[float], *_: Any) -> None:
        for word in ("LEFT", "RIGHT"):
            if word in text:
                places[word] = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]

    for page in open_paper(paper_pdf(dental_quote(walls=(wall,), sheet_size=size))).pages:
        page.extract_text(visitor_text=note)
    assert places["RIGHT"] - places["LEFT"] == pytest.approx(100 * POINTS_PER_MM, abs=0.05)


def test_a_long_schedule_repeats_its_heading_on_each_page() -> None:
    rows = dental_quote().trim * 30
    texts = page_texts(paper_pdf(dental_quote(trim=rows)))
    with_rows = [words for words in texts if "Base 5-1/4″, paint grade" in words]
    assert len(with_rows) >= 2
    assert all("Radius at back of trim" in words for words in with_rows)


def test_long_words_stay_on_the_sheet() -> None:
    long = "Reception " + "screen" * 40
    pdf = paper_pdf(dental_quote(job_title=long))
    assert "of" in page_texts(pdf)[0]


HOSTILE = [
    "<script>alert(1)</script>",
    '"><img src="file:///etc/hostname">',
    "</td></tr></table><h1>Total 0.00</h1>",
    "{{ paper.total }}{% include 'base.html' %}",
    "<link rel=stylesheet href=//127.0.0.1/x.css>",
    "&lt;b&gt;&amp;",
]


def fill_texts(value: Any, words: str) -> Any:
    """The same paper with the words in every text it holds, drawings and choices left alone."""
    if isinstance(value, Drawing):
        return replace(value, caption=words, scale=words)
    if isinstance(value, tuple):
        return tuple(fill_texts(item, words) for item in value)
    if is_dataclass(value) and not isinstance(value, type):
        texts = {"sheet_size", "language"}
        changes = {
            field.name: fill_texts(getattr(value, field.name), words)
            for field in fields(value)
            if field.name not in texts
        }
        return replace(value, **changes)
    return words if isinstance(value, str) else value


def elements_of(html: str) -> list[str]:
    return re.findall(r"<(/?[a-zA-Z][^\s>/]*)", html)


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_words_in_any_text_become_no_element(words: str) -> None:
    for typeset, paper in ((paper_html, dental_quote()), (paper_html, boutique_order_dates())):
        assert elements_of(typeset(fill_texts(paper, words))) == elements_of(typeset(fill_texts(paper, "x")))


def test_hostile_words_are_printed_as_they_were_written() -> None:
    pdf = paper_pdf(dental_quote(job_title=HOSTILE[1]))
    assert '<img src="file:///etc/hostname">' in whole_text(pdf)


def test_the_paper_is_refused_when_the_escaping_is_off() -> None:
    """The control: the same words unescaped do reach for the file, and the seal stops them."""
    html = paper_html(dental_quote(introduction=("marker-words",))).replace("marker-words", HOSTILE[1])
    with pytest.raises(PaperError, match="not one of its own"):
        render_pdf(html, title="x")


@pytest.mark.parametrize("name", ["number", "revision", "job_title", "issued_on", "valid_until", "total"])
@pytest.mark.parametrize("value", ["", "  ", None, 7])
def test_a_quotation_without_its_key_figures_is_refused(name: str, value: object) -> None:
    with pytest.raises(SheetError, match=f"QuotePaper.{name}"):
        dental_quote(**{name: value})


@pytest.mark.parametrize("name", ["walls", "price_lines", "acceptance"])
def test_a_quotation_without_its_main_parts_is_refused(name: str) -> None:
    with pytest.raises(SheetError, match=name):
        dental_quote(**{name: ()})


def test_a_sheet_size_we_do_not_print_is_refused() -> None:
    with pytest.raises(SheetError, match="letter, a4"):
        dental_quote(sheet_size="a3")


def test_tax_without_a_net_price_is_refused() -> None:
    with pytest.raises(SheetError, match="net_price"):
        dental_quote(net_price="")


def test_a_wall_without_words_is_refused() -> None:
    with pytest.raises(SheetError, match="in words"):
        QuoteWall("Wall", ("  ",))


def test_the_title_names_quotation_revision_and_job() -> None:
    paper: QuotePaper = dental_quote()
    assert paper.title == "Quotation Q-0117, revision B: Larkmoor Dental, reception screen"


@pytest.fixture(scope="module")
def stress_bytes() -> bytes:
    return paper_pdf(stress_paper())


def test_a_large_quotation_repeats_its_total_where_it_is_said_and_leaves_no_sum_alone(stress_bytes: bytes) -> None:
    """119 x 250.00 + 343.75 = 30,093.75: on the first sheet, under the lines, under the
    instalments and where it is signed."""
    texts = page_texts(stress_bytes)
    assert whole_text(stress_bytes).count("30,093.75") == 4
    [last] = [words for words in texts if "Part 120 of the work" in words]
    assert "Part 119 of the work" in last and "30,093.75" in last
    lined = [words for words in texts if re.search(r"Part \d+ of the work", words)]
    assert len(lined) > 2
    assert all(re.search(r"Work\s+Price", words) for words in lined)


def test_a_large_quotation_has_one_sheet_for_each_of_its_eight_walls(stress_bytes: bytes) -> None:
    assert len([words for words in page_texts(stress_bytes) if "left face, rolled out flat" in words]) == 8


def test_neither_supplier_nor_cost_is_anywhere_in_the_file(stress_bytes: bytes) -> None:
    """Canaries in every supplier's name and cost line: text, file properties, XMP, attachments, structure."""
    reader = open_paper(stress_bytes)
    text = whole_text(stress_bytes) + str(reader.metadata) + str(reader.attachments)
    text += reader.trailer["/Root"]["/Metadata"].get_data().decode()
    text += "".join(str(element.get("/Alt", "")) for element in structure_elements(stress_bytes))
    assert not [canary for canary in CANARIES if canary in text]
    assert "Brightwell Childcare" in text  # The control: what is meant for the client is found this way.
    assert not list(reader.attachments)


def test_every_radius_of_every_run_is_in_the_schedule_of_trim() -> None:
    """The boutique's S-curve, by hand: R 96 and 72 on the centreline, 1.8125 + 0.5 in to a finished face."""
    [left] = [row for row in stress_paper().trim if row.wall == "Lobby S-curve" and "7 in" in row.profile]
    assert [(bend.side, bend.radius) for bend in left.bends] == [
        ("concave", "7' 9-11/16\""),
        ("convex", "6' 2-5/16\""),
        ("straight", "–"),
    ]


def test_where_it_is_signed_stand_the_total_and_how_it_can_be_taken_back(stress_bytes: bytes) -> None:
    """Ten calendar days after 25 November 2026, by hand: 5 December."""
    [words] = [" ".join(words.split()) for words in page_texts(stress_bytes) if "Signature" in words]
    assert "at a total of USD 30,093.75" in words
    assert "within 10 calendar days after the day of acceptance" in words
    assert "up to and including Sat 5 Dec 2026" in words
    assert "write to the office" in words


def test_without_a_window_or_instalments_nothing_is_said_of_them() -> None:
    html = paper_html(dental_quote(instalments=()))
    assert "Cancelling" not in html
    assert "When you pay" not in html


def test_options_stand_apart_from_the_total_with_a_box_to_tick(stress_bytes: bytes) -> None:
    words = whole_text(stress_bytes)
    assert "None of these is in the total above" in words
    assert "Cap rail: one of these, or as quoted" in words
    assert "− USD 900.00" in words and "+ USD 1,260.00" in words


def test_the_notice_of_the_place_is_printed_with_its_version(stress_bytes: bytes) -> None:
    assert "Notice of Port Saffron, version invented-1." in whole_text(stress_bytes)


def test_a_notice_in_another_language_says_so_to_readers() -> None:
    notice = NoticeText("Avis", ("Un.",), "Port Saffron, version 1", "fr")
    assert '<section class="notice" lang="fr">' in paper_html(dental_quote(notice=notice))


def job_paper(name: str, **firm: object) -> QuotePaper:
    file = four_chains() if name == "four chains" else job_file(name)
    book = replace(file.book, firm=replace(file.book.firm, **firm))
    return quote_paper(work_up(replace(file, book=book), DAY), QuoteHead("Q-0042", "1", "B. Sawtry"))


@pytest.mark.parametrize("units", ["imperial", "metric"])
@pytest.mark.parametrize("name", [*JOBS, "four chains"])
def test_every_sheet_is_at_least_sixty_percent_full(name: str, units: str) -> None:
    """Letter for a firm of feet and inches, A4 for a metric one; white over 14 mm high counts as empty."""
    assert min(shares_used(paper_pdf(job_paper(name, display_units=units)))) >= 0.6


def test_the_first_sheet_sells_and_the_last_is_signed() -> None:
    first, *_, last = page_texts(paper_pdf(job_paper("larkmoor-dental")))
    words = " ".join(first.split())
    for part in ("Reception screen for Larkmoor Dental", "Total with tax", "On site", "Valid until", "To accept:"):
        assert part in words
    assert "We build one wall" in words
    assert "Signature" in last and "Signature" not in first


def test_each_wall_has_a_sheet_to_itself() -> None:
    """First and offered, four walls, trim and what the price rests on over two."""
    texts = [" ".join(words.split()) for words in page_texts(paper_pdf(job_paper("four chains")))]
    drawn = [number for number, words in enumerate(texts) if "rolled out flat" in words and ": plan" in words]
    assert (drawn, len(texts)) == ([2, 3, 4, 5], 8)


def test_limits_and_bands_stay_on_the_site_sheet() -> None:
    """What the client reads is how it was measured; the radius from least to greatest is the lead's."""
    paper = job_paper("larkmoor-dental")
    assert 'Measured to 1/8"; we check again before ordering.' in paper.assumptions
    assert not any("best" in sentence for sentence in paper.assumptions)


def test_a_paper_frozen_before_the_first_sheet_had_a_picture_is_still_printed() -> None:
    kept = write_paper(dental_quote())
    for later in ("cover", "on_site"):
        kept.pop(later)
    for wall in kept["walls"]:
        wall.pop("pieces")
    assert "We will frame, board, finish and trim" in paper_html(read_paper(QuotePaper, kept))
