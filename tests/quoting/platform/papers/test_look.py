import re
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from quoting.platform.papers.assets import FONT_NAMES, PAPER_STYLES, font_folder
from quoting.platform.papers.sealed import PROJECT

STATIC = PROJECT / "quoting" / "static" / "quoting"
SHEET = (STATIC / "sheet.css").read_text()
ON_SCREEN = SHEET.partition("@media print")[0]
PAGE_TEMPLATES = sorted(path for path in (PROJECT / "templates").rglob("*.html") if PAPER_STYLES not in path.parents)


def palettes() -> dict[str, dict[str, str]]:
    blocks = re.findall(r"(:root[^{},]*)\{([^}]*--paper[^}]*)\}", ON_SCREEN)
    return {selector.strip(): dict(re.findall(r"--([a-z]+):\s*(#[0-9a-f]{6})", body)) for selector, body in blocks}


def luminance(colour: str) -> float:
    """Relative luminance, W3C WCAG 2.2, section "Definitions"."""
    channels = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return sum(weight * value for weight, value in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(text: str, other: str) -> float:
    dark, light = sorted((luminance(text), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_formula_gives_the_known_ratios() -> None:
    """Black on white is 21:1 by definition; #767676 on white is the usual 4.54:1 (from memory)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


def test_light_and_dark_are_both_there() -> None:
    assert list(palettes()) == [":root", ':root:not([data-theme="light"])', ':root[data-theme="dark"]']


def test_the_two_copies_of_the_blueprint_agree() -> None:
    assert palettes()[':root:not([data-theme="light"])'] == palettes()[':root[data-theme="dark"]']


@pytest.mark.parametrize("theme", [":root", ':root[data-theme="dark"]'])
@pytest.mark.parametrize("words", ["text", "ink", "quiet", "link", "red"])
@pytest.mark.parametrize("ground", ["paper", "tint"])
def test_words_stand_out_from_their_ground(theme: str, words: str, ground: str) -> None:
    """WCAG 2.2, success criterion 1.4.3 (AA): 4.5:1."""
    assert contrast(palettes()[theme][words], palettes()[theme][ground]) >= 4.5


@pytest.mark.parametrize("theme", [":root", ':root[data-theme="dark"]'])
@pytest.mark.parametrize("edge", ["control", "focus", "ink", "red"])
def test_edges_of_controls_and_the_focus_ring_stand_out(theme: str, edge: str) -> None:
    """WCAG 2.2, success criterion 1.4.11 (AA): 3:1."""
    assert contrast(palettes()[theme][edge], palettes()[theme]["paper"]) >= 3


def classes_with_weights(css: str) -> dict[str, str]:
    """Class -> line weight or type size, the two things a drawing is drawn by."""
    css = re.sub(r"/\*.*?\*/", "", css, flags=re.S).replace(".drawing ", "")
    classes: dict[str, str] = {}
    for selectors, body in re.findall(r"([^{}]+)\{([^}]*)\}", css):
        measure = re.search(r"(?:stroke-width|font-size):\s*([\d.]+)", body)
        for name in re.findall(r"\.([a-z-]+)", selectors):
            classes[name] = measure[1] if measure else classes.get(name, "")
    return classes


def test_drawings_look_the_same_on_page_and_paper() -> None:
    page = classes_with_weights((STATIC / "drawing.css").read_text())
    assert page == classes_with_weights((PAPER_STYLES / "drawing.css").read_text())
    assert page["ink-heavy"] == "0.7"


def test_every_line_weight_is_one_of_the_iso_series() -> None:
    """ISO 128 line widths in mm, each the square root of two wider than the last (from memory)."""
    css = (PAPER_STYLES / "drawing.css").read_text()
    assert set(re.findall(r"stroke-width: ([\d.]+)", css)) <= {"0.13", "0.18", "0.25", "0.35", "0.5", "0.7"}


@pytest.mark.parametrize("font", FONT_NAMES)
def test_all_figures_of_the_font_are_equally_wide(font: str) -> None:
    face = TTFont(font_folder() / font)
    names = face.getBestCmap()
    assert len({face["hmtx"][names[ord(digit)]][0] for digit in "0123456789"}) == 1


@pytest.mark.parametrize("font", FONT_NAMES)
def test_the_font_has_the_signs_of_the_trade(font: str) -> None:
    assert {ord(sign) for sign in "′″×°½¼⅛±²−–·"} <= set(TTFont(font_folder() / font).getBestCmap())


@pytest.mark.parametrize("path", PAGE_TEMPLATES, ids=lambda path: str(path.relative_to(PROJECT)))
def test_no_page_carries_script_or_style_inside_it(path: Path) -> None:
    text = path.read_text()
    text = re.sub(r"{%.*?%}", "", text)
    assert not re.search(r"<style|\sstyle\s*=|\son[a-z]+\s*=|javascript:|\shx-on", text, re.IGNORECASE)
    assert not re.search(r"<script(?![^>]*\ssrc=)", text, re.IGNORECASE)


def test_the_style_sheets_ask_only_for_our_own_files() -> None:
    for css in (SHEET, (STATIC / "drawing.css").read_text()):
        assert not re.search(r"@import|https?:|url\(\s*[\"']?//", css)
    assert set(re.findall(r'url\("\.\./fonts/([^"]+)"\)', SHEET)) == set(FONT_NAMES)
