from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any

from catalog.core.ground.declared import Amount, As, Choice, Of, Part, Text, TextOrNull, View
from catalog.core.ground.request_keys import RequestKey
from quoting.core.quotes.quote_document import QuotedShown, UnpricedShown
from quoting.platform.api.declared import answer_shapes, request_shapes
from quoting.platform.api.parts import ref
from quoting.platform.papers.paper_progress import PaperStateShown
from quoting.quotes.models import AnswerKind, AnswerWay, RevisionState, TakeBackWay

Schema = dict[str, Any]
SHA256: Schema = {"type": "string", "pattern": "^[0-9a-f]{64}$"}
Money = Annotated[Decimal, Amount()]


class TakenBackShown(View):
    """That the acceptance was taken back."""

    typed_name: Annotated[str, As(name="name")]
    given_on: Annotated[date, As(name="on")]
    way: Annotated[str, Choice(tuple(TakeBackWay.values))]
    reason: str
    kept_at: Annotated[datetime, As(name="at")]
    entered_by_name: Annotated[str, As(name="entered_by")]


class GivenAnswer(View):
    """An answer as it was given, to a quote or to a change note."""

    answer: str
    way: Annotated[str, Choice(tuple(AnswerWay.values))]
    typed_name: Annotated[str, As(name="name")]
    reason: str
    answered_at: Annotated[datetime, As(name="at")]
    answered_on: Annotated[date, As(name="on")]


class AnswerShown(GivenAnswer):
    """What the client answered."""

    document_name = "answer"

    answer: Annotated[str, Choice(tuple(AnswerKind.values))]
    options: Annotated[tuple[str, ...], Of(lambda answer: [option["key"] for option in answer.options])]
    currency: Annotated[str, Of("revision.currency")]
    price: Money
    tax: Money
    total: Money
    paper_sha256: Annotated[str, TextOrNull()]
    cancel_until: date | None
    taken_back: Annotated[TakenBackShown | None, Of(lambda answer: getattr(answer, "taken_back", None))]


class RevisionShown(View):
    """A quote as issued."""

    document_name = "revision"

    quote_number: Annotated[str, As(name="number"), Of("quote.number")]
    number: Annotated[int, As(name="revision")]
    state: Annotated[str, Choice(tuple(RevisionState.values))]
    state_at: datetime
    state_by_name: Annotated[str, As(name="state_by")]
    state_reason: str
    issued_at: datetime
    issued_by_name: Annotated[str, As(name="issued_by")]
    quoted_on: date
    valid_until: date
    currency: str
    price: Money
    tax: Money
    total: Money
    cost: Money
    margin: Annotated[Decimal, As(withheld="margins")]
    rules_version: Annotated[str, As(name="rules")]
    answer: Annotated[AnswerShown | None, Of(lambda revision: getattr(revision, "answer", None))]


class FrozenRevision(RevisionShown):
    """A revision with all that was frozen of it."""

    document_name = "frozen_revision"

    quote: Annotated[Any, Part("Quote"), Of(lambda revision, frozen: frozen)]
    snapshot_sha256: Annotated[str, As(name="sha256")]


class IssuedQuote(View):
    """A quote's number for life and its revisions, the latest first."""

    number: str
    job: Annotated[str, Of("job.key")]
    title: Annotated[str, Of("job.title")]
    client: Annotated[str, Of("job.client.name")]
    opened_at: datetime
    revisions: Annotated[tuple[RevisionShown, ...], Of(lambda quote: quote.revisions.all())]


class MarginApproval(View):
    """A price below the firm's least margin that a second person let pass."""

    price: Money
    cost: Money
    shortfall: Money
    margin: Decimal
    least_margin: Decimal
    by_name: Annotated[str, As(name="by")]
    at: datetime
    reason: str


@dataclass(frozen=True)
class QuoteIssue:
    """The quote issued as its next revision."""

    request_key: RequestKey


@dataclass(frozen=True)
class Approving:
    """A price below the firm's least margin let pass."""

    reason: Annotated[str, Text()]


@dataclass(frozen=True)
class Withdrawal:
    """What was issued, withdrawn."""

    reason: Annotated[str, Text()]


SHAPES: Schema = {
    **answer_shapes(QuotedShown, UnpricedShown, FrozenRevision, IssuedQuote, MarginApproval, PaperStateShown),
    **request_shapes(QuoteIssue, Approving, Withdrawal),
    "Quote": {"anyOf": [ref("QuotedShown"), ref("UnpricedShown")]},
}
