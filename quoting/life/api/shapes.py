"""What is sent and answered of why no contract came of a job, and of quotations that are out."""

from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from typing import Annotated

from catalog.core.ground.declared import Amount, Of, Rounded, View, itself
from quoting.life.services.follow_ups import NewFollowUp
from quoting.life.services.outcomes import NewOutcome
from quoting.life.services.reading import LifeShown
from quoting.platform.api.declared import answer_shapes, request_shapes

Money = Annotated[Decimal, Amount()]
Share = Annotated[Fraction | None, Rounded(4)]


class WhyNoContract(View):
    """Why no contract came of a job."""

    kind: str
    words: str
    said_on: date
    entered_at: datetime
    entered_by: Annotated[str, Of("entered_by_name")]


class OutcomeShown(View):
    """`outcome` is null while nobody said so."""

    document_name = "outcome"

    outcome: Annotated[WhyNoContract | None, Of(itself)]


class FollowUpShown(View):
    """When somebody asks the client next; null while nobody does."""

    document_name = "follow_up"

    day: Annotated[date | None, Of(lambda row: row and row.day)]
    person: Annotated[str | None, Of(lambda row: row and row.person)]


class NextAsked(View):
    """When somebody asks next."""

    day: Annotated[date, Of("on")]
    person: str


class QuoteOutShown(View):
    """A quotation that waits for an answer."""

    job: Annotated[str, Of("job.key")]
    title: Annotated[str, Of("job.title")]
    client: Annotated[str, Of("job.client.name")]
    revision: Annotated[int, Of("revision.number")]
    value: Annotated[Money, "Before tax."]
    sent_on: date
    age_days: Annotated[int, "Since it was sent.", Of("age")]
    valid_until: Annotated[date, Of("revision.valid_until")]
    expired: Annotated[bool, Of("is_expired")]
    opened: Annotated[int, "How often its page was opened.", Of("revision.opened")]
    opened_on: Annotated[date | None, Of("revision.opened_on")]
    follow_up: NextAsked | None


class Counted(View):
    """How many, and what they come to."""

    count: int
    value: Money


class ReasonCounted(View):
    """Quotations lost for one reason."""

    why: Annotated[str, Of(lambda reason: reason[0])]
    count: Annotated[int, Of(lambda reason: reason[1].count)]
    value: Annotated[Money, Of(lambda reason: reason[1].value)]


class QuotesOutShown(View):
    """`rate`: won of all decided, from five on; else null."""

    document_name = "quotes_out"

    quotes: tuple[QuoteOutShown, ...]
    won: Annotated[Counted, Of("decided.won")]
    lost: Annotated[Counted, Of("decided.lost")]
    reasons: Annotated[tuple[ReasonCounted, ...], Of("decided.reasons")]
    rate: Annotated[Share, Of("decided.rate")]
    rate_by_value: Annotated[Share, Of("decided.rate_by_value")]


SHAPES = {
    **answer_shapes(LifeShown, OutcomeShown, FollowUpShown, QuotesOutShown),
    **request_shapes(NewOutcome, NewFollowUp),
}
