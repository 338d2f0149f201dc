"""Whom the desk waits for: suppliers to be rung, leads who measure, clients with a quotation."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from catalog.core.materials.specs import Supplier
from jobs.core.ordering.chasing import OrderFacts
from jobs.core.ordering.order_acts import OrderAct
from quoting.core.life.day_list import SOON_WORKDAYS
from quoting.core.life.steps import Step
from quoting.life.services.reading import ReadLife
from quoting.service.services.order_todos import WAITING, Act

# Ours: what is due later than in six weeks nobody waits for yet.
AHEAD_WORKDAYS = 30


@dataclass(frozen=True)
class Waiting:
    """who: a firm or a person. says: what is waited for; its days in ISO form. day: by when. phone: to ring, with the
    name to ask for; both may be empty. place: of the page, its name and arguments."""

    who: str
    says: str
    day: date | None
    place: tuple[str, ...]
    phone: str = ""
    contact: str = ""


def waiting_for(acts: Iterable[Act], suppliers: Iterable[Supplier], lives: Iterable[ReadLife]) -> list[Waiting]:
    """By the day; without a day last."""
    waiting = [*_suppliers(acts, suppliers), *_people(lives)]
    return sorted(waiting, key=lambda entry: (entry.day is None, entry.day or date.max, entry.who))


def _suppliers(acts: Iterable[Act], suppliers: Iterable[Supplier]) -> Iterator[Waiting]:
    rows = [(pk, facts, act) for pk, facts, act in acts if act.kind in WAITING - {"arrive"} and act.in_hand != 0]
    phones = {supplier.name: (supplier.phone, supplier.contact) for supplier in suppliers}
    for pk, facts, act in rows:
        phone, contact = phones.get(facts.supplier, ("", ""))
        yield Waiting(facts.supplier, _says(facts, act), act.by, ("order", str(pk)), phone, contact)


def _says(facts: OrderFacts, act: OrderAct) -> str:
    if act.kind == "confirm":
        return f"has not confirmed order {facts.key}, placed {facts.placed_on}."
    if act.kind in ("answer", "credit"):
        owed = "an answer to a claim" if act.kind == "answer" else "a credit"
        return f"owes {owed}, order {facts.key}."
    return f"has order {facts.key}. {act.says}"


def _people(lives: Iterable[ReadLife]) -> Iterator[Waiting]:
    for read in lives:
        for step in read.life.steps:
            in_hand = read.in_hand(step)
            if in_hand is not None and in_hand <= AHEAD_WORKDAYS:
                yield from _step(step, read, in_hand)


def _step(step: Step, read: ReadLife, in_hand: int) -> Iterator[Waiting]:
    title, pk = read.job.title, str(read.job.pk)
    by = f" by {step.by}" if step.by else ""
    if step.act in ("confirm", "wait") and step.who == "lead":
        who = step.person or "The lead carpenter"
        what = step.text[:1].lower() + step.text[1:]
        late = f", {-in_hand} working days late" if in_hand < 0 else ""
        yield Waiting(who, f"to {what}: {title},{by}{late}.", step.by, ("job_order_dates", pk))
    if step.act == "sign" and read.facts.revision is not None and in_hand > SOON_WORKDAYS:
        revision = read.facts.revision
        since = f"has the quotation since {revision.sent_on}" if revision.sent_on else "has the quotation"
        yield Waiting(step.person, f"{since}: {title}, to sign{by}.", step.by, ("revision", pk, str(revision.number)))
