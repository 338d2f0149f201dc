"""Reads a paper the way a reader program would, through pypdf."""

from io import BytesIO
from typing import Any

import pypdf


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
