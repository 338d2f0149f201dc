from jobs.schedule.models.dates import ActivityChange, ItemDates, JobClosure
from jobs.schedule.models.own_activities import ActivityLink, OwnActivity
from jobs.schedule.models.people import ActualDays, NamedPerson
from jobs.schedule.models.planned_activities import PlannedActivityDays

__all__ = [
    "ActivityChange",
    "ActivityLink",
    "ActualDays",
    "ItemDates",
    "JobClosure",
    "NamedPerson",
    "OwnActivity",
    "PlannedActivityDays",
]
