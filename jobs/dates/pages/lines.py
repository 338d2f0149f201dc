"""Items of jobs with their dates, as the pages list them."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from catalog.core.ground.plain_text import plain
from catalog.models.materials import SUPPLY_LABELS
from catalog.pages.words import QUANTITY_UNITS, lead_source_words, lead_words
from jobs.core.ordering.needs import SAFE_FROM, DatedNeed
from jobs.core.ordering.order_by import OrderDates, days_in_hand_in_words, standing
from jobs.core.ordering.order_lines import count_in_words
from jobs.core.ordering.release import JobStanding, ReleaseHold, waits_for
from jobs.dates.services.item_schedule import DateContext, DatedItem
from jobs.dates.services.ordered_items import Coming, Lines, coming
from jobs.jobs.models import Job
from jobs.orders.models import Order, OrderLine, OrderState
from jobs.orders.services.job_standings import Samples, item_holds, job_standings, samples_of
from jobs.orders.services.ordered_so_far import ItemKey, OrderedSoFar
from jobs.orders.services.to_decide import decided_items, is_to_decide
from jobs.walls.pages.release_hold_text import held_sentences
from quoting.platform.screen_days import day_words

ROOM_MM, HEAD_AND_FOOT_MM, ROW_MM = 24, 24, 8
DRIVEN_BY = {
    "length": "Ordered by length",
    "profile": "Ordered by profile",
    "radius": "Ordered by radius",
    "template": "Ordered by template",
}


@dataclass(frozen=True)
class Blocked:
    """One thing a release to order waits for. who: takes the next step; empty where that has been said already."""

    sentence: str
    who: str = ""


@dataclass(frozen=True)
class ItemLine:
    """One item of one job. supplier and lead are empty for those who see no suppliers.

    as_of: the day its dates were worked out on, where that is not now. coming: once all of it is on order. part: why
    something is still to be ordered of what is on order. decide_by: None where nothing has to be signed off. signed:
    whether its job is. amount: money, None for those who see no suppliers. waits: in a few words. draft: the order
    still being put together that carries it.
    """

    job: Job
    need: DatedNeed
    dates: OrderDates | None
    hand: str
    standing: str
    quantity: str
    supply: str
    supplier: str
    lead: str
    lead_source: str
    planned: str
    safe: str
    today: str
    decide_by: date | None
    decide_is_past: bool
    blocked: tuple[Blocked, ...]
    as_of: date | None = None
    coming: Coming | None = None
    part: str = ""
    signed: bool = False
    amount: Decimal | None = None
    waits: str = ""
    draft: Order | None = None

    @property
    def decides_ahead(self) -> bool:
        """Whether it has a day to be decided by that has not passed."""
        return self.decide_by is not None and not self.decide_is_past

    @property
    def is_long_lead(self) -> bool:
        return self.need.is_long_lead

    @property
    def spare(self) -> str:
        """How an ordered item stands to the day it is needed."""
        if self.coming is None or self.coming.spare_workdays is None:
            return ""
        days = self.coming.spare_workdays
        count = f"{abs(days)} working day{'' if abs(days) == 1 else 's'}"
        sentence = "on the very day it is needed" if days == 0 else f"{count} {'to spare' if days > 0 else 'too late'}"
        return f"overdue; if it came today, {sentence}" if self.coming.is_overdue else sentence


@dataclass(frozen=True)
class LineReader:
    """Turns items into lines for one reader of one page.

    standings, samples: of every job whose items are read, as `release_holds` wants them. ordered: lines by item.
    decided: what was signed off, or ordered once.
    """

    desk: DateContext
    with_suppliers: bool
    standings: Mapping[int, JobStanding]
    samples: Samples
    ordered: Lines
    decided: Collection[ItemKey]
    drafts: Mapping[ItemKey, Order]

    def line_of(self, item: DatedItem) -> ItemLine:
        need = item.need
        seller = self.desk.suppliers.get(need.supplier or "")
        term = need.term if self.with_suppliers else None
        placed = self.ordered.get((item.job.pk, need.material))
        arriving = coming(item, placed, self.desk.calendar, self.desk.today) if placed and placed.is_covered else None
        to_decide = is_to_decide(need, is_decided=(item.job.pk, need.material) in self.decided)
        holds = () if arriving else self._holds(item)
        return ItemLine(
            job=item.job,
            need=need,
            dates=need.dates,
            hand="" if need.in_hand is None else days_in_hand_in_words(need.in_hand),
            standing="" if need.in_hand is None else standing(need.in_hand),
            quantity=_quantity(need, None if arriving else placed),
            supply=SUPPLY_LABELS[need.supply],
            supplier=seller.name if seller and self.with_suppliers else "",
            lead=lead_words(term) if term else "",
            lead_source=lead_source_words(term) if term else "",
            planned=_planned(need) if term else "",
            safe=_safe(need) if need.is_long_lead else "",
            today=_if_ordered_today(need),
            decide_by=need.dates.decide_by if need.dates and to_decide else None,
            decide_is_past=to_decide and need.decide_in_hand is not None and need.decide_in_hand < 0,
            blocked=() if arriving else self._blocked(item, holds),
            as_of=item.as_of,
            coming=arriving,
            part=placed.balance.sentence if placed and not arriving else "",
            signed=self.standings[item.job.pk].accepted,
            amount=item.amount if self.with_suppliers and not placed else None,
            waits=waits_for(holds) if need.is_long_lead else "",
            draft=self.drafts.get((item.job.pk, need.material)),
        )

    def _holds(self, item: DatedItem) -> tuple[ReleaseHold, ...]:
        need, job = item.need, item.job.pk
        sample = self.samples.get((job, need.material), "not_needed")
        return item_holds(need, item.missing, item.checked_on, self.standings[job], sample, self.desk.today)

    def _blocked(self, item: DatedItem, holds: Sequence[ReleaseHold]) -> tuple[Blocked, ...]:
        """Dimensions are gathered into a sentence a run; what keeps an item from being dated stands with it anyway."""
        need = item.need
        if not need.is_long_lead:
            return tuple(Blocked(sentence) for sentence in held_sentences(need.open_holds))
        blocked = [Blocked(hold.sentence, hold.who) for hold in holds if hold.kind in ("quote", "window", "deposit")]
        by_dimension = [hold for hold in holds if hold.kind in ("dimension", "template")]
        blocked += [
            Blocked(sentence, by_dimension[0].who) for sentence in held_sentences(need.open_holds) if by_dimension
        ]
        blocked += [
            Blocked(hold.sentence, hold.who) for hold in holds if hold.kind in ("data", "sample", "field_check")
        ]
        return tuple(blocked)


def line_reader(desk: DateContext, items: Iterable[DatedItem], ordered: Lines, *, with_suppliers: bool) -> LineReader:
    jobs = {item.job.pk for item in items}
    drafts = drafts_of(jobs) if with_suppliers else {}
    return LineReader(
        desk, with_suppliers, job_standings(jobs, desk.today), samples_of(jobs), ordered, decided_items(jobs), drafts
    )


def drafts_of(job_ids: Collection[int]) -> dict[ItemKey, Order]:
    """The orders still being put together that carry items of these jobs, by item."""
    rows = OrderLine.objects.filter(order__state=OrderState.DRAFT, job__in=job_ids).select_related("order")
    return {(row.job_id, row.material_id): row.order for row in rows}


def _quantity(need: DatedNeed, placed: OrderedSoFar | None) -> str:
    """What is still to be ordered, of an item of which some is."""
    if placed is not None and placed.balance.left is not None:
        return count_in_words(placed.balance.left, placed.balance.unit)
    return "" if need.quantity is None else f"{plain(need.quantity)} {QUANTITY_UNITS.get(need.unit, need.unit)}"


def _safe(need: DatedNeed) -> str:
    return f"{DRIVEN_BY[need.driven_by]}; safe to order {SAFE_FROM[need.driven_by]}."


def _planned(need: DatedNeed) -> str:
    days = need.planned_workdays
    return "" if days is None else f"Dated by {days} working days, accepted for planning."


def _if_ordered_today(need: DatedNeed) -> str:
    if need.if_ordered_today is None:
        return ""
    usable = f"usable {day_words(need.if_ordered_today.usable)}"
    late = need.late_workdays
    if late is None:
        return usable
    if late == 0:
        return f"{usable}, in time"
    return f"{usable}, {late} working day{'' if late == 1 else 's'} late"


def gaps_of_items(items: Iterable[DatedItem]) -> list[tuple[Job, str]]:
    """What is missing or to be known of the dates of items, each once."""
    jobs = {
        (item.job.pk, finding.sentence): item.job
        for item in items
        for finding in item.need.findings
        if finding.weight != "note"
    }
    return [(job, sentence) for (_, sentence), job in jobs.items()]
