"""What is known of a job when somebody asks where it stands: facts with their days, and no verdict."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

Standing = Literal["issued", "accepted", "declined", "lapsed", "taken_back"]
Who = Literal["estimator", "office", "lead", "owner", "client"]
WHO_WORDS: dict[Who, str] = {
    "estimator": "estimator",
    "office": "office",
    "lead": "lead carpenter",
    "owner": "owner",
    "client": "client",
}


@dataclass(frozen=True)
class RevisionFacts:
    """The latest revision that was neither superseded nor withdrawn.

    standing, since: its state and the day of that. sent_on: the first day it was mailed, linked or handed over.
    opened, opened_on: how often its page was opened, and the last day. by, why: of the answer, in their words. price:
    before tax; of an accepted one with what was chosen and with signed change notes.
    """

    number: int
    quoted_on: date
    valid_until: date
    standing: Standing
    since: date
    sent_on: date | None = None
    opened: int = 0
    opened_on: date | None = None
    by: str = ""
    why: str = ""
    price: Decimal | None = None


@dataclass(frozen=True)
class ItemFacts:
    """A material still to be ordered. custom: not in stock. order_by: None while nobody knows the day."""

    material: str
    name: str
    custom: bool
    decide_by: date | None = None
    order_by: date | None = None


@dataclass(frozen=True)
class ComingFacts:
    """Goods on a placed order that are still to come. expected_on: by the last promise, else as quoted."""

    order: str
    what: str
    expected_on: date | None = None
    need_by: date | None = None


@dataclass(frozen=True)
class WaitFacts:
    """What somebody of the firm does before items are ordered. kind: as of `jobs.core.ordering.next_steps`.

    count: of the dimensions, templates or walls concerned. wall, material: where there is one alone.
    """

    kind: str
    who: Who
    sentence: str
    count: int = 1
    wall: str = ""
    material: str = ""
    by: date | None = None


@dataclass(frozen=True)
class OtherwiseFacts:
    """What goes otherwise than ordered. kind: as of `jobs.core.ordering.deviations`. since: from this day it asks for
    somebody; a supplier who was asked again has until then. amount: in words, of what is short."""

    kind: str
    order: str
    action: str
    since: date
    amount: str = ""


@dataclass(frozen=True)
class WorkFacts:
    """An activity on site that goes on or comes next. by: its planned first day, or its last once it has begun."""

    key: str
    name: str
    begun: bool
    by: date | None = None


@dataclass(frozen=True)
class OutcomeFacts:
    """Why no contract came of it, as somebody of the firm said. what: in words."""

    what: str
    words: str
    on: date
    by: str


@dataclass(frozen=True)
class FollowUpFacts:
    """Who asks the client next about the quotation, and when."""

    on: date
    person: str


@dataclass(frozen=True)
class MoneyFacts:
    """Of an accepted quote: contract sum with signed change notes, what of it is due on signing, None where that cannot
    be added up, what came in, and the day of the last payment."""

    contract: Decimal
    on_signing: Decimal | None
    received: Decimal
    last_on: date | None = None

    @property
    def balance(self) -> Decimal:
        return self.contract - self.received


@dataclass(frozen=True)
class RequestFacts:
    """A payment request that stands. total: to pay, under 0 where money is given back. open: what of it is not paid."""

    number: int
    what: str
    due: date
    total: Decimal
    open: Decimal


@dataclass(frozen=True)
class ToAskFacts:
    """An event that happened, and nothing is asked for it yet. since: the day it happened."""

    what: str
    since: date


@dataclass(frozen=True)
class FinishFacts:
    """The finish list of a job. open: how many items. unplanned: those of them nobody is to mend yet. due: the first
    day of the others. mended_on: when the last one was mended."""

    open: int
    unplanned: int = 0
    due: date | None = None
    mended_on: date | None = None


@dataclass(frozen=True)
class QuestionFacts:
    """What the client asked and nobody has answered yet."""

    text: str
    asked_on: date


@dataclass(frozen=True)
class JobFacts:
    """Everything a job's life follows from.

    walls: how many. measured_on, priced_on: since when every wall draws, and nothing stands before sending; None while
    that is not so. unmeasured: names of walls that do not draw. before_sending: how many points stand before it; None
    while no price is entered. placed_on: of the first order that stands. wanted, ordered: items the job wants, and how
    many of them are ordered. dimensions: to be confirmed before something is ordered. unsigned: numbers of change notes
    that wait. requests, to_ask: of the accepted quote. last_end: when the last activity ended, None before. questions:
    in the order they came. starts_on, ends_on: as planned.
    """

    opened_on: date
    client: str
    walls: int = 0
    unmeasured: tuple[str, ...] = ()
    measured_on: date | None = None
    before_sending: int | None = None
    priced_on: date | None = None
    revision: RevisionFacts | None = None
    signed_on: date | None = None
    money: MoneyFacts | None = None
    unsigned: tuple[int, ...] = ()
    requests: tuple[RequestFacts, ...] = ()
    to_ask: tuple[ToAskFacts, ...] = ()
    placed_on: date | None = None
    wanted: int = 0
    ordered: int = 0
    to_order: tuple[ItemFacts, ...] = ()
    coming: tuple[ComingFacts, ...] = ()
    waits: tuple[WaitFacts, ...] = ()
    otherwise: tuple[OtherwiseFacts, ...] = ()
    dimensions: int = 0
    begun_on: date | None = None
    last_end: date | None = None
    finish: FinishFacts | None = None
    questions: tuple[QuestionFacts, ...] = ()
    work: WorkFacts | None = None
    starts_on: date | None = None
    ends_on: date | None = None
    follow_up: FollowUpFacts | None = None
    outcome: OutcomeFacts | None = None
    closed_on: date | None = None
    estimator: str = ""
    lead: str = ""

    @property
    def done_on(self) -> date | None:
        """Since when all is built and mended; None before."""
        finish = self.finish
        if self.last_end is None or (finish and finish.open):
            return None
        return max(self.last_end, finish.mended_on) if finish and finish.mended_on else self.last_end
