"""Walls worked up once and remembered in this process: the search for a board plan takes about a second.

What is remembered is found again by everything it rests on: the wall, the whole catalog and the day. So it can
be old, never wrong.
"""

import hashlib
import pickle
import threading
from collections import OrderedDict
from datetime import date

from catalog.core.book import Book
from jobs.core.assembly import WallWorkUp, work_up_wall
from jobs.core.build import WallSpec
from quoting.core.job_file import JobFile

MOST_WALLS = 256
# A plan that keeps every rule but was not searched further for a cheaper one.
QUICK = 0

_walls: OrderedDict[bytes, WallWorkUp] = OrderedDict()
_one_at_a_time = threading.Lock()


def work_up_wall_once(
    spec: WallSpec, book: Book, on_day: date, *, board_rounds: int | None = None
) -> WallWorkUp:
    return _once(spec, book, _mark(book), on_day, board_rounds)


def walls_worked_up(
    read: JobFile, today: date, *, board_rounds: int | None = None
) -> tuple[WallWorkUp, ...]:
    """The walls of a job file, in its order, as `quoting.core.work_up.work_up` takes them."""
    mark = _mark(read.book)
    return tuple(_once(spec, read.book, mark, today, board_rounds) for spec in read.job.walls)


def _once(
    spec: WallSpec, book: Book, book_mark: bytes, on_day: date, board_rounds: int | None
) -> WallWorkUp:
    key = _mark((spec, book_mark, on_day, board_rounds))
    with _one_at_a_time:
        known = _walls.get(key)
        if known is not None:
            _walls.move_to_end(key)
            return known
    made = work_up_wall(spec, book, on_day, board_rounds=board_rounds)
    with _one_at_a_time:
        _walls[key] = made
        while len(_walls) > MOST_WALLS:
            _walls.popitem(last=False)
    return made


def _mark(value: object) -> bytes:
    return hashlib.sha256(pickle.dumps(value, protocol=5)).digest()
