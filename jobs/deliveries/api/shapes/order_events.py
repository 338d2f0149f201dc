"""What the API shows of what becomes of a placed order: confirmations, deviations, promises, ends and returns;
payments and substitutions."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import As, Choice, Count, Declared, Items, Of, View
from catalog.core.ground.reasons import Reason
from jobs.core.ordering.deviations import DeviationKind
from jobs.core.ordering.release import Step
from jobs.deliveries.api.shapes.deliveries import ReceiptState
from jobs.deliveries.services.comparing_orders import ComparedLine
from jobs.deliveries.services.confirming_orders import NewConfirmation
from jobs.deliveries.services.deviations import LineDeviation, NewSettlement
from jobs.deliveries.services.ending_orders import NewCallOff, NewEnd
from jobs.deliveries.services.promises import NewPromise
from jobs.deliveries.services.receiving import state_of
from jobs.deliveries.services.returns import NewCredit, NewReturn
from jobs.orders.api.shapes.orders import LateRemedy, LineNamed, Money
from jobs.orders.models import OrderState
from jobs.orders.services.ways import ItemWays
from quoting.platform.api.declared import answer_shapes, list_of, request_shapes


class Difference(View):
    """What is confirmed otherwise than it was ordered."""

    compared: str
    asked: str
    confirmed: str
    sentence: str


class LineCompared(View):
    """What was confirmed of a line last, beside what was ordered."""

    id: Annotated[int, Of("row.pk")]
    place: Annotated[int, Of("row.line.place")]
    what: Annotated[str, Of("row.line.what")]
    differences: Annotated[tuple[Difference, ...], Of("comparison.differences")]
    not_said: Annotated[tuple[str, ...], Of("comparison.not_said")]
    is_open: bool
    settled_by: Annotated[str, Of("row.settled_by_name")]
    settled_reason: Annotated[str, Of("row.settled_reason")]


@dataclass(frozen=True)
class Confirmations:
    """What was confirmed of each line last. confirmations: how many came."""

    confirmations: Annotated[int, Count()]
    lines: Annotated[Sequence[ComparedLine], Items(Declared(LineCompared))]


class LineOtherwise(View):
    """What of a line goes otherwise than ordered. Null where not known."""

    order: Annotated[str, Of("deviation.order")]
    job: Annotated[str, Of("line.job.key")]
    place: Annotated[int, Of("line.place")]
    what: Annotated[str, Of("line.what")]
    kind: Annotated[DeviationKind, Of("deviation.kind")]
    mark: Annotated[str, Of("deviation.mark"), "Names the fact for as long as it stands."]
    sentence: Annotated[str, Of("deviation.sentence")]
    action: Annotated[str, Of("deviation.action")]
    who: Annotated[Step, Of("deviation.step")]
    since: Annotated[date | None, Of("deviation.since")]
    usable: Annotated[date | None, Of("deviation.usable")]
    late_workdays: Annotated[int | None, Of("deviation.late_workdays")]
    extra: Annotated[Money, Of("deviation.extra")]


class Deviations(View):
    """What goes otherwise than ordered."""

    deviations: tuple[LineOtherwise, ...]
    bad: Annotated[tuple[str, ...], "Lines whose days nobody can count, in sentences."]


class ItemRemedies(View):
    """What helps with what is late of one material of one job."""

    job: Annotated[str, Of("item.job.key")]
    material: Annotated[str, Of("item.need.material")]
    remedies: tuple[LateRemedy, ...]


@dataclass(frozen=True)
class OrderDeviations:
    """What of an order goes otherwise than ordered, and what helps with what is late."""

    deviations: Annotated[Sequence[LineDeviation], Items(Declared(LineOtherwise))]
    remedies: Annotated[Sequence[ItemWays], Items(Declared(ItemRemedies))]


class Promise(View):
    """A day the supplier gave."""

    promised_on: date
    reason: str
    told_by: str
    told_on: date
    entered_by: Annotated[str, Of("entered_by_name")]
    entered_at: datetime


Promises = list_of("Promises", "promises", Promise, "The last stands.")


class LineEvents(View):
    """A line with what came of it."""

    line: Annotated[LineNamed, Of(lambda line: line), As(spread=True)]
    state: Annotated[ReceiptState, Of(state_of), As(spread=True)]
    promised_on: date | None
    ended_on: date | None
    ended_reason: str


class OrderEvents(View):
    """Where an order stands: its lines with what came of them."""

    number: str
    state: Annotated[str, Choice((OrderState.PLACED.value, OrderState.CALLED_OFF.value))]
    lines: Annotated[
        tuple[LineEvents, ...], Of(lambda order: order.lines.select_related("job").prefetch_related("receipts"))
    ]


class Returned(View):
    """What went back, and what was credited for it."""

    id: Annotated[int, Of("pk")]
    order: Annotated[str, Of("line.order.number")]
    place: Annotated[int, Of("line.place")]
    what: Annotated[str, Of("line.what")]
    quantity: Decimal
    unit: Annotated[str, Of("line.unit")]
    sent_on: date
    reason: str
    credit_expected: Money
    credited: Money
    credited_on: date | None


ReturnedList = list_of("ReturnedList", "returns", Returned, "What of an order went back.")


SHAPES = answer_shapes(
    Confirmations, Deviations, OrderDeviations, Promises, OrderEvents, ReturnedList
) | request_shapes(NewConfirmation, NewSettlement, NewPromise, NewEnd, NewCallOff, NewReturn, NewCredit, Reason)
