"""What a job and each of its items wait for before they are released to order."""

from collections.abc import Sequence
from datetime import date

from jobs.core.measure.dimension_holds import every_dimension
from jobs.core.ordering.release import JobStanding, ReleaseHold, SampleState
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.core.trim.trim_pieces import MADE_FORMS
from jobs.orders.services.items import Item
from jobs.orders.services.job_standings import item_holds


def holds_of(item: Item, standing: JobStanding, sample: SampleState, today: date) -> tuple[ReleaseHold, ...]:
    """standing: of the item's job. sample: of the item."""
    checked = checked_on(item.done.walls, item.need.material)
    return item_holds(item.need, item.statement.missing_sentences, checked, standing, sample, today)


def checked_on(walls: Sequence[WallWorkUp], material: str) -> date | None:
    """The day from which on every dimension of the plan behind the made runs of a material is confirmed on site."""
    days: list[date] = []
    for wall in walls:
        if not any(run.material == material and run.form in MADE_FORMS for run in wall.spec.trims):
            continue
        marks = {one.dimension: one.mark for one in wall.spec.taken.marks}
        for dimension in every_dimension(wall.spec):
            if not dimension.place.startswith("pieces["):
                continue
            mark = marks.get(dimension.place)
            if mark is None or mark.how != "confirmed":
                return None
            days.append(mark.on)
    return max(days, default=None)
