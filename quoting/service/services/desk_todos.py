"""What whoever sits at a desk does next, from rows: of orders and dates, of each job's life, and of what failed."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import date, datetime

from django.db.models import F

from catalog.core.ground.workdays import WorkCalendar
from catalog.models import Supplier
from jobs.buying.services.expediting_facts import ToAsk
from jobs.core.ordering.chasing import OrderFacts
from jobs.core.ordering.order_acts import OrderAct, order_acts
from jobs.core.ordering.order_by import days_in_hand
from jobs.core.ordering.order_words import listed, short_name
from jobs.core.schedule.crew_clashes import CrewClash
from jobs.dates.services.action_items import Matter, Matters
from jobs.dates.services.item_schedule import OpenJobItems
from jobs.dates.services.jobs_needing_action import WaitingJob, waiting_jobs
from jobs.dates.services.undated_items import undated_items
from jobs.jobs.models import Job
from jobs.orders.models import OrderLine
from jobs.schedule.services.planned_days import crew_days_ahead
from quoting.alerts.services.attention import attention
from quoting.core.life.day_list import SOON_WORKDAYS, Todo
from quoting.core.life.steps import Act, Step
from quoting.life.services.reading import ReadLife, lives_of
from quoting.platform.people.models import Role

MOST_LIVES = 40
# Ours: how far ahead a crew can still be moved with little trouble.
CREWS_AHEAD_DAYS = 42
# Of these the rows of needs and of orders say more.
_OF_ROWS: frozenset[Act] = frozenset({"order", "undated", "settle", "receive", "begin", "end"})
_TO_SIGN: frozenset[Act] = frozenset({"measure", "price", "send", "sign"})
# Acts of an order that wait for the supplier.
WAITING: frozenset[str] = frozenset({"confirm", "half_lead", "ship_check", "answer", "credit", "arrive"})
_DO: dict[Act, tuple[str, str]] = {
    "measure": ("Open the walls", "job_walls"),
    "price": ("Open the price", "quote"),
    "send": ("Open the price", "quote"),
    "sign": ("Send a reminder", "revision"),
    "collect": ("Enter the payment", "payments"),
    "note": ("Open the note", "change_note"),
    "wait": ("What it waits for", "job_order_dates"),
    "bill": ("Open the payments", "payments"),
    "close": ("Open the job", "job"),
    "again": ("Open the price", "quote"),
}
_TAPE: dict[Act, str] = {"measure": "measure", "price": "price", "send": "send", "sign": "signs", "collect": "collect"}


def lives_at_hand(today: date) -> list[ReadLife]:
    """Of open jobs whose next step is due first; of those without a day the newest."""
    rows = Job.objects.filter(closed_on=None, life__isnull=False).select_related("client")
    nearest = rows.order_by(F("life__next_by").asc(nulls_last=True), "-pk")[:MOST_LIVES]
    return list(lives_of(nearest, today).values())


def todos_of_lives(lives: Iterable[ReadLife], role: str) -> Iterator[Todo]:
    for read in lives:
        for step in read.life.steps:
            if step.act not in _OF_ROWS and _is_of(step, read, role):
                yield _of_step(step, read)


def _is_of(step: Step, read: ReadLife, role: str) -> bool:
    """The owner's are everybody's at a desk. What a client signs is theirs until few days are left for it."""
    if step.who == "lead":
        return False
    in_hand = read.in_hand(step)
    if step.act == "sign" and (in_hand is None or in_hand > SOON_WORKDAYS):
        return False
    mine = {"client": Role.ESTIMATOR}.get(step.who, step.who)
    return role == Role.OWNER or role == mine or step.act == "sign"


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
        tape=f"{job.client.name.partition(' ')[0]} {_TAPE[step.act]}" if step.act in _TAPE else "",
    )


def jobs_to_be_signed(lives: Iterable[ReadLife], role: str) -> frozenset[int]:
    """Ids of jobs whose own next step leads to the signature, by the day the first item must be decided."""
    steps = ((read, read.life.next) for read in lives)
    return frozenset(r.job.pk for r, step in steps if step and step.act in _TO_SIGN and step.by and _is_of(step, r, role))


def todos_of_matters(
    found: Matters, read: OpenJobItems, again: frozenset[tuple[int, str]], to_be_signed: frozenset[int]
) -> Iterator[Todo]:
    """again: items of which an order says that some came bad; that row says when to order them again. to_be_signed: jobs
    with a row that says by when."""
    names = dict(Supplier.objects.values_list("code", "name"))
    for one in found.soon:
        key = one.item.job.pk, one.item.need.material
        is_said = one.kind == "order" and one.part and key in again
        if not is_said and not (one.kind == "decide" and one.item.job.pk in to_be_signed):
            yield _of_matter(one, read, names)


def _of_matter(one: Matter, read: OpenJobItems, names: dict[str, str]) -> Todo:
    need, job = one.item.need, one.item.job
    item, code = ("order_item", str(job.pk), need.material), need.supplier or ""
    why = one.why if job.pk in read.signed else f"{one.why} Not signed yet.".strip()
    what, days = short_name(need.name), one.in_hand
    if one.late is not None:
        order = one.late.coming.line.order
        text = f"Ask {order.supplier.name} for an earlier day"
        why = f"{what.capitalize()}, order {order.number}. {why}"
        return Todo(text, why, one.day, days, (job.title,), "Open the order", ("order", str(order.pk)))
    if one.kind == "decide":
        text = f"Have the {what} signed off"
        return Todo(text, why, one.day, days, (job.title,), "Open the item", item, tape=f"{what} signed off")
    supplier = names.get(code, code)
    return Todo(
        "",
        why,
        one.day,
        days,
        (job.title,),
        "Open the item",
        item,
        group=f"order {code}",
        together=("order_from", code) if code else ("order_dates",),
        supplier=supplier,
        names=(need.name,),
        rest=bool(one.part),
        amount=one.item.amount,
        tape=f"order {what}",
    )


def acts_of_orders(asking: ToAsk, today: date, firm: WorkCalendar) -> list[tuple[int, OrderFacts, OrderAct]]:
    """By the id of the order."""
    return [(pk, facts, act) for pk, facts in asking.facts.items() for act in order_acts(facts, today, firm)]


def todos_of_orders(acts: Iterable[tuple[int, OrderFacts, OrderAct]], late: frozenset[int]) -> Iterator[Todo]:
    """late: ids of orders that are named anyway, for what comes too late."""
    mine = [one for one in acts if not _is_left_out(one[0], one[2], late)]
    lines = OrderLine.objects.filter(order__in={pk for pk, _, _ in mine}).order_by("pk")
    goods: defaultdict[int, tuple[tuple[str, str], ...]] = defaultdict(tuple)
    for order, job, name in lines.values_list("order", "job__title", "material__name") if mine else ():
        goods[order] += ((job, short_name(name)),)
    for pk, facts, act in mine:
        what = listed([name for _, name in goods[pk]])
        why = f"{what[:1].upper()}{what[1:]}, order {facts.key}, {facts.supplier}. {act.says}".strip()
        do = {"claim": "Write the claim", "short": "Choose how"}.get(act.kind, "Open the order")
        place, tape = ("order", str(pk)), f"{act.words[:1].lower()}{act.words[1:]}"
        jobs = tuple(dict.fromkeys(job for job, _ in goods[pk]))
        yield Todo(act.words, why, act.by, act.in_hand, jobs, do, place, tape=tape)


def _is_left_out(order: int, act: OrderAct, late: frozenset[int]) -> bool:
    return act.kind in WAITING or act.kind == "promised_late" or (act.kind == "promise_passed" and order in late)


def items_short(acts: Iterable[tuple[int, OrderFacts, OrderAct]]) -> frozenset[tuple[int, str]]:
    """Items of orders of which some came bad and is to be ordered again."""
    orders = {pk for pk, _, act in acts if act.kind == "short"}
    return frozenset(OrderLine.objects.filter(order__in=orders).values_list("job_id", "material_id") if orders else ())


def todos_of_gaps(read: OpenJobItems) -> Iterator[Todo]:
    """Items that cannot be dated, each lack once."""
    do = {"supplier": "Assign suppliers", "lead": "Enter lead times", "day": "Agree the days"}
    for one in undated_items(read):
        place: tuple[str, ...] = ("catalog", f"?lacks={one.lack}")
        if one.lack == "day":
            place = ("order_dates",) if len(one.job_ids) > 1 else ("job_dates", str(one.job_ids[0]))
        what, _, follows = one.sentence.partition(", so ")
        yield Todo(what, f"So {follows}" if follows else "", None, None, (), do[one.lack], place)


def todos_of_failures(now: datetime, bad: Iterable[str]) -> Iterator[Todo]:
    for one in attention(now):
        place = ("job", str(one.job.pk)) if one.job else ("account",)
        do, jobs = ("Open the job", (one.job.title,)) if one.job else ("See why", ())
        yield Todo(one.what, one.sentence, None, None, jobs, do, place)
    for sentence in bad:
        yield Todo("Correct the days of an order", sentence, None, None, (), "Open the orders", ("order_list",))


def todos_of_jobs(read: OpenJobItems) -> Iterator[Todo]:
    """What the last work-up says is missing or to be decided, a row a job."""
    for one in waiting_jobs(read, at_desk=True)[0]:
        yield Todo(_waiting(one), _first(one), None, None, (one.job.title,), "Open the walls", ("job_walls", str(one.job.pk)))


def _waiting(one: WaitingJob) -> str:
    count = len(one.sentences)
    return f"Decide on {count} point{'' if count == 1 else 's'}" if count else "Correct the walls"


def _first(one: WaitingJob) -> str:
    return one.trouble or one.sentences[0]


def todos_of_crews(today: date, calendar: WorkCalendar) -> Iterator[Todo]:
    """The first stretch on which more people are wanted than there are, and the first person wanted twice."""
    found = crew_days_ahead(today, CREWS_AHEAD_DAYS)
    for clash in found.clashes[:1]:
        text, day = "Move a crew", clash.first_day
        yield Todo(text, _crew_words(clash), day, days_in_hand(today, day, calendar), (), "Who wants them", ("crew_clashes",))
    for named in found.named[:1]:
        text, day = f"Move {named.name}", named.first_day
        why = f"Named to {len(named.jobs)} jobs at once, from {day}."
        yield Todo(text, why, day, days_in_hand(today, day, calendar), (), "Who wants them", ("crew_clashes",))


def _crew_words(clash: CrewClash) -> str:
    return f"{clash.wanted} people wanted on {clash.first_day}, {clash.there} there."
