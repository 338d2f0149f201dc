"""Walls worked up once and remembered in this process: the search for a board plan takes about a second.

What is remembered is found again by everything it rests on: the wall, and the catalog with the prices of the day.
So it can be old, never wrong; a new day alone, with no new price, asks for no new search.
"""

import hashlib
import pickle
import threading
from collections import OrderedDict
from datetime import date

from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.offers import had_from
from catalog.core.materials.specs import Material
from jobs.core.boards.chosen_board_plan import KeptFace
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.ordering.job_work_up import JobInputs, as_had
from jobs.core.takeoff.wall_work_up import WallWorkUp, work_up_wall
from jobs.walls.services.compute_limits import check_size
from jobs.walls.services.wall_error_paths import errors_with_paths

MOST_WALLS = 256
# A plan that keeps every rule but was not searched further for a cheaper one.
QUICK = 0

_walls: OrderedDict[bytes, WallWorkUp] = OrderedDict()
_one_at_a_time = threading.Lock()


def cached_wall_work_up(
    spec: WallSpec,
    book: Catalog,
    on_day: date,
    *,
    board_rounds: int | None = None,
    kept_faces: tuple[KeptFace, ...] = (),
) -> WallWorkUp:
    """Raises SurveyError for a wall that is none, TooMuchAtOnce for one that would keep people waiting."""
    check_size([spec])
    return _once(spec, book, _catalog_mark(book, on_day), on_day, board_rounds, kept_faces)


def walls_worked_up(read: JobInputs, today: date, *, board_rounds: int | None = None) -> tuple[WallWorkUp, ...]:
    """The walls of a job, in its order, as `jobs.core.ordering.job_work_up.work_up_job` takes them.

    Raises ImpossibleWall, its field a path of the file, where a wall's figures give no wall, and TooMuchAtOnce.
    """
    check_size(read.job.walls)
    read = as_had(read)
    mark = _catalog_mark(read.book, today)
    with errors_with_paths(read.job.walls):
        plans = read.job.plans
        return tuple(
            _once(spec, read.book, mark, today, board_rounds, plans.faces_of(spec.key)) for spec in read.job.walls
        )


def _once(
    spec: WallSpec,
    book: Catalog,
    catalog_mark: bytes,
    on_day: date,
    board_rounds: int | None,
    kept_faces: tuple[KeptFace, ...],
) -> WallWorkUp:
    key = _mark((spec, catalog_mark, board_rounds, kept_faces))
    with _one_at_a_time:
        known = _walls.get(key)
        if known is not None:
            _walls.move_to_end(key)
            return known
    made = work_up_wall(spec, book, on_day, board_rounds=board_rounds, kept_faces=kept_faces)
    with _one_at_a_time:
        _walls[key] = made
        while len(_walls) > MOST_WALLS:
            _walls.popitem(last=False)
    return made


def _catalog_mark(book: Catalog, on_day: date) -> bytes:
    return _mark(what_walls_take(book, on_day))


def what_walls_take(book: Catalog, on_day: date) -> tuple[object, ...]:
    """What a wall takes from the catalog. Lead terms and other days' prices have no part in it."""
    materials = [
        (
            one.code,
            one.name,
            one.kind,
            one.supply,
            one.unit_used,
            one.waste,
            one.facts,
            one.profile,
            _packs_on(one, on_day),
            [(offer.supplier, _packs_on(had_from(one, offer.supplier), on_day)) for offer in one.offers],
        )
        for one in book.materials.values()
    ]
    return book.firm.display_units, book.firm.kit, book.standards, materials


def _packs_on(material: Material, on_day: date) -> list[object]:
    return [
        (pack.code, pack.label, pack.quantity, pack.length_mm, pack.width_mm, price.amount if price else None)
        for pack in material.packs
        for price in (pack.price_on(on_day),)
    ]


def _mark(value: object) -> bytes:
    return hashlib.sha256(pickle.dumps(value, protocol=5)).digest()
