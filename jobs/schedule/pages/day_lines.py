"""The activities of a job as lines of one table: begun, planned, ended, with the fields of the line opened."""

from dataclasses import dataclass
from datetime import date

from jobs.core.schedule.activities import ActivityPlan
from jobs.schedule.pages.activities import ActivityLine, activity_lines
from jobs.schedule.pages.form import ActivityForm
from jobs.schedule.pages.rows import DatesRow


@dataclass(frozen=True)
class DayLine:
    """line: None for what is left out or not there. row: its fields, None for whoever changes nothing."""

    name: str
    line: ActivityLine | None
    row: DatesRow | None = None

    @property
    def begun(self) -> date | None:
        actual = self.line.activity.actual if self.line else None
        return actual.began_on if actual else None

    @property
    def ended(self) -> date | None:
        actual = self.line.activity.actual if self.line else None
        return actual.ended_on if actual else None

    @property
    def is_open(self) -> bool:
        """To be begun, or to be ended, by a tap."""
        return self.line is not None and self.line.is_tapped and self.ended is None


def day_lines(plan: ActivityPlan | None, rows: list[DatesRow]) -> list[DayLine]:
    """In the order of the plan; rows of what is not in it follow."""
    by_key = {row.form.name: row for row in rows if isinstance(row.form, ActivityForm)}
    lines = activity_lines(plan) if plan else []
    result = [DayLine(line.activity.name, line, by_key.pop(line.activity.key, None)) for line in lines]
    return [*result, *(DayLine(row.label, None, row) for row in by_key.values())]


def next_to_tap(lines: list[DayLine]) -> list[DayLine]:
    """What was begun and goes on; else the first to begin."""
    here = [line for line in lines if line.is_open]
    return [line for line in here if line.begun] or here[:1]
