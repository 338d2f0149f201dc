"""What is done next for a job: verb and thing, by whom, by when, and what follows if it is not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby
from typing import Literal

from quoting.core.life.facts import FinishFacts, ItemFacts, JobFacts, ToAskFacts, WaitFacts, Who
from quoting.core.life.stations import LifeEnd, Station

Act = Literal[
    "measure", "price", "send", "sign", "collect", "ask", "confirm", "wait", "order", "undated", "settle", "receive",
    "note", "begin", "end", "bill", "close", "again", "follow", "answer", "mend",
]  # fmt: skip
MAX_STEPS = 12
# Ours: a week after its event a payment is asked for late.
ASK_WITHIN = timedelta(days=7)
# Ours: a client waits a day for an answer.
ANSWER_WITHIN = timedelta(days=1)
_AGAIN: Mapping[str, str] = {
    "declined": "The client declined on {}.",
    "expired": "It could be accepted until {}.",
    "taken_back": "The client cancelled on {}.",
}
_BEFORE_SENDING: tuple[Station, ...] = ("enquiry", "measured", "priced")


@dataclass(frozen=True)
class Step:
    """One thing to do. text: verb and thing. person: who plays the part, empty where nobody is known. by: None where
    no day is known. why: what follows if it is not done; its days in ISO form. about: the wall, material, order,
    activity or change note concerned."""

    act: Act
    text: str
    who: Who
    person: str = ""
    by: date | None = None
    why: str = ""
    about: str = ""

    def is_late(self, today: date) -> bool:
        return self.by is not None and self.by < today


def steps_of(facts: JobFacts, station: Station, end: LifeEnd | None, today: date) -> tuple[Step, ...]:
    """What is done next, the first one first.

    Args:
        facts: of the job. station: where it stands. end: what stopped it. today: the firm's day.

    Returns:
        Up to `MAX_STEPS`, what is late before what the station asks for; none of a closed job.

    Raises:
        Nothing.

    Source: own rule.

    >>> steps_of(JobFacts(date(2026, 10, 5), "Larkmoor"), "enquiry", None, date(2026, 10, 5))[0].text
    'Measure the first wall'
    """
    if facts.closed_on is not None:
        return ()
    others = sorted(_others(facts, station, today), key=lambda step: step.by or date.max)
    if end is not None and end.kind == "lost":
        head = [Step("close", "Close the job", "estimator", facts.estimator, why="The quotation is lost.")]
    elif end is not None:
        why = _AGAIN[end.kind].format(end.on)
        head = [Step("again", "Quote again, or say why it is lost", "estimator", facts.estimator, why=why)]
    else:
        head = list(_head(facts, station))
    late = [step for step in (*head, *others) if step.is_late(today)]
    ahead = [step for step in (*head, *others) if step not in late]
    return (*sorted(late, key=lambda step: step.by or today), *ahead)[:MAX_STEPS]


def _head(facts: JobFacts, station: Station) -> Iterator[Step]:
    """What the station itself asks for, before anything else."""
    item = _first_decided(facts)
    by = item.decide_by if item else None
    why = f"{item.name} must be decided by {by} to come in time." if item else ""
    mine = facts.estimator
    match station:
        case "enquiry":
            yield Step("measure", _measure(facts), "estimator", mine, by, why or "Nothing can be priced before.")
        case "measured":
            points = facts.before_sending
            what = f"Clear {_count(points, 'point')} and price" if points else "Price the job"
            yield Step("price", what, "estimator", mine, by, why or "The client has no price yet.")
        case "priced":
            yield Step("send", "Send the quotation", "estimator", mine, by, why or "The client has no price yet.")
        case "sent":
            yield from sorted([*_follow(facts), _sign(facts, item)], key=lambda step: step.by or date.max)
        case "paid":
            yield Step("close", "Close the job", "owner", why="All is built and paid.")
        case "done":
            if not _is_all_asked(facts):
                yield Step("bill", "Bill the rest", "owner", why=f"Built on {facts.last_end}, and not all is paid.")


def _sign(facts: JobFacts, item: ItemFacts | None) -> Step:
    revision = facts.revision
    assert revision is not None, "what was sent is a revision"
    if item is not None and item.decide_by is not None and item.decide_by <= revision.valid_until:
        by, why = item.decide_by, f"Signed later, {item.name} is ordered after {item.order_by} and comes late."
    else:
        by, why = revision.valid_until, "The quotation can be accepted until that day."
    opened = (
        f"Opened {times_words(revision.opened)}, last on {revision.opened_on}."
        if revision.opened
        else "Not opened yet."
    )
    return Step("sign", f"{facts.client} signs", "client", facts.client, by, f"{why} {opened}")


def _follow(facts: JobFacts) -> Iterator[Step]:
    fact = facts.follow_up
    if fact is not None:
        why = "Then enter the next day, or why it is lost."
        yield Step("follow", f"Ask {facts.client} for an answer", "estimator", fact.person, fact.on, why)


def _others(facts: JobFacts, station: Station, today: date) -> Iterator[Step]:
    yield from _otherwise(facts, today)
    yield from _coming(facts, today)
    for question in facts.questions:
        by = question.asked_on + ANSWER_WITHIN
        yield Step("answer", f"Answer {facts.client}", "office", by=by, why=f"They ask: “{question.text}”")
    if station in _BEFORE_SENDING:
        return
    if facts.signed_on is not None:
        yield from _money_and_notes(facts)
    yield from (_wait(facts, wait) for wait in facts.waits)
    yield from _orders(facts)
    yield from _work(facts, station)
    yield from _finish(facts)


def _otherwise(facts: JobFacts, today: date) -> Iterator[Step]:
    for fact in facts.otherwise:
        # What is short is to be ordered again, and stands among what is to be ordered.
        if fact.since <= today and fact.kind != "short":
            yield Step(
                "settle", fact.action.rstrip("."), "office", by=fact.since, why=f"Order {fact.order}.", about=fact.order
            )


def _coming(facts: JobFacts, today: date) -> Iterator[Step]:
    for fact in facts.coming:
        verb = "Chase" if fact.expected_on is not None and fact.expected_on < today else "Receive"
        why = f"Needed by {fact.need_by}." if fact.need_by else ""
        yield Step("receive", f"{verb} {fact.what}", "office", by=fact.expected_on, why=why, about=fact.order)


def _money_and_notes(facts: JobFacts) -> Iterator[Step]:
    money = facts.money
    if facts.requests:
        yield from _requests(facts)
    elif money is not None and money.received < (money.on_signing or 0):
        yield Step("collect", "Collect the payment on signing", "office", by=facts.signed_on, why="Due since signing.")
    yield from (_ask(fact) for fact in facts.to_ask)
    for number in facts.unsigned:
        why = "It counts for nothing until then."
        yield Step(
            "note", f"{facts.client} signs change note {number}", "client", facts.client, why=why, about=str(number)
        )


def _requests(facts: JobFacts) -> Iterator[Step]:
    for request in facts.requests:
        if request.open:
            text = f"Collect request {request.number}: {request.what}"
            yield Step("collect", text, "office", by=request.due, why="To be paid by then.", about=str(request.number))


def _ask(fact: ToAskFacts) -> Step:
    why = f"It happened on {fact.since}, and nothing is asked for it yet."
    return Step("ask", f"Ask for the payment: {fact.what}", "office", by=fact.since + ASK_WITHIN, why=why)


def _is_all_asked(facts: JobFacts) -> bool:
    wanted = sum(request.total for request in facts.requests)
    return facts.money is not None and bool(facts.requests) and wanted >= facts.money.contract


def _wait(facts: JobFacts, fact: WaitFacts) -> Step:
    who: Who = fact.who
    person = {"lead": facts.lead, "estimator": facts.estimator}.get(who, "")
    why = "What is ordered waits for it."
    if fact.kind == "dimension":
        text = f"Confirm {_count(fact.count, 'dimension')} on site"
        return Step("confirm", text, who, person, fact.by, why, fact.wall)
    return Step("wait", fact.sentence.rstrip("."), who, person, fact.by, why, fact.wall or fact.material)


def _orders(facts: JobFacts) -> Iterator[Step]:
    dated = sorted(
        (fact for fact in facts.to_order if fact.order_by), key=lambda fact: (fact.order_by, not fact.custom)
    )
    for by, group in groupby(dated, key=lambda fact: fact.order_by):
        items = list(group)
        more = f" and {len(items) - 1} more" if len(items) > 1 else ""
        why = "Ordered later, it comes too late."
        yield Step("order", f"Order {items[0].name}{more}", "office", by=by, why=why, about=items[0].material)
    undated = len(facts.to_order) - len(dated)
    if undated:
        yield Step("undated", f"Give {_count(undated, 'item')} a day to order by", "office", why="It has no day yet.")


def _work(facts: JobFacts, station: Station) -> Iterator[Step]:
    work = facts.work
    if work is not None and facts.signed_on is not None and station != "done":
        act: Act = "end" if work.begun else "begin"
        name = work.name[:1].lower() + work.name[1:]
        yield Step(act, f"{act.capitalize()} {name}", "lead", facts.lead, work.by, about=work.key)


def _finish(facts: JobFacts) -> Iterator[Step]:
    finish = facts.finish or FinishFacts(0)
    why = "The job is not done before."
    if finish.unplanned:
        text = f"Say who mends {_count(finish.unplanned, 'item')} of the client's"
        yield Step("mend", text, "office", why=why)
    planned = finish.open - finish.unplanned
    if planned:
        text = f"Mend {_count(planned, 'item')} of the finish list"
        yield Step("mend", text, "lead", facts.lead, finish.due, why)


def _measure(facts: JobFacts) -> str:
    if not facts.walls:
        return "Measure the first wall"
    names = facts.unmeasured
    return f"Measure {names[0]}" if len(names) == 1 else f"Measure {_count(len(names) or facts.walls, 'wall')}"


def _first_decided(facts: JobFacts) -> ItemFacts | None:
    items = [fact for fact in facts.to_order if fact.custom and fact.decide_by is not None]
    return min(items, key=lambda fact: fact.decide_by or date.max, default=None)


def _count(number: int | None, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def times_words(number: int) -> str:
    """Raises nothing. Source: own wording.

    >>> times_words(2), times_words(3)
    ('twice', '3 times')
    """
    return {1: "once", 2: "twice"}.get(number, f"{number} times")
