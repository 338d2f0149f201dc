"""What was agreed of a closed job, in the quantities its hours and boards grow with."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from jobs.core.measure.survey import SurveyError
from jobs.core.schedule.activities import step_quantities
from jobs.core.schedule.hours import StepQuantities
from jobs.walls.services.wall_cache import QUICK, walls_worked_up
from quoting.changes.services.contracts import agreed_basis
from quoting.quotes.models import QuoteRevision

BOARD = "board"


@dataclass(frozen=True)
class Agreed:
    """boards_sqm: net area by code of the board. note: number of the last note in it, 0 for none."""

    steps: tuple[StepQuantities, ...]
    boards_sqm: Mapping[str, float]
    note: int


NOTHING = Agreed((), {}, 0)


@lru_cache(maxsize=256)
def agreed_of(revision_id: int, mark: str) -> Agreed:
    """mark: hashes of the frozen revision and of its signed notes. Walls that fail today's checks teach nothing.

    Raises SnapshotChanged.
    """
    revision = QuoteRevision.objects.get(pk=revision_id)
    read, note = agreed_basis(revision)
    try:
        # Net areas do not depend on how far a board plan is searched.
        walls = walls_worked_up(read, revision.quoted_on, board_rounds=QUICK)
    except SurveyError:
        return NOTHING
    left_out = {activity.key for activity in read.job.activities if activity.left_out}
    steps = step_quantities(walls, read.book.standards)
    boards: defaultdict[str, float] = defaultdict(float)
    for quantity in (entry for wall in walls for entry in wall.quantities):
        material = read.book.materials.get(quantity.material or "")
        if material is not None and material.kind == BOARD and quantity.unit == "sqm":
            boards[material.code] += quantity.value
    return Agreed(tuple(step for step in steps if step.key not in left_out), dict(boards), note)
