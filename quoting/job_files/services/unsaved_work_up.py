"""What is sent to be worked up and not stored: a whole job file, or one wall."""

from dataclasses import dataclass
from datetime import date
from functools import partial
from typing import Any

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import Reader, gather
from catalog.core.ground.units import BareLengthUnit, System
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.specs import Material
from catalog.models import Firm
from catalog.services.book import book_of
from jobs.core.measure.wall_document import read_wall
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.takeoff.takeoff import Takeoff, take_off
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.walls.models import Wall
from jobs.walls.services.compute_limits import check_size
from jobs.walls.services.wall_cache import cached_wall_work_up, walls_worked_up
from jobs.walls.services.wall_error_paths import errors_with_paths
from quoting.core.quotes.job_file import read_job_file
from quoting.core.quotes.work_up import WorkUp, work_up

Document = dict[str, Any]
UNITS: tuple[BareLengthUnit, ...] = ("in", "mm")


@dataclass(frozen=True)
class OneWall:
    """A wall taken off by itself, as if it were the whole job."""

    wall: WallWorkUp
    takeoff: Takeoff
    on_day: date
    system: System


def work_up_sent(document: Document, today: date) -> WorkUp:
    """The office's catalog stands behind the file, if there is one."""
    read = read_job_file(document, book_of() if Firm.objects.exists() else None)
    return work_up(read, today, walls_worked_up(read, today))


def take_off_sent(document: Document, on_day: date) -> OneWall:
    """`wall`, and `materials` that stand before the catalog's; lengths without a unit are in `units`."""
    spec, book = _read(document)
    check_size([spec], "wall")
    return _taken_off(spec, book, on_day, "wall")


def take_off_stored(wall: Wall, on_day: date) -> OneWall:
    spec = wall.to_core()
    check_size([spec], "pieces")
    return _taken_off(spec, book_of(), on_day, "")


def _read(document: Document) -> tuple[WallSpec, Catalog]:
    reader = Reader(document, bare_unit=Reader(document).choice("units", UNITS, "in"))
    reader.pass_over("units")
    result: dict[str, Any] = {}

    def wall() -> None:
        inner = reader.object("wall")
        result["wall"] = read_wall(inner)
        inner.finish()

    def materials() -> None:
        result["materials"] = reader.items("materials", partial(read, Material))

    gather((wall, materials))
    reader.finish()
    return result["wall"], book_of().with_more((), result["materials"])


def _taken_off(spec: WallSpec, book: Catalog, on_day: date, place: str) -> OneWall:
    with errors_with_paths([spec], place):
        wall = cached_wall_work_up(spec, book, on_day)
    return OneWall(wall, take_off((wall,), book, on_day), on_day, book.firm.display_units)
