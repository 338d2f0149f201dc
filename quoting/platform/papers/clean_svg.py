"""A drawing in SVG somebody sends, made into one we made: shapes, their colours and gradients, and nothing else."""

import re
from xml.etree import ElementTree

from quoting.platform.papers.pictures import PictureRefused

SVG = "http://www.w3.org/2000/svg"
MAX_BYTES, MAX_ELEMENTS, MAX_DEPTH = 500_000, 5_000, 40
KEPT = re.compile(
    "svg|g|defs|path|rect|circle|ellipse|line|polyline|polygon|linearGradient|radialGradient|stop|clipPath"
)
LEFT_OUT = frozenset(["title", "desc", "metadata"])
"""What drawing programs write beside the shapes, and nobody sees."""
ATTRIBUTES = re.compile(
    "id|d|points|[xy][12]?|c[xy]|r[xy]?|f[xy]|width|height|viewBox|transform|opacity|fill(-opacity|-rule)?|offset|"
    "stroke(-width|-opacity|-linecap|-linejoin|-miterlimit|-dasharray)?|stop-(color|opacity)|clip-(path|rule)|"
    "gradient(Units|Transform)|spreadMethod|clipPathUnits|preserveAspectRatio"
)
PLAIN = re.compile(r"[^<>&\\;{}@]{0,60000}")


def is_svg(data: bytes) -> bool:
    return b"<svg" in data[:4096].lower()


def clean_svg(data: bytes) -> bytes:
    """Raises PictureRefused, with what to do about it."""
    if len(data) > MAX_BYTES:
        raise PictureRefused(f"The drawing is {len(data)} bytes; at most {MAX_BYTES} can be taken. Save it simpler.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise PictureRefused("The drawing is not text in UTF-8; save it as plain SVG.") from error
    if re.search(r"<!(?!--)", text) or "<?xml-stylesheet" in text:
        raise PictureRefused("The drawing holds declarations of its own; save it as plain SVG.")
    try:
        root = ElementTree.fromstring(text)
    except ElementTree.ParseError as error:
        raise PictureRefused("The drawing cannot be read: it is not well-formed XML.") from error
    if root.tag != f"{{{SVG}}}svg":
        raise PictureRefused("The file is not an SVG drawing; send a PNG, a JPEG or an SVG.")
    if sum(1 for _ in root.iter()) > MAX_ELEMENTS:
        raise PictureRefused(f"The drawing has more than {MAX_ELEMENTS} parts; save it simpler.")
    made = _kept(root, 0)
    if "viewBox" not in made.attrib and not {"width", "height"} <= set(made.attrib):
        raise PictureRefused("The drawing states no size: it needs a viewBox, or a width and a height.")
    made.set("xmlns", SVG)
    return ElementTree.tostring(made, encoding="utf-8")


def _kept(element: ElementTree.Element, depth: int) -> ElementTree.Element:
    name = _own_name(element)
    if depth > MAX_DEPTH:
        raise PictureRefused("The drawing is nested too deep; save it simpler.")
    made = ElementTree.Element(name, dict(_attributes(element)))
    for child in element:
        child_name = _own_name(child)
        if child_name in LEFT_OUT or not child_name:
            continue
        if not KEPT.fullmatch(child_name):
            raise PictureRefused(
                f"The drawing holds <{child_name[:40]}>; a mark is made of shapes only. Turn letters into outlines, "
                "put colours on the shapes, then save it as plain SVG."
            )
        made.append(_kept(child, depth + 1))
    return made


def _own_name(element: ElementTree.Element) -> str:
    """Empty for what is of another vocabulary than SVG."""
    tag = element.tag if isinstance(element.tag, str) else ""
    return tag.removeprefix(f"{{{SVG}}}") if tag.startswith(f"{{{SVG}}}") else ""


def _attributes(element: ElementTree.Element) -> list[tuple[str, str]]:
    """Those a shape needs, with what a style attribute says of it; everything else is left out."""
    style = [part.partition(":") for part in element.get("style", "").split(";")]
    stated = {**element.attrib, **{name.strip(): value.strip() for name, _, value in style if value}}
    return [
        (name, value)
        for name, value in stated.items()
        if ATTRIBUTES.fullmatch(name)
        and PLAIN.fullmatch(value)
        and not re.search(r"url\(\s*['\"]?(?!#)", value, re.IGNORECASE)
    ]
