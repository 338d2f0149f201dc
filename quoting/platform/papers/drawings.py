"""A drawing on its way to a paper: checked to be only a drawing, to a true scale, and styled for print."""

import re
from dataclasses import dataclass
from functools import lru_cache
from xml.etree import ElementTree

from django.utils.safestring import SafeString, mark_safe

from quoting.platform.papers.assets import PAPER_STYLES

SVG = "{http://www.w3.org/2000/svg}"
ELEMENTS = frozenset(
    {"svg", "g", "title", "desc", "defs", "symbol", "use", "pattern", "clipPath", "marker"}
    | {"path", "line", "polyline", "polygon", "rect", "circle", "ellipse", "text", "tspan"}
)
MILLIMETRES = re.compile(r"(\d{1,4}(?:\.\d{1,4})?)mm")
MAX_BYTES = 2_000_000
# The narrower of letter and A4 less the margins of paper.css, upright and lying.
UPRIGHT_WIDTH_MM = 174.0
LYING_WIDTH_MM = 243.0
# Two abreast on an upright sheet.
HALF_WIDTH_MM = 84.0
UPRIGHT_HEIGHT_MM = 210.0
LYING_HEIGHT_MM = 140.0


class DrawingError(ValueError):
    pass


@dataclass(frozen=True)
class Drawing:
    svg: str
    caption: str
    scale: str = ""
    lying: bool = False
    narrow: str = ""
    """The same redrawn for a phone, on pages alone."""

    def __post_init__(self) -> None:
        if not self.caption.strip():
            raise DrawingError("caption is empty; every drawing on a paper is named.")
        _check_size(checked(self.svg), self.lying)
        if self.narrow:
            checked(self.narrow)

    @property
    def is_half(self) -> bool:
        return size_of(_parse(self.svg))[0] <= HALF_WIDTH_MM

    @property
    def for_paper(self) -> SafeString:
        return styled(self.svg)


def checked(svg: str) -> ElementTree.Element:
    """The drawing read and found to be only a drawing, true to its size; DrawingError says why it is not."""
    root = _parse(svg)
    _check_content(root)
    size_of(root)
    return root


def styled(svg: str) -> SafeString:
    # A renderer styles a drawing only from within it, so the sheet's line weights go inside.
    head, mark, rest = svg.partition(">")
    return mark_safe(f"{head}{mark}<style>{_paper_style()}</style>{rest}")


@lru_cache(maxsize=1)
def _paper_style() -> str:
    return (PAPER_STYLES / "drawing.css").read_text(encoding="utf-8")


def _parse(svg: str) -> ElementTree.Element:
    if len(svg) > MAX_BYTES:
        raise DrawingError(f"The drawing is {len(svg)} characters long; at most {MAX_BYTES} can go on a paper.")
    if not svg.startswith("<svg ") or "<!" in svg or "<?" in svg:
        raise DrawingError(
            "The drawing must begin with <svg and hold no comments, declarations or processing instructions."
        )
    try:
        root = ElementTree.fromstring(svg)
    except ElementTree.ParseError as error:
        raise DrawingError(f"The drawing is not well-formed XML: {error}.") from error
    if root.tag != f"{SVG}svg":
        raise DrawingError('The drawing\'s root must be <svg xmlns="http://www.w3.org/2000/svg">.')
    return root


def _check_content(root: ElementTree.Element) -> None:
    title = root.find(f"{SVG}title")
    if title is None or not (title.text or "").strip():
        raise DrawingError("The drawing has no <title>; readers who cannot see it hear the title instead.")
    for element in root.iter():
        name = element.tag.removeprefix(SVG)
        if name not in ELEMENTS:
            raise DrawingError(f"The drawing holds <{name}>; a drawing is made of shapes and text only.")
        for attribute, value in element.attrib.items():
            _check_attribute(name, attribute, value)


def _check_attribute(element: str, attribute: str, value: str) -> None:
    plain = attribute.rpartition("}")[2].lower()
    if plain == "style" or plain.startswith("on"):
        raise DrawingError(f"<{element}> has the attribute {plain}; use the classes of drawing.css instead.")
    outside = plain == "href" and not value.startswith("#")
    if outside or re.search(r"url\(\s*['\"]?(?!#)", value, re.IGNORECASE):
        raise DrawingError(f"<{element}> points to {value[:80]!r}; a drawing may only point inside itself.")


def _check_size(root: ElementTree.Element, lying: bool) -> None:
    width, height = size_of(root)
    widest = LYING_WIDTH_MM if lying else UPRIGHT_WIDTH_MM
    tallest = LYING_HEIGHT_MM if lying else UPRIGHT_HEIGHT_MM
    if not (0 < width <= widest and 0 < height <= tallest):
        raise DrawingError(
            f"The drawing is {width:g} by {height:g} mm; at its scale the sheet takes more than 0 and at most "
            f"{widest:g} by {tallest:g} mm."
        )


def size_of(root: ElementTree.Element) -> tuple[float, float]:
    """Width and height in millimetres of paper, which its own units must agree with."""
    width, height = (_millimetres(root, side) for side in ("width", "height"))
    try:
        _, _, box_width, box_height = (float(part) for part in root.get("viewBox", "").split())
    except ValueError as error:
        raise DrawingError(
            f"viewBox is {root.get('viewBox')!r}; it must be four numbers, in millimetres of paper."
        ) from error
    if not (abs(box_width - width) <= 1e-6 and abs(box_height - height) <= 1e-6):
        raise DrawingError(
            f"width and height are {width:g} by {height:g} mm but the viewBox is {box_width:g} by {box_height:g}; "
            "they must agree, so that the stated scale is true."
        )
    return width, height


def _millimetres(root: ElementTree.Element, side: str) -> float:
    text = root.get(side, "")
    match = MILLIMETRES.fullmatch(text)
    if match is None:
        raise DrawingError(f"{side} is {text!r}; it must be millimetres of paper, as in 160mm.")
    return float(match[1])
