"""What the API shows of activities, and is sent of them."""

from dataclasses import dataclass
from datetime import date

from jobs.core.results.activity_shown import CrewClashesShown, FinishingChanceShown
from jobs.core.results.schedule_shown import ScheduleShown
from quoting.platform.api.declared import answer_shapes, request_shapes


@dataclass(frozen=True)
class OnDay:
    """The day; today when not said."""

    on: date | None = None


SHAPES = answer_shapes(ScheduleShown, FinishingChanceShown, CrewClashesShown) | request_shapes(OnDay)
