"""Reads a paper the way a reader program would, through pypdf."""

import shutil
import subprocess
import tempfile
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any

import pypdf
import pytest
from PIL import Image


def open_paper(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(BytesIO(pdf), strict=True)


def page_texts(pdf: bytes) -> list[str]:
    return [page.extract_text() for page in open_paper(pdf).pages]


def whole_text(pdf: bytes) -> str:
    return " ".join(" ".join(page_texts(pdf)).split())


def structure_elements(pdf: bytes) -> list[Any]:
    elements: list[Any] = []

    def walk(node: Any) -> None:
        node = node.get_object()
        if isinstance(node, list):
            for kid in node:
                walk(kid)
        elif isinstance(node, dict) and "/K" in node:
            if "/S" in node:
                elements.append(node)
            walk(node["/K"])

    walk(open_paper(pdf).trailer["/Root"]["/StructTreeRoot"])
    return elements


def fonts_with_files(pdf: bytes) -> dict[str, bool]:
    fonts: dict[str, bool] = {}
    for page in open_paper(pdf).pages:
        _collect_fonts(page["/Resources"], fonts)
    return fonts


def _collect_fonts(resources: Any, fonts: dict[str, bool]) -> None:
    resources = resources.get_object()
    for font in resources.get("/Font", {}).values():
        font = font.get_object()
        inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        descriptor = inner.get("/FontDescriptor", {}).get_object()
        fonts[font["/BaseFont"]] = any(key in descriptor for key in ("/FontFile", "/FontFile2", "/FontFile3"))
    for form in resources.get("/XObject", {}).values():
        form = form.get_object()
        if "/Resources" in form and form["/Resources"].get_object() is not resources:
            _collect_fonts(form["/Resources"], fonts)


def shares_used(pdf: bytes, white_mm: float = 14.0) -> list[float]:
    """Of each sheet, the share of its height between the margins and the title block that holds something."""
    if shutil.which("pdftoppm") is None:
        pytest.skip("pdftoppm is not installed")
    with tempfile.TemporaryDirectory() as folder:
        drawn = ["pdftoppm", "-r", "30", "-gray", "-", f"{folder}/sheet"]
        subprocess.run(drawn, input=pdf, check=True)
        return [_share(Image.open(path), white_mm * 30 / 25.4) for path in sorted(Path(folder).iterdir())]


def _share(sheet: Image.Image, white_px: float) -> float:
    top, low = round(15 * 30 / 25.4), round(sheet.height - 27 * 30 / 25.4)
    inked = [row for row in range(top, low) if sheet.crop((0, row, sheet.width, row + 1)).getextrema()[0] < 200]
    gaps = [after - before for before, after in pairwise((top, *inked))]
    return sum(gap for gap in gaps if gap <= white_px) / (low - top)
