"""What of a job is to be ordered, as it stands this moment."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from catalog.core.ground.declared import write
from catalog.core.ground.money import to_cents
from catalog.core.ground.refusal import Refused
from catalog.services.book import book_of
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.ordering.needs import DatedNeed
from jobs.core.ordering.order_lines import PIECE, OrderStatement, counted_words, statement_of
from jobs.core.schedule.activities import PlannedActivity
from jobs.core.takeoff.takeoff import Purchase
from jobs.jobs.models import Job
from jobs.orders.services.ordered_so_far import OrderedSoFar, ordered_so_far
from jobs.work_up.services.job_work_up import JobResult, work_of


@dataclass(frozen=True)
class Item:
    """One material of one job. amount: what it costs at the prices of the day, None while one is missing."""

    job: Job
    work_up: JobWorkUp
    need: DatedNeed
    statement: OrderStatement
    purchase: Purchase | None

    @property
    def key(self) -> str:
        return item_key(self.job.pk, self.need.material)

    @property
    def amount(self) -> Decimal | None:
        return self.purchase.cost if self.purchase else None

    @property
    def unit_price(self) -> Decimal | None:
        """Of one pack, where all packs are of one kind."""
        packs = [pack for pack in self.purchase.packs if pack.count] if self.purchase else []
        return packs[0].unit_price if len(packs) == 1 and not self.statement.runs else None

    def unit_of(self, quantity: Decimal) -> str:
        """The word for what is counted: one piece, two pieces."""
        if quantity != 1:
            return counted_words(self.statement.unit, 2) if self.statement.packs else self.statement.unit
        if self.statement.runs:
            return PIECE
        return (
            self.work_up.read.book.materials[self.need.material].unit_bought
            if self.statement.packs
            else self.statement.unit
        )

    def amount_of(self, quantity: Decimal) -> Decimal | None:
        """What that much of it costs: of a part only where the packs are of one kind, else nobody knows yet."""
        if quantity == self.statement.quantity:
            return self.amount
        return None if self.unit_price is None else to_cents(self.unit_price * quantity)


def item_key(job_id: int, material: str) -> str:
    return f"{job_id}/{material}"


def items_of(work: JobResult) -> dict[str, Item]:
    """By code of the material; nothing where the walls cannot be worked out."""
    result = work.done
    if result is None:
        return {}
    bought = {purchase.material: purchase for purchase in result.takeoff.purchases}
    return {
        need.material: Item(
            work.job,
            result,
            need,
            statement_of(result.read.book.materials[need.material], bought.get(need.material), result.walls),
            bought.get(need.material),
        )
        for need in result.needs
    }


def live_items(job: Job, moment: datetime) -> dict[str, Item]:
    """The items of a job worked up now. moment: by the firm's own clock. Raises Refused."""
    work = work_of(job, book_of(), moment.date(), moment.time())
    if work.done is None:
        raise Refused(f"The walls of {job} cannot be worked out, so nothing of it is ordered. {work.trouble}")
    return items_of(work)


def live_item(job: Job, material: str, moment: datetime) -> Item:
    item = live_items(job, moment).get(material)
    if item is None:
        raise Refused(f"{job} takes no {material}: it has left the takeoff, so nothing of it is ordered.")
    return item


def on_orders(items: Iterable[Item]) -> dict[str, OrderedSoFar]:
    """What stands on orders of those items of which anything does, be they placed or still being put together."""
    wanted = {(item.job.pk, item.need.material): write(item.statement) for item in items}
    return {item_key(*key): so_far for key, so_far in ordered_so_far(wanted, with_drafts=True).items()}


def left_of(item: Item, so_far: OrderedSoFar | None) -> Decimal | None:
    """How much of an item is still to be put on an order; None while nobody knows how much is wanted."""
    return item.statement.quantity if so_far is None else so_far.balance.left


def check_day(result: JobWorkUp) -> date | None:
    """The day the framed wall can be checked: the working day after the framing; None while nothing is dated."""
    framing: PlannedActivity | None = next(
        (activity for activity in result.plan.activities if activity.key == "framing"), None
    )
    if framing is None or framing.times is None:
        return None
    return result.calendar.forward(framing.times.early_finish, 1)
