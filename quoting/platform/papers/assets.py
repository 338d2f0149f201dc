"""The closed list of what a paper may use: our own style sheets and one font family.

Everything is read into memory before the first line of a paper is parsed, so a renderer never opens a file
on behalf of the document.
"""

from importlib.resources import files
from pathlib import Path
from types import MappingProxyType

PAPER_STYLES = Path(__file__).resolve().parents[3] / "templates" / "papers"

STYLE_NAMES = (
    "paper.css",
    "quote.css",
    "job_result.css",
    "order_dates.css",
    "order_sheet.css",
    "site.css",
    "full_size.css",
    "certificate.css",
)
FONT_NAMES = (
    "SourceSansPro-Light.ttf",
    "SourceSansPro-Regular.ttf",
    "SourceSansPro-It.ttf",
    "SourceSansPro-Semibold.ttf",
    "SourceSansPro-Bold.ttf",
)
MEDIA_TYPES = {
    ".css": "text/css",
    ".ttf": "font/ttf",
    ".jpg": "image/jpeg",
    ".png": "image/png",
    ".svg": "image/svg+xml",
}


def font_folder() -> Path:
    return Path(str(files("font_source_sans_pro") / "files"))


def load_assets() -> MappingProxyType[str, bytes]:
    styles = {name: (PAPER_STYLES / name).read_bytes() for name in STYLE_NAMES}
    fonts = {name: (font_folder() / name).read_bytes() for name in FONT_NAMES}
    return MappingProxyType({**styles, **fonts})


def media_type(name: str) -> str:
    return MEDIA_TYPES[Path(name).suffix]
