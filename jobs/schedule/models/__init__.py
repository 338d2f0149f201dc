from jobs.schedule.models.dates import ActivityChange, ItemDates, JobClosure
from jobs.schedule.models.own_activities import ActivityLink, OwnActivity
from jobs.schedule.models.planned_activities import PlannedActivityDays

__all__ = [
    "ActivityChange",
    "ActivityLink",
    "ItemDates",
    "JobClosure",
    "OwnActivity",
    "PlannedActivityDays",
]
