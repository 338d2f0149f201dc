"""What the API shows of orders, and of the items an order states."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any, NamedTuple

from catalog.core.ground.declared import Amount, As, Choice, Count, Declared, Items, Of, Plain, View
from catalog.core.ground.reasons import Reason
from jobs.core.ordering.late_remedies import RemedyKind
from jobs.core.ordering.open_quantity import LeftToOrder
from jobs.core.ordering.order_timing import Fit, Way
from jobs.core.ordering.release import Step
from jobs.orders.api.shapes.requests import Agreement, NewOrder, NewRelease, NewSample, OrderChange, Placing
from jobs.orders.models.orders import DeliverTo, OrderLine, OrderState
from jobs.orders.services.mailing import mails_of
from jobs.orders.services.placing import OrderStanding
from jobs.orders.services.releasing import ItemStanding
from jobs.orders.services.replaced_pieces import kinds_chosen, to_choose_from
from jobs.orders.services.ways import ItemWays
from quoting.platform.api.declared import answer_shapes, list_of, request_shapes
from quoting.platform.models.mail_ways import MailWay

Money = Annotated[Decimal | None, Amount()]


class OrderHead(View):
    """An order, in short."""

    number: str
    supplier: Annotated[str, Of("supplier_id")]
    state: Annotated[str, Choice(tuple(OrderState.values))]
    version: Annotated[int, Count(low=1), "Rises with every change; the ETag holds it."]
    placed_on: date | None
    counted_from: date | None
    placed_by: Annotated[str, Of("placed_by_name")]


class LineNamed(View):
    """A line of an order."""

    place: int
    job: Annotated[str, Of("job.key")]
    material: Annotated[str, Of("material_id")]
    what: str
    quantity: Decimal
    unit: str


class PieceKind(View):
    """Pieces that are alike."""

    wall: str
    run: str
    pack: Annotated[str, Of("label")]
    length_mm: Annotated[float | None, Plain(), As(name="length_mm")]
    radii_mm: Annotated[
        tuple[Annotated[float, Plain()], ...],
        As(name="radii_mm"),
        Of(lambda kind: [one.radius_mm for one in kind.radii]),
    ]
    most: Annotated[int, Of("count")]


class PieceChoice(View):
    """Pieces that are alike, of a line that orders goods again: change the order to say how many of each."""

    kind: Annotated[PieceKind, Of(lambda pair: pair[0]), As(spread=True)]
    chosen: Annotated[int, Of(lambda pair: pair[1])]


def _choices(line: OrderLine) -> Any:
    """What the pieces of a replacement are chosen from while its order is put together, with how many of each."""
    whole = to_choose_from(line) if line.order.state == OrderState.DRAFT else None
    return kinds_chosen(line, whole) if whole else ()


class LineOfOrder(LineNamed):
    """One item of one job."""

    mark: Annotated[str, Of("statement_mark"), "Over all it states."]
    extra: Annotated[Decimal, "How much of the quantity is more than the job needs."]
    extra_reason: str
    rush: bool
    amount: Money
    need_by: date | None
    order_by: date | None
    quoted_workdays: int | None
    quoted_dock_on: date | None
    released_by: Annotated[str, Of("release.released_by_name", "")]
    replaces: Annotated[str, Of("replaces.order.number", ""), "The order whose goods came damaged or wrong."]
    choices: Annotated[tuple[PieceChoice, ...], Of(_choices)]


class MailOnce(View):
    """A mail that is sent once."""

    to_address: str
    asked_at: datetime
    sent_at: Annotated[datetime | None, Of("left_at")]
    went_by: Annotated[str, Choice(("", *MailWay.values)), "folder or log: kept on the machine, and not sent."]


class SentMail(View):
    """A mail with its errand. An error says why it was not sent, or that nobody knows."""

    mail: Annotated[MailOnce, Of(lambda pair: pair[0]), As(spread=True)]
    error: Annotated[str, Of(lambda pair: pair[1].error if pair[1] else "")]


class OrderRead(NamedTuple):
    """standing: of an order being put together."""

    order: Any
    standing: OrderStanding | None


class Order(View):
    """An order with its lines, what holds it, and its mails."""

    head: Annotated[OrderHead, Of("order"), As(spread=True)]
    note: Annotated[str, Of("order.note")]
    deliver_to: Annotated[str, Of("order.deliver_to"), Choice(tuple(DeliverTo.values))]
    freight: Annotated[Money, Of("order.freight")]
    rush_fee: Annotated[Money, Of("order.rush_fee")]
    lines: Annotated[
        tuple[LineOfOrder, ...],
        Of(lambda read: read.order.lines.select_related("job", "order", "release", "replaces__order")),
    ]
    stops: Annotated[
        tuple[str, ...],
        Of("standing.stops", ()),
        "Why it cannot be placed as things stand; empty once it is.",
    ]
    unsigned: Annotated[
        tuple[str, ...],
        Of("standing.unsigned_names", ()),
        "Stock of jobs that are not signed, and what is ordered again for them; placing asks unsigned_reason.",
    ]
    mails: Annotated[tuple[SentMail, ...], Of(lambda read: mails_of(read.order))]


class ItemHold(View):
    """What an item waits for."""

    key: str
    sentence: str
    next: Annotated[Step, Of("step")]
    may_override: bool


class ItemRead(NamedTuple):
    """part: what is left to order, where orders carry some of it."""

    standing: ItemStanding
    part: LeftToOrder | None = None
    ways: ItemWays | None = None

    @property
    def left(self) -> Decimal | None:
        return self.standing.item.statement.quantity if self.part is None else self.part.left

    @property
    def so_far(self) -> str:
        return "" if self.part is None else self.part.sentence or self.part.so_far


class OrderItem(View):
    """One material of one job as an order would state it."""

    job: Annotated[str, Of("standing.item.job.key")]
    material: Annotated[str, Of("standing.item.need.material")]
    name: Annotated[str, Of("standing.item.need.name")]
    quantity: Annotated[Decimal | None, Of("standing.item.statement.quantity")]
    unit: Annotated[str, Of("standing.item.statement.unit")]
    left: Decimal | None
    so_far: str
    amount: Annotated[Money, Of("standing.item.amount")]
    need_by: Annotated[date | None, Of("standing.item.need.need_by")]
    order_by: Annotated[date | None, Of("standing.item.need.dates.order_by")]
    mark: Annotated[str, Of("standing.item.statement.mark")]
    missing: Annotated[tuple[str, ...], Of("standing.item.statement.missing_sentences")]
    holds: Annotated[tuple[ItemHold, ...], Of("standing.holds")]
    needs_release: Annotated[bool, Of("standing.needs_release")]
    released_by: Annotated[str, Of("standing.release.released_by_name", "")]
    signed: Annotated[bool, Of("standing.is_signed")]
    asks_reason: Annotated[
        bool, Of("standing.asks_reason"), "Stock of a job that is not signed: placing its order asks why."
    ]
    ready: Annotated[bool, Of("standing.is_ready"), "Whether it can be ordered."]


class WayToOrder(View):
    """A way of ordering it."""

    way: Way
    order_day: date | None
    usable: date | None
    days_in_hand: int | None
    late_workdays: int | None
    fit: Fit
    risk: str
    extra: Annotated[Money, "Fees; null where they are not known."]
    remake: Annotated[Money, "What one would cost on average; null where it is not known."]
    gaps: tuple[str, ...]


class LateRemedy(View):
    """What helps with what is late."""

    kind: RemedyKind
    sentence: str
    usable: date | None
    late_workdays: Annotated[int | None, "What stays late."]
    cost: Annotated[Money, "Null while not stated; gaps say what is missing."]
    client_agrees: Annotated[bool, Of("signed")]
    gaps: tuple[str, ...]


class ItemToOrder(OrderItem):
    """One material of one job, with the ways to order it; none of what is on an order or of no known supplier."""

    choices: Annotated[tuple[WayToOrder, ...], Of("ways.choices", ())]
    best: Annotated[Way | None, Of("ways.best.way")]
    remedies: Annotated[tuple[LateRemedy, ...], Of("ways.remedies", ())]


@dataclass(frozen=True)
class OrderItems:
    """What of a job cannot be had from the shelf. trouble: why its walls cannot be worked up."""

    items: Annotated[Sequence[ItemRead], Items(Declared(ItemToOrder))]
    trouble: str


class Sample(View):
    """A sample or a choice an item waits for."""

    id: Annotated[int, Of("pk")]
    material: Annotated[str, Of("material_id")]
    what: str
    asked_on: date | None
    agreed_on: Annotated[date | None, "Null until somebody agreed."]
    agreed_by: str
    entered_by: Annotated[str, Of("entered_by_name")]


Samples = list_of("Samples", "samples", Sample, "What was shown of a job's items.")


SHAPES = answer_shapes(Order, OrderItem, OrderItems, Samples) | request_shapes(
    NewOrder, OrderChange, Placing, NewRelease, NewSample, Agreement, Reason
)
