"""What the document of a month says, part by part."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any

from catalog.core.ground.declared import As, Custom, Exact, Figure, Mapped, Of, View
from catalog.models import Standard
from catalog.services.book import firm_of
from quoting.core.life.stations import LABELS
from quoting.core.money.month_figures import JobOfMonth, loss_sentence, made_sentence
from quoting.life.services.quotes_out import QuoteOut, quotes_out
from quoting.month.services.collecting import CashAhead, ToCollect, cash_ahead
from quoting.month.services.known_now import LaterOfJob, later_of
from quoting.month.services.missing import Missing, missing_of
from quoting.month.services.month_counts import StepMinutes, SupplierMet, counted, hours_by_step, suppliers_met
from quoting.month.services.month_jobs import MonthJob
from quoting.month.services.overhead import overhead_of

Money = Annotated[Decimal, Exact()]


@dataclass(frozen=True)
class MonthRead:
    """until: the last day that counts. said: why a job made what it made, by its id."""

    month: date
    today: date
    until: date
    jobs: list[MonthJob]
    requests: list[ToCollect]
    said: dict[int, str]

    @property
    def finished(self) -> list[JobOfMonth]:
        return [job.figures for job in self.jobs if job.figures.done_on is not None]

    @property
    def missing(self) -> list[Missing]:
        return missing_of(self.month, self.today, {job.job.pk: job.costs for job in self.jobs})

    @property
    def out(self) -> list[QuoteOut]:
        return [entry for entry in quotes_out(self.today) if entry.sent_on <= self.until]

    @property
    def unsigned(self) -> Iterator[tuple[MonthJob, Any]]:
        return ((job, note) for job in self.jobs for note in job.costs.facts.notes if not note.is_signed)

    @property
    def late(self) -> Iterator[tuple[MonthJob, Any]]:
        coming = ((job, coming) for job in self.jobs for coming in job.read.facts.coming)
        return (pair for pair in coming if pair[1].expected_on is not None and pair[1].expected_on < self.until)

    @property
    def standards(self) -> Iterable[Standard]:
        return Standard.objects.filter(stated_on__range=(self.month, self.until)).order_by("name")


class JobNamed(View):
    """A job beside what is said of it."""

    job: Annotated[str, Of("job.key")]
    id: Annotated[int, Of("job.pk")]
    title: Annotated[str, Of("job.title")]
    client: Annotated[str, Of("job.client.name")]


OfJob = Annotated[JobNamed, As(spread=True), Of(lambda pair: pair[0])]


def _state(job: MonthJob, read: MonthRead) -> str:
    """As it is today; of a job that ended since the month, whether work had begun by its end."""
    facts = job.read.facts
    over = [day for day in (facts.last_end, facts.closed_on) if day is not None]
    if not over or min(over) <= read.until:
        return job.read.life.words
    return LABELS["on_site" if facts.begun_on is not None and facts.begun_on <= read.until else "signed"]


def _said(job: MonthJob, read: MonthRead) -> str:
    return read.said.get(job.job.pk, "")


class MonthJobShown(View):
    """`said`: the owner's own sentence. `cost`: at completion. `rows`: they add up to `to_date`."""

    document_name = "month_job"

    figures: Annotated[JobOfMonth, As(spread=True)]
    id: Annotated[int, Of("job.pk")]
    state: Annotated[str, Of(_state)]
    next: Annotated[str, Of(lambda job: job.read.life.next.text if job.read.life.next else "")]
    said: Annotated[str, Of(_said)]
    next_by: Annotated[date | None, Of(lambda job: (job.read.life.next and job.read.life.next.by) or None)]


class ToCollectShown(View):
    """A request with money open."""

    document_name = "to_collect"

    job: Annotated[str, Of("job.key")]
    id: Annotated[int, Of("job.pk")]
    client: Annotated[str, Of("job.client.name")]
    request: Annotated[int, Of("standing.request.number")]
    what: Annotated[str, Of("standing.request.what")]
    open: Annotated[Money, Of("standing.open")]
    due: Annotated[date, Of("standing.request.due")]


class QuoteOutShown(JobNamed):
    """A quotation that waits for an answer."""

    document_name = "quote_out"

    sent_on: date
    valid_until: Annotated[date, Of("revision.valid_until")]
    value: Money
    opened: Annotated[str, Of("opened_words")]


class UnsignedNote(View):
    """A change note nobody has signed."""

    of: OfJob
    note: Annotated[int, Of(lambda pair: pair[1].number)]
    what: Annotated[str, Of(lambda pair: pair[1].title)]
    price: Annotated[Money, Of(lambda pair: pair[1].price)]


class UnbilledJob(JobNamed):
    """Earned, and not requested."""

    unbilled: Money


class LateOrder(View):
    """Goods that were expected before the month's end."""

    of: OfJob
    order: Annotated[str, Of(lambda pair: pair[1].order)]
    what: Annotated[str, Of(lambda pair: pair[1].what)]
    expected_on: Annotated[date, Of(lambda pair: pair[1].expected_on)]


class StandardStated(View):
    """A standard that was stated in the month."""

    name: Annotated[str, Of("label")]
    value: Annotated[Decimal, Figure()]
    source: str


class OverheadShown(View):
    """Null where it is not known: no rule, or nothing entered."""

    document_name = "overhead_of_month"

    minutes: int
    per_hour: Money | None
    share: Money | None
    recovered: Money | None
    actual: Money | None
    short: Money | None


_CountOrSum = Custom(lambda reader, name: reader.raw(name), lambda value: value, {"type": ["integer", "string"]})


class MonthFigures(View):
    """`until`: the last day that counts. `later`: what counts in it for earlier, closed months."""

    is_whole = True

    currency: Annotated[str, Of(lambda _: firm_of().currency)]
    until: date
    made: Annotated[str, Of(lambda read: made_sentence(read.month, read.finished))]
    lost: Annotated[str, Of(lambda read: loss_sentence(read.finished))]
    jobs: tuple[MonthJobShown, ...]
    to_collect: Annotated[tuple[ToCollectShown, ...], Of("requests")]
    quotes_out: Annotated[tuple[QuoteOutShown, ...], Of("out")]
    missing: tuple[Missing, ...]
    unsigned: tuple[UnsignedNote, ...]
    unbilled: Annotated[tuple[UnbilledJob, ...], Of(lambda read: [job for job in read.jobs if job.unbilled > 0])]
    late_orders: Annotated[tuple[LateOrder, ...], Of("late")]
    suppliers: Annotated[tuple[SupplierMet, ...], Of(lambda read: suppliers_met(read.month, read.until))]
    standards: tuple[StandardStated, ...]
    overhead: Annotated[OverheadShown, Of(lambda read: overhead_of(read.month))]
    cash: Annotated[CashAhead, Of(lambda read: cash_ahead(read.requests, read.until))]
    hours: Annotated[tuple[StepMinutes, ...], Of(lambda read: hours_by_step(read.month))]
    counted: Annotated[
        Any,
        Mapped(Mapped(_CountOrSum)),
        "Rows and sums of each file for the bookkeeper.",
        Of(lambda read: counted(read.month)),
    ]
    later: Annotated[tuple[LaterOfJob, ...], Of(lambda read: later_of(read.month, read.today))]
