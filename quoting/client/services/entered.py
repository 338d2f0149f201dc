"""What the office enters for a client: the answer on paper, and that an acceptance was taken back."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Any

from catalog.core.ground.declared import As, Choice, Items, Text, read
from catalog.core.ground.document_reader import Reader
from quoting.client.services.acceptance_withdrawal import Notice, take_back
from quoting.platform.firm_day import day_at_the_firm
from quoting.quotes.models import AnswerKind, ClientAnswer, QuoteRevision, TakeBack, TakeBackWay
from quoting.quotes.services.acceptance import answer_revision, check_signed_on
from quoting.quotes.services.given_answers import Given

WAYS = tuple(way for way in TakeBackWay.values if way != TakeBackWay.PAGE)


@dataclass(frozen=True)
class NewAnswer:
    """What the client signed on paper. `options`: keys of those ticked."""

    answer: Annotated[str, Choice(tuple(AnswerKind.values))]
    name: Annotated[str, Text(200), As(label="Name of who signed")]
    signed_on: date
    options: Annotated[tuple[str, ...], Items(Text()), As(label="Options chosen")] = ()
    reason: Annotated[str, Text(2000), As(label="Remark", rows=2)] = ""


@dataclass(frozen=True)
class NewTakeBack:
    """`given_on`: the day the client gave notice."""

    name: Annotated[str, Text(200), As(label="Who cancelled")]
    given_on: Annotated[date, As(label="Notice given on")]
    way: Annotated[str, Choice(WAYS), As(label="How it came")]
    reason: Annotated[str, Text(2000), As(hint="As the client gave it, or “none given”.", rows=2)]


def enter_answer(row: QuoteRevision, document: dict[str, Any], by: str, now: datetime) -> ClientAnswer:
    """document: a `NewAnswer`. Safe to repeat. Raises DocumentError, Refused."""
    new = read(NewAnswer, Reader(document))
    check_signed_on(row, new.signed_on, day_at_the_firm(now))
    given = Given(AnswerKind(new.answer), new.name, new.options, new.reason, entered_by_name=by)
    return answer_revision(row, given, now=now, today=new.signed_on)


def enter_take_back(row: QuoteRevision, document: dict[str, Any], by: str, now: datetime) -> TakeBack:
    """document: a `NewTakeBack`. Safe to repeat. Raises DocumentError, Refused."""
    new = read(NewTakeBack, Reader(document))
    notice = Notice(new.name, new.given_on, TakeBackWay(new.way), new.reason, entered_by_name=by)
    return take_back(row, notice, now=now, today=day_at_the_firm(now))
