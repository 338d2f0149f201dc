"""What whoever buys does next about items and orders, from rows."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date

from catalog.core.ground.workdays import WorkCalendar
from jobs.buying.services.expediting_facts import ToAsk
from jobs.core.ordering.chasing import OrderFacts
from jobs.core.ordering.order_acts import OrderAct, order_acts
from jobs.dates.services.action_items import Matter, Matters
from jobs.dates.services.item_schedule import OpenJobItems
from jobs.orders.models import Order, OrderLine, OrderState
from quoting.core.life.day_list import Todo
from quoting.core.life.order_words import listed, short_name
from quoting.life.services.matter_words import matter_text, matter_why

Act = tuple[int, OrderFacts, OrderAct]
"""With the id of its order."""
# Acts of an order that wait for the supplier.
WAITING: frozenset[str] = frozenset({"confirm", "half_lead", "ship_check", "answer", "credit", "arrive"})


def todos_of_matters(
    matter: Matters, read: OpenJobItems, again: frozenset[tuple[int, str]], to_be_signed: frozenset[int]
) -> Iterator[Todo]:
    """again: items of which an order says that some came bad; that row says when to order them again. to_be_signed:
    jobs with a row that says by when."""
    names = {code: supplier.name for code, supplier in read.desk.suppliers.items()}
    drafts = dict(Order.objects.filter(state=OrderState.DRAFT).order_by("pk").values_list("supplier__code", "pk"))
    for entry in matter.soon:
        key = entry.item.job.pk, entry.item.need.material
        is_said = entry.kind == "order" and entry.part and key in again
        if not is_said and not (entry.kind == "decide" and entry.item.job.pk in to_be_signed):
            todo = _of_matter(entry, read, names)
            draft = drafts.get(entry.item.need.supplier or "") if todo.names else None
            yield todo if draft is None else _in_draft(todo, draft)


def _in_draft(todo: Todo, draft: int) -> Todo:
    """A draft to that supplier is there already: it takes the goods."""
    place = ("order", str(draft))
    return replace(todo, do="Open the draft", place=place, together=place)


def _of_matter(matter: Matter, read: OpenJobItems, names: dict[str, str]) -> Todo:
    need, job = matter.item.need, matter.item.job
    item, code = ("order_item", str(job.pk), need.material), need.supplier or ""
    text, why = matter_text(matter, names), matter_why(matter, signed=job.pk in read.signed)
    what, days = short_name(need.name), matter.in_hand
    if matter.late is not None:
        order = matter.late.coming.line.order
        return Todo(text, why, matter.day, days, (job.title,), "Open the order", ("order", str(order.pk)))
    if matter.kind == "decide":
        return Todo(text, why, matter.day, days, (job.title,), "Open the item", item, tape=f"{what} signed off")
    supplier = names.get(code, code)
    return Todo(
        "",
        why,
        matter.day,
        days,
        (job.title,),
        "Open the item",
        item,
        group=f"order {code}",
        together=("order_from", code) if code else ("order_dates",),
        supplier=supplier,
        names=(need.name,),
        rest=bool(matter.part),
        amount=matter.item.amount,
        tape=f"order {what}",
    )


def acts_of_orders(asking: ToAsk, today: date, firm: WorkCalendar) -> list[Act]:
    """By the id of the order."""
    return [(pk, facts, act) for pk, facts in asking.facts.items() for act in order_acts(facts, today, firm)]


def todos_of_orders(acts: Iterable[Act], late: frozenset[int]) -> Iterator[Todo]:
    """late: ids of orders that are named anyway, for what comes too late."""
    mine = [row for row in acts if not _is_left_out(row[0], row[2], late)]
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


def items_short(acts: Iterable[Act], asking: ToAsk) -> frozenset[tuple[int, str]]:
    """Items of orders of which some came bad and is to be ordered again."""
    orders = {pk for pk, _, act in acts if act.kind == "short"}
    return frozenset(key for pk in orders for key in asking.short[pk])
