"""What whoever sits at a desk does next, from rows: of orders and dates, of each job's life, and of what failed."""

from collections.abc import Iterable, Iterator
from datetime import date, datetime, timedelta
from decimal import Decimal

from catalog.core.ground.workdays import WorkCalendar
from jobs.core.ordering.order_by import days_in_hand, is_late
from jobs.core.schedule.crew_clashes import CrewClash
from jobs.dates.services.item_schedule import OpenJobItems
from jobs.dates.services.jobs_needing_action import WaitingJob, waiting_jobs
from jobs.dates.services.undated_items import undated_items
from jobs.schedule.services.first_clashes import first_crew_clash, first_named_twice
from quoting.alerts.services.attention import attention
from quoting.core.life.day_list import SOON_WORKDAYS, Todo
from quoting.core.life.steps import Act, Step
from quoting.life.services.reading import ReadLife
from quoting.platform.people.models import Role

# Ours: how far ahead a crew can still be moved with little trouble.
CREWS_AHEAD_DAYS = 42
# Of these the rows of needs and of orders say more.
_OF_ROWS: frozenset[Act] = frozenset({"order", "undated", "settle", "receive", "begin", "end"})
_TO_SIGN: frozenset[Act] = frozenset({"measure", "price", "send", "sign", "follow"})
_DO: dict[Act, tuple[str, str]] = {
    "measure": ("Open the walls", "job_walls"),
    "price": ("Open the price", "quote"),
    "send": ("Open the price", "quote"),
    "sign": ("Send a reminder", "revision"),
    "collect": ("Enter the payment", "payments"),
    "ask": ("Ask for it", "since_signed"),
    "note": ("Open the note", "change_note"),
    "wait": ("What it waits for", "job_order_dates"),
    "bill": ("Ask for the rest", "since_signed"),
    "close": ("Open the job", "job"),
    "again": ("Open the price", "quote"),
    "follow": ("Follow up", "follow_up"),
    "answer": ("Open the question", "questions"),
    "mend": ("Open the finish list", "finish_list"),
}
_TAPE: dict[Act, str] = {
    "measure": "measure for {}",
    "price": "price {}",
    "send": "send to {}",
    "sign": "{} signs",
    "follow": "ask {}",
    "collect": "{} pays",
}


def todos_of_lives(lives: Iterable[ReadLife], role: str) -> Iterator[Todo]:
    for read in lives:
        for step in read.life.steps:
            if step.act not in _OF_ROWS and _is_of(step, read, role):
                yield _of_step(step, read)


def _is_of(step: Step, read: ReadLife, role: str) -> bool:
    """The owner's are everybody's at a desk. What a client signs is theirs until few days are left for it."""
    in_hand = read.in_hand(step)
    if step.who == "lead":
        # What is late on the finish list the office hears of too.
        return step.act == "mend" and is_late(in_hand) and role != Role.ESTIMATOR
    if step.act == "sign" and (in_hand is None or in_hand > SOON_WORKDAYS):
        return False
    mine = {"client": Role.ESTIMATOR}.get(step.who, step.who)
    return role == Role.OWNER or role == mine or step.act in ("sign", "answer")


def _of_step(step: Step, read: ReadLife) -> Todo:
    do, name = _DO[step.act]
    job, revision = read.job, read.facts.revision
    place: tuple[str, ...] = (name, str(job.pk))
    if step.act == "sign" and revision is not None:
        place = (*place, str(revision.number))
    if step.act == "note":
        place = (*place, step.about)
    if step.act == "wait" and step.about:
        place = ("order_item", str(job.pk), step.about)
    return Todo(
        step.text,
        step.why,
        step.by,
        read.in_hand(step),
        (job.title,),
        do,
        place,
        group=f"{step.act} {step.text}" if step.by is None else "",
        together=("job_list",),
        amount=_to_collect(read, step) if step.act == "collect" else None,
        tape=_TAPE.get(step.act, "").format(job.client.name.partition(" ")[0]),
    )


def _to_collect(read: ReadLife, step: Step) -> Decimal | None:
    if step.about:
        return next((request.open for request in read.facts.requests if str(request.number) == step.about), None)
    money = read.facts.money
    return money.on_signing - money.received if money and money.on_signing is not None else None


def jobs_to_be_signed(lives: Iterable[ReadLife], role: str) -> frozenset[int]:
    """Ids of jobs whose own next step leads to the signature, by the day the first item must be decided."""
    steps = ((read, read.life.next) for read in lives)
    return frozenset(
        r.job.pk for r, step in steps if step and step.act in _TO_SIGN and step.by and _is_of(step, r, role)
    )


def todos_of_gaps(read: OpenJobItems) -> Iterator[Todo]:
    """Items that cannot be dated, each lack once."""
    do = {"supplier": "Assign suppliers", "lead": "Enter lead times", "day": "Agree the days"}
    for item in undated_items(read):
        place: tuple[str, ...] = ("catalog", f"?lacks={item.lack}")
        if item.lack == "day":
            place = ("order_dates",) if len(item.job_ids) > 1 else ("job_dates", str(item.job_ids[0]))
        what, _, follows = item.sentence.partition(", so ")
        yield Todo(what, f"So {follows}" if follows else "", None, None, (), do[item.lack], place)


def todos_of_failures(now: datetime, bad: Iterable[str]) -> Iterator[Todo]:
    for entry in attention(now):
        place = ("job", str(entry.job.pk)) if entry.job else ("account",)
        do, jobs = ("Open the job", (entry.job.title,)) if entry.job else ("See why", ())
        yield Todo(entry.what, entry.sentence, None, None, jobs, do, place)
    for sentence in bad:
        yield Todo("Correct the days of an order", sentence, None, None, (), "Open the orders", ("order_list",))


def todos_of_jobs(read: OpenJobItems, *, decides: bool) -> Iterator[Todo]:
    """Jobs that cannot be worked out; for whoever decides also what is missing or to be decided, a row a job."""
    todos = waiting_jobs(read, at_desk=True)[0]
    for job in todos if decides else [each for each in todos if each.trouble]:
        yield Todo(
            _waiting(job), _first(job), None, None, (job.job.title,), "Open the walls", ("job_walls", str(job.job.pk))
        )


def _waiting(job: WaitingJob) -> str:
    count = 0 if job.trouble else len(job.sentences)
    return f"Decide on {count} point{'' if count == 1 else 's'}" if count else "Correct the walls"


def _first(job: WaitingJob) -> str:
    return f"The job cannot be worked out. {job.trouble}." if job.trouble else job.sentences[0]


def todos_of_crews(today: date, calendar: WorkCalendar) -> Iterator[Todo]:
    """The first stretch on which more people are wanted than there are, and the first person wanted twice."""
    until = today + timedelta(days=CREWS_AHEAD_DAYS)
    rows = []
    if crew := first_crew_clash(today, until, calendar):
        rows.append(("Move a crew", _crew_words(crew), crew.first_day))
    if named := first_named_twice(today, until, calendar):
        words = f"Named to {named.jobs} jobs at once, from {named.first_day}."
        rows.append((f"Move {named.name}", words, named.first_day))
    for text, why, day in rows:
        in_hand = days_in_hand(today, day, calendar)
        yield Todo(text, why, day, in_hand, (), "Which jobs", ("crew_clashes",))


def _crew_words(clash: CrewClash) -> str:
    return f"{clash.wanted} people needed on {clash.first_day}, {clash.there} there."
