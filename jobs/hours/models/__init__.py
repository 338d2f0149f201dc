from jobs.hours.models.hours_left import HoursLeft
from jobs.hours.models.time_entries import TimeEntry
from jobs.hours.models.workers import HoursRule, Worker

__all__ = ["HoursLeft", "HoursRule", "TimeEntry", "Worker"]
