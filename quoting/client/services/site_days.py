"""The days on site as they were quoted and as they stand, and why they moved: facts, for the client's page to word."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from jobs.jobs.services.lives import lives_as_documents
from jobs.schedule.models import ActualDays, JobClosure
from quoting.changes.models import ChangeNote, ChangeState
from quoting.quotes.models import QuoteRevision

Document = dict[str, Any]
Days = tuple[date | None, date | None]


@dataclass(frozen=True)
class Cause:
    """kind: note, shut, begun, start, plan. number: of the note; days: working days it adds, under 0 it takes away."""

    kind: str
    number: int = 0
    days: int = 0
    first: date | None = None
    last: date | None = None


@dataclass(frozen=True)
class SiteDays:
    """now: as they stand; None where nobody knows. quoted: as they were. station: where the job stands."""

    station: str
    now: Days
    quoted: Days
    causes: tuple[Cause, ...] = ()


def quoted_days(snapshot: Document) -> Days:
    """The first and the last day on which people of the firm were to be there."""
    there = [entry for entry in snapshot["schedule"]["activities"] if entry["people"] and entry["workdays"]]
    first = min((entry["start"] for entry in there if entry["start"]), default=None)
    last = max((entry["finish"] for entry in there if entry["finish"]), default=None)
    return first and date.fromisoformat(first), last and date.fromisoformat(last)


def sign_by(revision: QuoteRevision) -> date | None:
    """The day after which what is made to order comes too late; None where there is time until it lapses."""
    steps = lives_as_documents([revision.quote.job], at_desk=True)[revision.quote.job_id]["steps"]
    day = next((date.fromisoformat(step["by"]) for step in steps if step["act"] == "sign" and step["by"]), None)
    return day if day and day < revision.valid_until else None


def site_days(revision: QuoteRevision, snapshot: Document) -> SiteDays:
    """Of an accepted revision. snapshot: of it."""
    job, quoted = revision.quote.job, quoted_days(snapshot)
    life = lives_as_documents([job], at_desk=False)[job.pk]
    days = {entry["station"]: entry.get("since") or entry.get("by") for entry in (*life["passed"], *life["ahead"])}
    first, last = (days.get(name) and date.fromisoformat(days[name]) for name in ("on_site", "done"))
    now = (first or quoted[0], last or quoted[1])
    # Whatever is known to have moved them; that the plan changed where nothing is.
    causes = (tuple(_causes(revision, snapshot, now)) or (Cause("plan"),)) if now != quoted else ()
    return SiteDays(life["station"], now, quoted, causes)


def _causes(revision: QuoteRevision, snapshot: Document, now: Days) -> Iterator[Cause]:
    job, before = revision.quote.job, snapshot["job_file"]["job"]
    began = ActualDays.objects.filter(job=job).order_by("began_on").values_list("began_on", flat=True).first()
    start = began or job.start_on
    if start and start.isoformat() != before["start_on"]:
        yield Cause("begun" if began else "start", first=start)
    notes = ChangeNote.objects.filter(revision=revision, state=ChangeState.SIGNED).exclude(days_moved=0)
    for number, days in notes.order_by("number").values_list("number", "days_moved"):
        yield Cause("note", number, days)
    known = {entry.get("first") or entry.get("day") for entry in before["closed"]}
    for shut in JobClosure.objects.filter(job=job, first_day__lte=now[1] or date.max).order_by("first_day"):
        if shut.first_day.isoformat() not in known:
            yield Cause("shut", first=shut.first_day, last=shut.last_day)
