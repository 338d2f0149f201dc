"""Walls worked up once and remembered: the search for a board plan takes about a second.

What is remembered is found again by everything it rests on: the wall, the catalog with the prices of the day, and the
code. So it can be old, never wrong; a new day alone, with no new price, asks for no new search. This process remembers
the walls it met last; the walls of jobs are kept as rows of `WorkedWall` too, written with each work-up that is stored
(`keep_walls`) and read by every process, so that a restart works nothing up.
"""

import hashlib
import json
import threading
from collections import OrderedDict
from collections.abc import Collection
from datetime import date

from catalog.core.ground.plain_values import from_plain, to_plain
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.offers import had_from
from catalog.core.materials.specs import Material
from jobs.core.boards.chosen_board_plan import KeptFace
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.ordering.job_work_up import JobInputs, JobWorkUp, as_had
from jobs.core.takeoff.wall_work_up import WallWorkUp, work_up_wall
from jobs.walls.models import WorkedWall
from jobs.walls.services.compute_limits import check_size
from jobs.walls.services.wall_error_paths import errors_with_paths
from quoting.platform.code_mark import code_mark

MAX_WALLS = 256
# A plan that keeps every rule but was not searched further for a cheaper one.
QUICK = 0

RULES = ("catalog.core", "jobs.core")

_walls: OrderedDict[str, WallWorkUp] = OrderedDict()
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
    key = _key(spec, _catalog_mark(book, on_day), board_rounds, kept_faces)
    _read_rows([key])
    return _once(key, spec, book, on_day, board_rounds, kept_faces)


def walls_worked_up(read: JobInputs, today: date, *, board_rounds: int | None = None) -> tuple[WallWorkUp, ...]:
    """The walls of a job, in its order, as `jobs.core.ordering.job_work_up.work_up_job` takes them.

    Raises ImpossibleWall, its field a path of the file, where a wall's figures give no wall, and TooMuchAtOnce.
    """
    check_size(read.job.walls)
    read = as_had(read)
    keys = _keys(read, today, board_rounds)
    _read_rows(keys.values())
    with errors_with_paths(read.job.walls):
        return tuple(
            _once(keys[spec.key], spec, read.book, today, board_rounds, read.job.plans.faces_of(spec.key))
            for spec in read.job.walls
        )


def keep_walls(job_id: int, work_up: JobWorkUp | None) -> None:
    """Make the rows of a job those of its walls as they are; in the transaction that stores its work-up."""
    keys = _keys(work_up.read, work_up.today, None) if work_up else {}
    rows = WorkedWall.objects.filter(job=job_id)
    rows.exclude(mark__in=keys.values()).delete()
    walls = set(rows.values_list("mark", flat=True))
    pairs = {wall: (key, remembered(key)) for wall, key in keys.items() if key not in walls}
    WorkedWall.objects.bulk_create(
        WorkedWall(job_id=job_id, wall=wall, mark=key, document=_text(entry))
        for wall, (key, entry) in pairs.items()
        if entry
    )


def remembered(key: str) -> WallWorkUp | None:
    with _one_at_a_time:
        known = _walls.get(key)
        if known is not None:
            _walls.move_to_end(key)
        return known


def _remember(key: str, wall: WallWorkUp) -> None:
    with _one_at_a_time:
        _walls[key] = wall
        while len(_walls) > MAX_WALLS:
            _walls.popitem(last=False)


def _once(
    key: str,
    spec: WallSpec,
    book: Catalog,
    on_day: date,
    board_rounds: int | None,
    kept_faces: tuple[KeptFace, ...],
) -> WallWorkUp:
    known = remembered(key)
    if known is not None:
        return known
    made = work_up_wall(spec, book, on_day, board_rounds=board_rounds, kept_faces=kept_faces)
    _remember(key, made)
    return made


def _read_rows(keys: Collection[str]) -> None:
    """Remember what rows know of these and this process does not."""
    wanted = [key for key in keys if remembered(key) is None]
    rows = WorkedWall.objects.filter(mark__in=wanted).values_list("mark", "document") if wanted else ()
    for key, document in rows:
        _remember(key, from_plain(WallWorkUp, json.loads(document)))


def _text(wall: WallWorkUp) -> str:
    return json.dumps(to_plain(wall), ensure_ascii=False, separators=(",", ":"))


def _keys(read: JobInputs, today: date, board_rounds: int | None) -> dict[str, str]:
    mark = _catalog_mark(read.book, today)
    return {spec.key: _key(spec, mark, board_rounds, read.job.plans.faces_of(spec.key)) for spec in read.job.walls}


def _key(spec: WallSpec, catalog_mark: str, board_rounds: int | None, kept_faces: tuple[KeptFace, ...]) -> str:
    return _mark((spec, catalog_mark, board_rounds, kept_faces))


def _catalog_mark(book: Catalog, on_day: date) -> str:
    return _mark((code_mark(*RULES), what_walls_take(book, on_day)))


def what_walls_take(book: Catalog, on_day: date) -> tuple[object, ...]:
    """What a wall takes from the catalog. Lead terms and other days' prices have no part in it."""
    materials = [
        (
            material.code,
            material.name,
            material.kind,
            material.supply,
            material.unit_used,
            material.waste,
            material.facts,
            material.profile,
            _packs_on(material, on_day),
            [(offer.supplier, _packs_on(had_from(material, offer.supplier), on_day)) for offer in material.offers],
        )
        for material in book.materials.values()
    ]
    return book.firm.display_units, book.firm.kit, book.standards, materials


def _packs_on(material: Material, on_day: date) -> list[object]:
    return [
        (pack.code, pack.label, pack.quantity, pack.length_mm, pack.width_mm, price.amount if price else None)
        for pack in material.packs
        for price in (pack.price_on(on_day),)
    ]


def _mark(value: object) -> str:
    """By what the values say of themselves: a pickle of equal values may differ from process to process."""
    return hashlib.sha256(repr(value).encode()).hexdigest()
