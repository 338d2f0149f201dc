"""The ways out of the bends of a wall that are too tight, and one of them taken: the wall is saved as it then is."""

from datetime import date

from catalog.core.ground.document_reader import DocumentError
from catalog.core.materials.catalog_data import Catalog
from catalog.services.book import book_of
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.takeoff.tight_bends import Tight, tight_bends, wall_by_way, way_named
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.walls.models import Wall
from jobs.walls.services.wall_cache import QUICK, cached_wall_work_up
from jobs.walls.services.walls import save_wall
from quoting.platform.people.signatures import Signature


def ways_out_of(wall: Wall, today: date) -> tuple[Tight, ...]:
    """Raises SurveyError for a wall that is none."""
    book = book_of()
    return tight_bends(cached_wall_work_up(wall.to_core(), book, today, board_rounds=QUICK), book, today)


def take_way(wall: Wall, key: str, *, seen_version: int, signature: Signature) -> Wall:
    """Save the wall as a way out makes it. Raises as `built_by` and `save_wall` do."""
    if seen_version != wall.version:
        raise ChangedMeanwhile(wall.name, seen_version, wall.version)
    book = book_of()
    work_up = cached_wall_work_up(wall.to_core(), book, signature.on, board_rounds=QUICK)
    spec = built_by(work_up, book, key, signature)
    return save_wall(wall.job, spec, seen_version=seen_version, signature=signature)


def built_by(work_up: WallWorkUp, book: Catalog, key: str, signature: Signature) -> WallSpec:
    """The wall as a way out makes it; raises DocumentError at "way" for one that is none of it as it stands."""
    pair = way_named(work_up, book, signature.on, key)
    if pair is None:
        message = f'"{key[:100]}" lets nothing of this wall pass as it stands; read its ways again and choose one'
        raise DocumentError.at("way", message)
    return wall_by_way(*pair, signature.by, signature.on)
