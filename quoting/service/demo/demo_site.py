"""The lead of the demonstration on site: what was planned so far began and ended on its days."""

from contextlib import suppress
from datetime import date, datetime, timedelta

from catalog.core.ground.refusal import Refused
from catalog.services.book import book_of
from jobs.core.schedule.activities import TAPPED
from jobs.finish.services.finish_list import add_item, add_of_client, mend_item, people_of_the_firm
from jobs.jobs.models import Job
from jobs.schedule.services.actual_days import begin_activity, end_activity
from jobs.work_up.services.job_work_up import work_of
from quoting.platform.people.signatures import Signature


def work_as_planned(job: Job, by: str, today: date) -> None:
    """Every activity that was to begin by today, in the order of its days."""
    work_up = work_of(job, book_of(), today).done
    planned = [entry for entry in work_up.plan.activities if entry.kind in TAPPED and entry.times] if work_up else []
    for activity in sorted(planned, key=lambda entry: entry.times.early_start if entry.times else today):
        assert activity.times is not None
        if activity.times.early_start > today:
            continue
        begin_activity(job, activity.key, Signature(by, today), on=activity.times.early_start)
        if activity.times.early_finish < today:
            end_activity(job, activity.key, Signature(by, today), on=activity.times.early_finish)


def find_faults(job: Job, by: str, today: date, now: datetime) -> None:
    """Two things the lead found, of which one is mended, and one the client did; none before work has begun there."""
    signature, walls = Signature(by, today), job.walls.values_list("key", flat=True)
    if not walls or by not in people_of_the_firm(today):
        return
    entry = {"wall": walls[0], "who": by, "due": (today + timedelta(4)).isoformat()}
    with suppress(Refused):
        said = {"what": "Scratch on the base near the window", "wall": walls[0]}
        add_of_client(job, said, Signature(job.client.name, today))
        for what in ("Dent beside the door, hinge side", "Joint shows beside the store"):
            key = f"demo {job.key} {what}"[:100]
            item, _ = add_item(job, {**entry, "request_key": key, "what": what}, signature, now=now)
        mend_item(item, {"words": "Filled and sanded"}, signature)
