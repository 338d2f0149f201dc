"""Quotations that wait for an answer, and what became of those decided in the last twelve months."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from django.db.models import Exists, OuterRef, QuerySet

from jobs.jobs.models import Job
from quoting.core.life.facts import FollowUpFacts, RevisionFacts
from quoting.core.life.steps import times_words
from quoting.core.money.quotes_out import DecidedQuote, WonAndLost, won_and_lost
from quoting.life.models import QuoteOutcome
from quoting.life.services.outcomes import GONE
from quoting.life.services.reading import ReadLife, lives_of
from quoting.quotes.models import QuoteRevision, RevisionState

WAITING = (RevisionState.ISSUED, RevisionState.LAPSED)
LOOKS_BACK = timedelta(days=365)
DECLINED = "Declined by the client"


@dataclass(frozen=True)
class QuoteOut:
    """A quotation that is out. age: days since it was sent. act_by: the day somebody asks, or its last day."""

    read: ReadLife
    revision: RevisionFacts
    sent_on: date
    age: int
    follow_up: FollowUpFacts | None

    @property
    def job(self) -> Job:
        return self.read.job

    @property
    def value(self) -> Decimal:
        assert self.revision.price is not None, "a revision has a price"
        return self.revision.price

    @property
    def opened_words(self) -> str:
        return times_words(self.revision.opened)

    @property
    def is_expired(self) -> bool:
        return self.revision.valid_until < self.read.today

    @property
    def act_by(self) -> date:
        fact = self.follow_up
        return self.revision.valid_until if fact is None else min(fact.on, self.revision.valid_until)


def quotes_out(today: date, search: QuerySet[Job] | None = None) -> list[QuoteOut]:
    """Of open jobs, by the day somebody must act; expired ones that nobody answered for among them."""
    rows = Job.objects.all() if search is None else search
    waiting = QuoteRevision.objects.filter(quote__job=OuterRef("pk"), state__in=WAITING)
    jobs = rows.filter(Exists(waiting), closed_on=None).select_related("client")
    quotes = (_out(read) for read in lives_of(jobs, today).values())
    return sorted(
        (quote_out for quote_out in quotes if quote_out is not None),
        key=lambda quote_out: (quote_out.act_by, quote_out.job.pk),
    )


def _out(read: ReadLife) -> QuoteOut | None:
    facts, end = read.facts, read.life.end
    revision = facts.revision
    if revision is None or revision.sent_on is None or revision.standing not in WAITING:
        return None
    if end is not None and end.kind != "expired":
        return None
    age = (read.today - revision.sent_on).days
    return QuoteOut(read, revision, revision.sent_on, age, facts.follow_up)


def decided_quotes(today: date) -> WonAndLost:
    """Of the last twelve months, by the day of the answer or the day the loss became known."""
    return won_and_lost([*_won(today - LOOKS_BACK), *_lost(today - LOOKS_BACK)])


def _won(since: date) -> Iterator[DecidedQuote]:
    rows = QuoteRevision.objects.filter(state=RevisionState.ACCEPTED, answer__answered_on__gte=since)
    yield from (DecidedQuote(price) for price in rows.order_by().values_list("answer__price", flat=True))


def _lost(since: date) -> Iterator[DecidedQuote]:
    """A quotation that was followed by a later one is not lost; what the client declined counts without a reason."""
    text = {row.revision_id: row for row in QuoteOutcome.objects.filter(undone_at=None, revision__isnull=False)}
    later = QuoteRevision.objects.filter(quote=OuterRef("quote"), number__gt=OuterRef("number")).exclude(state__in=GONE)
    rows = QuoteRevision.objects.exclude(state__in=[*GONE, RevisionState.ACCEPTED]).exclude(Exists(later))
    for pk, state, price, answered_on in rows.order_by().values_list("pk", "state", "price", "answer__answered_on"):
        outcome = text.get(pk)
        if outcome is not None and outcome.said_on >= since:
            yield DecidedQuote(price, outcome.get_kind_display())
        elif outcome is None and state == RevisionState.DECLINED and answered_on >= since:
            yield DecidedQuote(price, DECLINED)
