"""The documents of fixtures/, read once for the tests that judge by them."""

from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any

from catalog.core.ground.document_reader import Reader, parse_document
from catalog.core.materials.catalog_data import Catalog
from jobs.core.measure.curve import Curve, curve_of
from jobs.core.measure.survey import Survey
from jobs.core.measure.wall_spec import WallSpec
from quoting.core.quotes.job_file import JobFile, read_book, read_job_file

FIXTURES = Path(__file__).resolve().parent.parent / "fixtures"
JOBS = ("larkmoor-dental", "ashgrove-library", "merrow-finch-boutique", "brightwell-childcare")


@cache
def _parsed(name: str) -> dict[str, Any]:
    return parse_document((FIXTURES / name).read_text(encoding="utf-8"))


def document(name: str) -> dict[str, Any]:
    """A copy that a test may spoil."""
    return deepcopy(_parsed(name))


def read_catalog(value: dict[str, Any]) -> Catalog:
    reader = Reader(value, bare_unit=value["units"])
    for name in ("format", "units"):
        reader.pass_over(name)
    book = read_book(reader, None)
    reader.finish()
    return book


@cache
def starter() -> Catalog:
    return read_catalog(document("catalog/starter.json"))


@cache
def job_file(name: str) -> JobFile:
    return read_job_file(document(f"jobs/{name}.json"), starter())


def curve_of_wall(wall: WallSpec, book: Catalog) -> Curve:
    left, right = (
        sum(book.materials[layer.board].facts["thickness_mm"].number for layer in face.layers)
        for face in (wall.left, wall.right)
    )
    depth_mm = book.materials[wall.stud].facts["depth_mm"].number
    return curve_of(Survey(wall.pieces, wall.heights, wall.measured_on, depth_mm, left, right, wall.openings))
